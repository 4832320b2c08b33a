"""Where each coin of pieces went that are made, as the book says: each layer's own cost, first in, first out.

A lot of finished pieces costs what its making drew for them; where an evening made several kinds, what it took of a
part goes to the kinds whose bill has it, in proportion to what they cost. What the evening spoiled is shared likewise.
Every share is of whole coins, and they add up to what the book says.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from fractions import Fraction

from inventory.catalogue import Order, Part, Pattern, Piece, fold
from inventory.jobs.accounts.cost import tools_and_work
from inventory.jobs.hours.piece_time import piece_time
from inventory.ledger.fifo import apportion
from inventory.ledger.past.made import MadeLot, PiecesMade, TookLine
from inventory.ledger.shop import Shop
from inventory.making.bom import RoleChoice, uses
from inventory.reports.accounts.cost import CostOf, CostReport, CostRow

SPOILED = "pieces spoiled on the way"
COUNTED = "as it was counted in: what it took nobody knows"


def cost_of_piece(shop: Shop, part: Part, made: PiecesMade) -> CostReport | None:
    """Of the pieces of a part that were made and stand; None where none is."""
    detail = part.detail
    if not isinstance(detail, Piece) or not made.lots:
        return None
    pattern = shop.catalogue.pattern(detail.pattern)
    return _report(shop, part.name, "", pattern, made, _parts_of(shop, pattern, detail))


def cost_of_order(shop: Shop, order: Order, made: PiecesMade) -> CostReport | None:
    """Of what went out for an order; None where the book says of no piece."""
    pattern = shop.catalogue.pattern(order.pattern)
    pieces = order.whole if made.beside else sum(lot.quantity for lot in made.lots) // 1000
    if not pieces or not (made.lots or made.beside):
        return None
    words = f"{', '.join([pattern.name, *order.platings[:1], order.blank])}"
    return _report(shop, order.name, words, pattern, made, frozenset(), pieces)


def _report(
    shop: Shop,
    what: str,
    words: str,
    pattern: Pattern,
    made: PiecesMade,
    parts: Collection[str],
    pieces: int | None = None,
) -> CostReport:
    sums: dict[tuple[str, CostOf], list[CostRow]] = {}
    rows = [row for lot in made.lots for row in _of_lot(lot, made, parts)]
    for row in (*rows, *_beside(made.beside)):
        sums.setdefault((row.name, row.of), []).append(row)
    many = sum(lot.quantity for lot in made.lots) // 1000 if pieces is None else pieces
    minutes = Fraction(piece_time(shop.catalogue, shop.settings, pattern).minutes * many)
    took = [*made.took, *made.beside]
    mine = {key for key, _ in sums}
    return CostReport(
        what,
        words,
        shop.today,
        many,
        tuple(
            sorted(
                (*map(_together, sums.values()), *tools_and_work(shop, pattern, many, minutes)),
                key=lambda row: -row.cost,
            )
        ),
        minutes,
        tuple(dict.fromkeys(one.part for one in took if one.unknown and one.part in mine)),
        made=True,
    )


def _together(rows: list[CostRow]) -> CostRow:
    first = rows[0]
    cost, quantity = sum(row.cost for row in rows), sum(row.quantity for row in rows)
    return CostRow(first.name, first.of, cost, quantity, first.unit)


def _of_lot(lot: MadeLot, made: PiecesMade, parts: Collection[str]) -> Iterable[CostRow]:
    used = [one for one in made.took if one.document == lot.document and one.word == "used"]
    mine = [one for one in used if not parts or fold(one.part) in parts] or used
    if sum(one.cost for one in mine) <= 0:
        yield CostRow(COUNTED, "materials", lot.cost, lot.quantity, "piece")
        return
    whole = sum(one.cost for one in mine)
    for one, cost in zip(mine, apportion(lot.cost, [max(one.cost, 0) for one in mine]), strict=True):
        yield CostRow(one.part, _of(one), cost, one.quantity * lot.cost // whole, one.unit)
    lost = sum(
        one.cost for one in made.took if one.document == lot.document and one.word in ("lost", "saved")
    )
    if lost and made.sums.get(lot.document):
        yield CostRow(SPOILED, "spoiled", lost * lot.cost // made.sums[lot.document])


def _of(one: TookLine) -> CostOf:
    return "materials" if one.of == "piece" else one.of


def _beside(lines: Iterable[TookLine]) -> Iterable[CostRow]:
    for one in lines:
        spoiled = one.word in ("lost", "saved")
        yield CostRow(
            SPOILED if spoiled else one.part,
            "spoiled" if spoiled else _of(one),
            one.cost,
            one.quantity,
            one.unit,
        )


def _parts_of(shop: Shop, pattern: Pattern, detail: Piece) -> frozenset[str]:
    choice = RoleChoice(detail.kit, detail.blank, detail.refill, detail.extra_diameter)
    return frozenset(fold(use.part) for use in uses(shop.catalogue, pattern, choice))
