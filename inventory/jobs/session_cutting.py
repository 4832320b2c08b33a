"""How the blanks of a session are cut across all its pieces: measured ones shared out, the others with least waste."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from inventory.catalogue import Blank, Part, fold
from inventory.jobs.needs import blank_stage, usable_lots
from inventory.jobs.planning import Row
from inventory.jobs.session_needs import available
from inventory.jobs.shop import Shop
from inventory.ledger.claims import claims_of
from inventory.making.matching import Wanted


@dataclass(frozen=True, slots=True)
class Cutting:
    """`blanks` blanks (or the measured one called `name`) cut alike: pieces by order, mm left over."""

    part: Part
    blanks: int
    pieces: tuple[tuple[str, int], ...]
    offcut: Fraction | None
    name: str = ""
    lot: int | None = None


@dataclass(frozen=True, slots=True)
class CutReport:
    """The cutting of all rows together. short: by order, pieces no blank is there for; proven: nothing cuts better."""

    cuts: tuple[Cutting, ...]
    short: tuple[tuple[str, int], ...]
    proven: bool


def cut_together(shop: Shop, rows: Sequence[Row]) -> CutReport:
    """All pieces of the session from the fewest millimetres of blank; measured blanks first, with the least waste."""
    cuts: list[Cutting] = []
    short: dict[str, int] = {}
    proven = True
    by_blank: dict[str, list[Row]] = {}
    for row in rows:
        by_blank.setdefault(fold(row.report.meant.blank.name), []).append(row)
    for several in by_blank.values():
        found, missing, sure = _cut_blank(shop, several)
        cuts += found
        short |= missing
        proven = proven and sure
    return CutReport(tuple(cuts), tuple(short.items()), proven)


def _cut_blank(shop: Shop, rows: Sequence[Row]) -> tuple[list[Cutting], dict[str, int], bool]:
    part = rows[0].report.meant.blank
    left = {row.order.name: row.report.plan.reach[blank_stage(row.report.plan.uses)] for row in rows}
    orders = [row.order.name for row in rows]
    cuts, sure = _measured(shop, part, rows, left, orders)
    more, known = _plain(shop, part, rows, left, orders)
    return [*cuts, *more], {name: many for name, many in left.items() if many > 0}, sure and known


def _measured(
    shop: Shop, part: Part, rows: Sequence[Row], left: dict[str, int], orders: Sequence[str]
) -> tuple[list[Cutting], bool]:
    from inventory.making.matching import Measured
    from inventory.making.packing import Demand, pack_measured

    held = {claim.lot for name in orders for claim in claims_of(shop.book, name) if claim.lot}
    there = {
        lot.id: lot
        for lot in usable_lots(shop, part)
        if lot.measured and (lot.id in held or lot.quantity - lot.claimed >= 1000)
    }
    sized = [row for row in rows if row.report.plan.size.wanted is not None]
    if not there or not sized:
        return [], True
    blanks = [
        Measured(number, lot.smallest_diameter.mm, lot.length.mm)
        for number, lot in there.items()
        if lot.smallest_diameter and lot.length
    ]
    demands = [Demand(_named(row), left[row.order.name]) for row in sized if left[row.order.name] > 0]
    packed = pack_measured(blanks, demands, shop.kerf)
    cuts = []
    for number, pieces in packed.cuts.items():
        for name, many in pieces:
            left[str(name)] -= many
        lot = there[int(str(number))]
        cuts.append(Cutting(part, 1, tuple((str(n), m) for n, m in pieces), None, lot.name, lot.id))
    return cuts, packed.proven


def _named(row: Row) -> Wanted:
    wanted = row.report.plan.size.wanted
    assert wanted is not None  # noqa: S101 - only sized rows come here
    return Wanted(row.order.name, wanted.barrels)


def _plain(
    shop: Shop,
    part: Part,
    rows: Sequence[Row],
    left: dict[str, int],
    orders: Sequence[str],
) -> tuple[list[Cutting], bool]:
    from inventory.making.cutting import Stock, length_needed
    from inventory.making.stock_cutting import Item, cutting_plan

    detail = part.detail
    measured = sum(lot.quantity for lot in usable_lots(shop, part) if lot.measured) // 1000
    there = max(available(shop, part, orders) // 1000 - measured, 0)
    if not isinstance(detail, Blank) or detail.length is None:
        return _one_each(part, rows, left, there), True
    items = [
        Item(
            row.order.name,
            length_needed(row.report.plan.size.wanted.segments, shop.kerf),
            left[row.order.name],
        )
        for row in rows
        if row.report.plan.size.wanted is not None
        and row.report.plan.blanks.each
        and left[row.order.name] > 0
    ]
    if not items:
        return _one_each(part, rows, left, there), True
    found = cutting_plan([Stock(0, detail.length.mm, there)], items, shop.kerf)
    cuts = []
    for pattern in found.patterns:
        pieces = tuple((str(name), many) for name, many in pattern.items)
        for name, many in pieces:
            left[name] -= many * pattern.times
        cuts.append(Cutting(part, pattern.times, pieces, pattern.offcut))
    return cuts, found.proven


def _one_each(part: Part, rows: Sequence[Row], left: dict[str, int], there: int) -> list[Cutting]:
    """Blanks of a size nobody wrote down: a piece from each."""
    cuts = []
    for row in rows:
        many = min(left[row.order.name], there)
        if many > 0:
            left[row.order.name] -= many
            there -= many
            cuts.append(Cutting(part, many, ((row.order.name, 1),), None))
    return cuts
