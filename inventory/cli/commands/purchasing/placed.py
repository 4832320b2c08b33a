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
from inventory.cli.screens.purchasing.parcels import coin_of, placed_screen
from inventory.cli.session import (
    AllOption,
    JsonOption,
    StoreOption,
    YesOption,
    booked_as,
    existing,
    opened,
    say,
    shop_of,
)
from inventory.jobs.purchasing.placing import place, sums, together
from inventory.ledger import Proposal
from inventory.ledger.shop import Shop
from inventory.measures import currency, plural
from inventory.reports.purchasing.placed import Placed, PlacedSheet

if TYPE_CHECKING:
    from inventory.store import Read, Store

Made = tuple[Shop, tuple[Placed, ...], Proposal, tuple[str, ...]]
"""The shop, what was ordered, and its entry."""


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
    every: AllOption = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """The list was ordered: it is due in, and set aside for the promises that wait.

    For example:
    kitdrawer placed list.xlsx
    kitdrawer placed --supplier "Saltmarsh Turning Supplies"
    """
    path = existing(sheet, "shopping --save list.xlsx") if sheet is not None else None
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
        write(found, as_placed(make, everything=every), yes=yes, as_json=as_json)


def as_placed(make: Callable[[Read], Made], *, everything: bool = False) -> Answer[Made]:
    """How what was ordered is shown, asked, booked and told."""

    def show(made: Made) -> None:
        shop, rows, proposal, announced = made
        say(placed_screen(shop, rows, proposal, announced, everything=everything))

    return Answer(make, lambda one: one[2], show, "Was it ordered like that?", _told, _json)


def _told(number: int | None, made: Made) -> None:
    claimed = sum(1 for line in made[2].lines if line.account == "due claim")
    if number is not None and claimed:
        say(f"{plural(claimed, 'part')} of promised orders {'wait' if claimed > 1 else 'waits'} for it.")
    booked_as(number, made, ("When it comes", "kitdrawer due-in --save parcel.xlsx"))


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
            for coin in (coin_of(shop, row.supplier),)
        ],
        "totals": [
            {
                "supplier": one.supplier,
                "currency": coin.code,
                "goods": Exact(coin.exponent).money(one.goods),
                "postage": Exact(coin.exponent).money(one.postage),
            }
            for one in sums(shop, rows)
            for coin in (coin_of(shop, one.supplier),)
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
