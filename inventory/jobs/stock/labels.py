"""Labels of what the shelf's filters leave: a drawer each, a bottle each, a finished piece each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from inventory.catalogue import Blank, Kit, Piece, Supply, Tool, Tube, codes_of, fold
from inventory.catalogue.hazards import NONE, hazard_sentence
from inventory.jobs.stock.makeable import sold_for
from inventory.jobs.stock.shelf import Filters, ShelfRow, shelf
from inventory.ledger import Lot
from inventory.ledger.bottles.shelf_life import use_by
from inventory.ledger.shop import Shop
from inventory.measures import show_amount, show_day, show_mm, show_money
from inventory.reports.labels import LabelKind, PartLabel

CARE = "Wipe with a soft dry cloth. Keep dry and out of strong sun; no solvents."
"""What a maker usually tells of a turned piece (common practice, no source)."""
GOVERNS = "The safety data sheet governs."


def labels_of(shop: Shop, filters: Filters, kind: LabelKind, care: str = CARE) -> tuple[PartLabel, ...]:
    """In the order of the shelf. Unknown names in filters raise UnknownName."""
    rows = shelf(shop.catalogue, shop.book, filters, shop.today)
    codes = codes_of(shop.catalogue.parts)
    if kind == "drawers":
        return tuple(
            _drawer(shop, row, codes[fold(row.part.name)]) for row in rows if row.part.kind != "piece"
        )
    if kind == "bottles":
        return tuple(label for row in rows for label in _bottles(shop, row, codes[fold(row.part.name)]))
    return tuple(label for row in rows for label in _pieces(shop, row, codes[fold(row.part.name)], care))


def _drawer(shop: Shop, row: ShelfRow, code: str) -> PartLabel:
    part = row.part
    level = "" if part.level is None else f"reorder at {show_amount(part.level, part.unit)}"
    drawer = (
        part.drawer if not part.drawer or fold(part.drawer).startswith("drawer") else f"drawer {part.drawer}"
    )
    lines = [drawer, _what(shop, row), level]
    return PartLabel(part.name, code, [line for line in lines if line])


def _what(shop: Shop, row: ShelfRow) -> str:
    """What one looks for when the drawer is open: drills of kits and tubes, sizes of blanks and tools."""
    detail = row.part.detail
    if isinstance(detail, Kit):
        barrels = shop.catalogue.family(detail.family).barrels
        tubes = dict.fromkeys(barrel.tube for barrel in barrels if barrel.tube)
        return f"takes {', '.join(tubes)}" if tubes else ""
    if isinstance(detail, Tube):
        return f"drill {detail.drill.designation}"
    if isinstance(detail, Blank):
        size = [show_mm(one.mm) for one in (detail.width, detail.length) if one is not None]
        return " × ".join(size)
    if isinstance(detail, Tool):
        return detail.size if detail.size and detail.size not in row.part.name else ""
    return ""


def _bottles(shop: Shop, row: ShelfRow, code: str) -> Iterator[PartLabel]:
    """One for each container of what is dangerous or goes out of date: what is opened by lot, the rest as full."""
    detail = row.part.detail
    if not isinstance(detail, Supply):
        return
    dangers = [one for one in detail.hazards if one != NONE]
    if not dangers and detail.keeps_opened is None and detail.keeps_sealed is None:
        return
    said = hazard_sentence(row.part.name, tuple(dangers)).partition(": ")[2] if dangers else ""
    small = f"{said} {GOVERNS}" if said else GOVERNS
    for lot in shop.book.lots_of(row.part.name):
        for _ in range(_containers(detail, lot)):
            yield PartLabel(row.part.name, code, list(_days(shop, row, lot)), small)


def _containers(detail: Supply, lot: Lot) -> int:
    """How many stand there: an opened one is a lot of its own."""
    if lot.opened_on is not None or not detail.net:
        return 1
    return max(-(-lot.quantity // detail.net), 1)


def _days(shop: Shop, row: ShelfRow, lot: Lot) -> Iterator[str]:
    """A sealed bottle has a line to write on the day it is opened."""
    opened = "opened on ____________" if lot.opened_on is None else f"opened {show_day(lot.opened_on)}"
    last = use_by(row.part, lot)
    yield opened
    if last is not None:
        gone = "OUT OF DATE since" if last < shop.today else "best before"
        yield f"{gone} {show_day(last)}"
    if lot.name and fold(lot.name) not in ("opened", "sealed"):
        yield f"lot {lot.name}"


def _pieces(shop: Shop, row: ShelfRow, code: str, care: str) -> Iterable[PartLabel]:
    """One for each finished piece that is there, at what such a piece was sold for last."""
    detail = row.part.detail
    if not isinstance(detail, Piece):
        return
    kit, blank = shop.catalogue.part(detail.kit).detail, shop.catalogue.part(detail.blank).detail
    made_of = [
        kit.plating if isinstance(kit, Kit) else "",
        blank.material if isinstance(blank, Blank) else "",
    ]
    price = sold_for(shop).get(fold(detail.pattern))
    label = PartLabel(
        detail.pattern,
        code,
        [", ".join(filter(None, made_of))],
        care,
        "" if price is None else show_money(price, shop.currency),
    )
    for _ in range(row.balance.on_hand // 1000):
        yield label
