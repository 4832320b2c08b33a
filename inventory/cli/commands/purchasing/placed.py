"""`placed`: the list was ordered; it is due in."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import fold
from inventory.cli.answers import Answer, write
from inventory.cli.commands.purchasing.shopping import LateOption, always_bought
from inventory.cli.entering.asked import read_asking
from inventory.cli.json.exact import Exact, Value
from inventory.cli.rates import RateOption, with_rates
from inventory.cli.screens.tables import Column, table, wrapped
from inventory.cli.session import JsonOption, StoreOption, YesOption, existing, opened, say, shop_of
from inventory.jobs.purchasing.placing import place, sums, together
from inventory.ledger import Proposal
from inventory.ledger.shop import Shop
from inventory.measures import Currency, currency, plural, show_amount, show_date, show_money
from inventory.reports.placed import Placed, PlacedSheet

if TYPE_CHECKING:
    from inventory.store import Read, Store

Made = tuple[Shop, tuple[Placed, ...], Proposal, tuple[str, ...]]
"""The shop, what was ordered, and its document."""


def placed(
    sheet: Annotated[
        Path | None,
        typer.Argument(
            readable=False,
            metavar="FILE",
            help="A list saved by `shopping`, edited or not; without it, the list as it is.",
        ),
    ] = None,
    supplier: Annotated[
        list[str] | None, typer.Option(help="Only what this supplier gets; may be repeated.")
    ] = None,
    again: Annotated[
        bool, typer.Option("--again", help="The same list was ordered once more, not told twice.")
    ] = False,
    late: LateOption = False,
    rate: RateOption = None,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """The list was ordered: it is due in, and promises that wait claim it.

    For example:
    kitdrawer placed list.xlsx
    kitdrawer placed --supplier "Saltmarsh Turning Supplies"
    """
    path = existing(sheet) if sheet is not None else None
    always_bought(late)

    def make(read: Read) -> Made:
        shop = with_rates(shop_of(read), rate or [])
        chosen = {fold(shop.catalogue.supplier(name).name) for name in supplier or []}
        sheet = filled or PlacedSheet(_from_list(read, rate or []))
        rows = tuple(row for row in sheet.lines if not chosen or fold(row.supplier) in chosen)
        made = place(shop, rows, read.bought() if path else None, again=again)
        return shop, rows, made, sheet.announced

    with opened(store) as found:
        filled = _from_sheet(path, found, ask=not (yes or as_json)) if path else None
        write(found, as_placed(make), yes=yes, as_json=as_json)


def as_placed(make: Callable[[Read], Made]) -> Answer[Made]:
    """How what was ordered is shown, asked, booked and told."""
    return Answer(make, lambda one: one[2], _show, "Was it ordered like that?", _told, _json)


def _told(number: int | None, made: Made) -> None:
    if number is None:
        say("Nothing was booked.")
        return
    claimed = sum(1 for line in made[2].lines if line.account == "due claim")
    claims = plural(claimed, "claim")
    waiting = f"; {claims} of promised orders wait for it" if claimed else ""

    say(f"Due in (document {number}){waiting}.")
    say("When it comes: kitdrawer arrived")


def _json(_: int | None, made: Made) -> dict[str, Value]:
    shop, rows, proposal, announced = made
    steps = Exact(shop.currency.exponent)
    return {
        "placed": [
            {
                "supplier": row.supplier,
                "part": row.part,
                "quantity": steps.amount(row.quantity),
                "packs": row.packs,
                "cost": Exact(coin.exponent).money(row.cost),
                "currency": coin.code,
                "expected": bought.expected_on,
            }
            for row, bought in zip(rows, proposal.purchases, strict=True)
            for coin in (_coin(shop, row.supplier),)
        ],
        "totals": [
            {
                "supplier": one.supplier,
                "currency": coin.code,
                "goods": Exact(coin.exponent).money(one.goods),
                "postage": Exact(coin.exponent).money(one.postage),
            }
            for one in sums(shop, rows)
            for coin in (_coin(shop, one.supplier),)
        ],
        "total": steps.money(together(shop, sums(shop, rows))),
        "claimed": sum(1 for line in proposal.lines if line.account == "due claim"),
        "announced": list(announced),
    }


def _from_sheet(path: Path, store: Store, *, ask: bool) -> PlacedSheet:
    from inventory.sheets.purchasing.list_reading import read_lists

    with store.reading() as read:
        known, own = read.catalogue(), currency(read.currency)
    return read_asking(lambda answers: read_lists(path, known, own, answers), ask=ask)


def _from_list(read: Read, rate: list[str]) -> tuple[Placed, ...]:
    from inventory.cli.commands.purchasing.shopping import work_out

    _, result = work_out(read, "", "", [], [], rate, 20.0)
    return tuple(
        Placed(bill.supplier.name, line.offer.part, line.offer.pack, line.packs, line.price, line.offer.code)
        for bill in result.basket.bills
        for line in bill.lines
    )


def _coin(shop: Shop, supplier: str) -> Currency:
    return currency(shop.catalogue.supplier(supplier).currency or shop.currency.code)


def _show(made: Made) -> None:
    shop, rows, proposal, announced = made
    expected = {purchase.tag: purchase.expected_on for purchase in proposal.purchases}
    columns = (
        Column("Supplier", gives=True),
        Column("Part", gives=True),
        Column("Amount", right=True),
        Column("Cost", right=True),
        Column("Expected"),
    )
    cells = []
    for row, day in zip(rows, expected.values(), strict=True):
        coin = _coin(shop, row.supplier)
        part = shop.catalogue.part(row.part)
        amount = show_amount(row.quantity, part.unit)
        cells.append(
            [
                row.supplier,
                part.name,
                amount,
                show_money(row.cost, coin),
                show_date(day) if day else "not known",
            ]
        )
    said = [line for text in announced for line in wrapped(text, "· ")]
    say([*table(columns, cells), "", *_totals(shop, rows), *said])


def _totals(shop: Shop, rows: tuple[Placed, ...]) -> list[str]:
    lines: list[str] = []
    for one in sums(shop, rows):
        coin = _coin(shop, one.supplier)
        least = f", {show_money(one.lacks, coin)} under its minimum order" if one.lacks else ""
        text = f"{show_money(one.goods, coin)} goods + {show_money(one.postage, coin)} postage"
        lines += wrapped(f"{one.supplier}: {text}{least}.")
    return [*lines, f"Together {show_money(together(shop, sums(shop, rows)), shop.currency)}."]
