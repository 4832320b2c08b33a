"""A delivery sheet as tables: the parcels, and for each supplier what is due in from it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from inventory.catalogue import fold
from inventory.ledger import DueIn
from inventory.ledger.shop import Shop
from inventory.measures import Currency, currency
from inventory.sheets.drawing import Look, SheetColumn
from inventory.sheets.forms.tables import Cells, Form
from inventory.sheets.paper import PEN
from inventory.sheets.purchasing.supplier_tabs import titles_of
from inventory.sheets.values import DAY_FORMAT, DUE_DAY, SHORT_DAY, amount_cell, coins, money_format, show_day

PARCELS = "delivery"
SPARE = 6
"""Empty rows under what is due, for what came in its place."""
LOOK = Look("boxes to fill", least=PEN)
"""Rows are filled with a pen as often as not."""
PARCEL = (
    SheetColumn("supplier", 36, quiet=True, known=True),
    SheetColumn("delivery note", 20, fill=True, form="@"),
    SheetColumn("date", 17, fill=True, form=DAY_FORMAT),
    SheetColumn("postage", 14, fill=True),
)


@dataclass(frozen=True, slots=True)
class Due:
    """What is due of one part in one pack, all orders together. price: minor units a pack, None where they differ."""

    part: str
    code: str
    quantity: int
    pack: int
    price: int | None
    expected: date | None


def delivery_forms(shop: Shop, rows: Sequence[DueIn]) -> list[Form]:
    """The tab of the parcels, then one a supplier in the order of the rows, called as its tab is."""
    found, names = by_supplier(rows), titles_of(shop.catalogue)
    return [_parcels(shop, found), *(_supplier(shop, names[key], key, mine) for key, mine in found.items())]


def coin_of(shop: Shop, supplier: str) -> Currency:
    """The coin of a supplier, by its folded name."""
    return currency(shop.catalogue.suppliers[supplier].currency or shop.currency.code)


def columns(money: str = "") -> tuple[SheetColumn, ...]:
    """What is due of a part and what came of it. money: how sums are shown; the page names the coin."""
    return (
        SheetColumn("part", 19, quiet=True, wraps=True),
        SheetColumn("supplier code", 9, quiet=True, known=True, wraps=True),
        _amounts("due", 9.5, known=True),
        _amounts("arrived", 8.5, fill=True),
        _amounts("damaged", 10, fill=True),
        _amounts("pack", 9.5),
        _said("price", 7.5, money),
        SheetColumn("instead of", 11, fill=True, wraps=True),
        _said("rest cancelled", 10),
        _said("use by", 9.5, SHORT_DAY),
        SheetColumn("lot", 6, fill=True, form="@"),
        _said("paid", 7.5, money),
        _said("for", 5),
        _said("settles it", 7),
        SheetColumn("agreed price", 8, quiet=True, known=True, side="center", form=money),
        SheetColumn("due in by", 11, quiet=True, known=True, side="center", form=DUE_DAY),
        SheetColumn("supplier", 28, quiet=True, known=True, own=True),
    )  # fmt: skip


def _amounts(heading: str, width: float, *, fill: bool = False, known: bool = False) -> SheetColumn:
    return SheetColumn(heading, width, fill=fill, known=known, quiet=not fill, side="right", indent=1)


def _said(heading: str, width: float, form: str = "") -> SheetColumn:
    return SheetColumn(heading, width, fill=True, side="center", form=form)


_HOW = "Write what came; a tick is all that was due. Something else: its own row, the part ordered under “instead of”"


FILLED = tuple(one.heading for one in columns() if one.fill)
"""Columns for the maker; the others say what was ordered."""


def _parcels(shop: Shop, found: dict[str, list[DueIn]]) -> Form:
    title = "Parcels: of each its delivery note, its day, its postage in the supplier's coin. What came: a tab each"
    rows: list[Cells] = [{"supplier": shop.catalogue.suppliers[key].name} for key in found]
    return Form(PARCELS, PARCEL, rows, int(not rows), title, 0, landscape=True, look=LOOK)


def _supplier(shop: Shop, tab: str, key: str, rows: Sequence[DueIn]) -> Form:
    supplier, coin = shop.catalogue.suppliers[key], coin_of(shop, key)
    due = [_due(shop, one, supplier.name, coin) for one in together(shop, rows)]
    title = f"{supplier.name}, prices in {coin.code}, due in on {show_day(shop.today)}. {_HOW}"
    return Form(tab, columns(money_format(coin, code=False)), due, SPARE, title, landscape=True, look=LOOK)


def _due(shop: Shop, one: Due, supplier: str, coin: Currency) -> Cells:
    unit = shop.catalogue.part(one.part).unit
    return {
        "part": one.part,
        "supplier code": one.code,
        "due": amount_cell(one.quantity, unit),
        "pack": amount_cell(one.pack, unit),
        "agreed price": None if one.price is None else coins(one.price, coin),
        "due in by": one.expected,
        "supplier": supplier,
    }


def by_supplier(rows: Sequence[DueIn]) -> dict[str, list[DueIn]]:
    """What is due in from each supplier, by folded name, in the order of the rows."""
    found: dict[str, list[DueIn]] = {}
    for row in rows:
        found.setdefault(fold(row.supplier), []).append(row)
    return found


def together(shop: Shop, rows: Sequence[DueIn]) -> list[Due]:
    """What is due by part and pack, however many orders it was bought in: a price is that of one pack."""
    by_pack: dict[tuple[str, int], list[DueIn]] = {}
    for row in rows:
        by_pack.setdefault((fold(row.part), row.pack), []).append(row)
    return [_sum(shop, mine) for mine in by_pack.values()]


def _sum(shop: Shop, rows: Sequence[DueIn]) -> Due:
    prices = {_price(shop, row) for row in rows}
    return Due(
        shop.catalogue.part(rows[0].part).name,
        "; ".join(dict.fromkeys(row.code for row in rows if row.code)),
        sum(row.quantity for row in rows),
        rows[0].pack,
        prices.pop() if len(prices) == 1 else None,
        min((row.expected_on for row in rows if row.expected_on), default=None),
    )


def _price(shop: Shop, row: DueIn) -> int | None:
    """What a pack was to cost, minor units of the supplier's coin.

    The book keeps the cost in the shop's coin, rounded up to a whole one; so the price is rounded down.
    """
    rate = shop.rate(shop.catalogue.supplier(row.supplier).currency)
    return int(Fraction(row.cost * row.pack, row.quantity) / rate) if rate and row.quantity else None
