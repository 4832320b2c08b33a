"""`begin`: a new book, empty or from one's own sheet."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from inventory.cli.drawing.blocks import Screen, Whole
from inventory.cli.drawing.draw import draw
from inventory.cli.rates import RateOption, rate_setting
from inventory.cli.session import JsonOption, StoreOption, YesOption, say, somebody, today, whereabouts
from inventory.measures import currency as read_currency
from inventory.measures import read_fraction, read_money, show_day

FEW_QUESTIONS, SAMPLE_SHOP = 2, 3
"""Places among what is offered on a terminal."""
EMPTY = Whole("Sheets to fill", "kitdrawer columns --save shop.xlsx")
FILLED, OF_SAMPLE = (
    ("When they are filled", "kitdrawer load shop.xlsx"),
    ("Next", "kitdrawer load sample_stock/"),
)


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
    """Begin a book: empty, or from a sheet of your own. A book that is there is never touched.

    Alone on a terminal it offers what to begin with; in a script it asks nothing.

    For example:
    kitdrawer begin
    kitdrawer begin --currency GBP --store market.kitdrawer
    kitdrawer begin --from my_stock.xlsx
    """
    settings = _settings(currency, labour_rate, margin, rate or [])
    plain = not (settings or currency or from_ or save or yes or as_json)
    first = _offered() if plain and somebody() and on_a_screen() else 0
    if not from_ and first in (0, SAMPLE_SHOP):
        coin = read_currency(currency or "EUR").code
        told, following = ([], OF_SAMPLE) if first else ([EMPTY], FILLED)
        say(_screen(coin, _made(store, coin, settings), told, following))
        return
    from inventory.cli.commands.setup.load import load_begun
    from inventory.cli.guess.beginning import Beginning
    from inventory.cli.guess.first_steps import coin_of_answers, own_sheet, sheet_of_answers

    def make(coin: str) -> None:
        place = _made(store, coin, settings)
        if not as_json:
            say(_screen(coin, place))

    grids = [sheet_of_answers()] if first == FEW_QUESTIONS else []
    coin = read_currency(currency).code if currency else coin_of_answers(grids[0]) if grids else ""
    paths = from_ or ([Path("shop.xlsx")] if grids else [own_sheet()])
    Beginning(
        paths, save, store, coin, make, load_begun, yes=yes, as_json=as_json, sure=sure, grids=grids
    ).run()


def _offered() -> int:
    from inventory.cli.guess.first_steps import chosen

    return chosen()


def _settings(currency: str, labour_rate: str, margin: str, rates: list[str]) -> dict[str, str]:
    """What is said of the book's money, checked."""
    coin = read_currency(currency or "EUR")
    settings = dict(rate_setting(one, coin.code) for one in rates)
    if labour_rate:
        read_money(labour_rate, coin)
        settings["labour rate"] = labour_rate
    if margin:
        read_fraction(margin)
        settings["margin"] = margin
    return settings


def on_a_screen() -> bool:
    """Whether what is said is read by a person, not piped on."""
    return sys.stdout.isatty()


def _made(store: str | None, coin: str, settings: dict[str, str]) -> str:
    """Make the book; where it is, as it is shown."""
    from inventory.store import begin as make

    with make(whereabouts(store), coin, settings) as made:
        return str(made.shown)


def _screen(
    coin: str, place: str, told: Sequence[Whole] = (), following: tuple[str, str] | None = None
) -> list[str]:
    """A book that is begun, where it is, and what comes next."""
    head = f"A new book in {coin}, {show_day(today())}."
    return draw(Screen(head, (), [[Whole("Book", place), *told]], following=following))
