"""`begin`: a new book, empty or from one's own sheet."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from inventory.cli.rates import RateOption, rate_setting
from inventory.cli.session import JsonOption, StoreOption, YesOption, say, whereabouts
from inventory.measures import currency as read_currency
from inventory.measures import read_fraction, read_money


def begin(
    currency: Annotated[
        str, typer.Option(help="The shop's currency, by its ISO 4217 code; EUR if nothing says.")
    ] = "",
    labour_rate: Annotated[
        str, typer.Option("--labour-rate", help="What an hour of your work is worth; 15 if not said.")
    ] = "",
    margin: Annotated[str, typer.Option(help="Share of the price to be left over; 30 % if not said.")] = "",
    rate: RateOption = None,
    from_: Annotated[
        list[Path] | None,
        typer.Option(
            "--from",
            readable=False,
            metavar="FILE",
            help="Your own sheet, however it looks; or its shop.xlsx.",
        ),
    ] = None,
    save: Annotated[
        Path | None,
        typer.Option(readable=False, help="Where shop.xlsx goes; beside your sheet if not said."),
    ] = None,
    yes: YesOption = False,
    sure: Annotated[bool, typer.Option("--sure", help="Take prices and counts that look odd.")] = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Begin a book: empty, without a question, or from a sheet of your own. A book that is there is never touched.

    For example:
    kitdrawer begin
    kitdrawer begin --currency GBP --store market.kitdrawer
    kitdrawer begin --from my_stock.xlsx
    """
    settings = dict(rate_setting(one, read_currency(currency or "EUR").code) for one in rate or [])
    if labour_rate:
        read_money(labour_rate, read_currency(currency or "EUR"))
        settings["labour rate"] = labour_rate
    if margin:
        read_fraction(margin)
        settings["margin"] = margin
    if not from_:
        where = _made(store, read_currency(currency or "EUR").code, settings)
        say(where)
        say("Next: kitdrawer columns --save shop.xlsx; fill what you have; kitdrawer load shop.xlsx")
        return
    from inventory.cli.guessing import Beginning

    def make(coin: str) -> None:
        told = _made(store, coin, settings)
        if not as_json:
            say(told)

    coin = read_currency(currency).code if currency else ""
    Beginning(from_, save, store, coin, make, yes=yes, as_json=as_json, sure=sure).run()


def _made(store: str | None, coin: str, settings: dict[str, str]) -> str:
    from inventory.store import begin as make

    with make(whereabouts(store), coin, settings) as made:
        return f"A new book in {coin} at {made.shown}."
