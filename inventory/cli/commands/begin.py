"""`begin`: a new, empty book."""

from __future__ import annotations

from typing import Annotated

import typer

from inventory.cli.rates import RateOption, rate_setting
from inventory.cli.session import StoreOption, say, whereabouts
from inventory.measures import currency as read_currency
from inventory.measures import read_fraction, read_money


def begin(
    currency: Annotated[str, typer.Option(help="The shop's currency, by its ISO 4217 code.")] = "EUR",
    labour_rate: Annotated[
        str, typer.Option("--labour-rate", help="What an hour of your work is worth; 15 if not said.")
    ] = "",
    margin: Annotated[str, typer.Option(help="Share of the price to be left over; 30 % if not said.")] = "",
    rate: RateOption = None,
    store: StoreOption = None,
) -> None:
    """Begin a book. Nothing is asked; an existing book is never touched.

    For example:
    kitdrawer begin
    kitdrawer begin --currency GBP --store market.kitdrawer
    """
    from inventory.store import begin as make

    coin = read_currency(currency)
    settings = dict(rate_setting(one, coin.code) for one in rate or [])
    if labour_rate:
        read_money(labour_rate, coin)
        settings["labour rate"] = labour_rate
    if margin:
        read_fraction(margin)
        settings["margin"] = margin
    with make(whereabouts(store), coin.code, settings) as made:
        say(f"A new book in {coin.code} at {made.shown}.")
    say("Next: kitdrawer columns --save shop.xlsx; fill what you have; kitdrawer load shop.xlsx")
