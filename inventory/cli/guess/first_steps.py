"""What `begin` offers on a terminal: from a sheet, a few questions, the sample shop, an empty book."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import typer

from inventory.cli.session import say
from inventory.sheets.guess.cells import Cell, Grid
from inventory.sheets.guess.texts.prices import price_in

SAMPLE = Path("sample_stock")
OFFERS = (
    "an empty book",
    "from a sheet of your own",
    "a few questions: your first kit and blank",
    "the sample shop",
)
HEADINGS = ("What", "Colour", "How many", "Drill", "Price each", "Supplier")
PRICED = HEADINGS.index("Price each")
QUESTIONS = (
    ("What is your first kit called?", "Dunlin"),
    ("Its plating?", "chrome"),
    ("How many have you?", "1"),
    ("Its drill?", "7 mm"),
    ("What did one cost?", "?"),
    ("Where did you buy it?", "?"),
    ("Your first blank is of which wood?", "walnut"),
    ("How many of those?", "1"),
)
"""What is asked, and what Enter says."""


def chosen() -> int:
    """Which of OFFERS is wanted, from 0; Enter takes the first. The sample shop is only offered where it lies."""
    offers = OFFERS if SAMPLE.is_dir() else OFFERS[:-1]
    say([f"{number} {offer}" for number, offer in enumerate(offers, start=1)])
    while True:
        text = typer.prompt("Begin with", default="1", err=True).strip()
        if text.isdecimal() and 1 <= int(text) <= len(offers):
            return int(text) - 1
        say(f"Write a number from 1 to {len(offers)}.")


def sheet_of_answers(ask: Callable[[str, str], str] | None = None) -> Grid:
    """A sheet of one kit and one blank out of eight answers, to be understood like any other."""
    asked = ask or _prompt
    name, plating, count, drill, price, shop, wood, blanks = [asked(*question) for question in QUESTIONS]
    kit = name if "kit" in name.casefold().split() else f"{name} kit"
    blank = wood if "blank" in wood.casefold().split() else f"{wood} blank"
    grid = Grid("answers", "answers")
    rows = (HEADINGS, (kit, plating, count, drill, price, shop), (blank, "", blanks, "", "", ""))
    for number, row in enumerate(rows, start=1):
        filled = {at: Cell("answers", number, at, text, text) for at, text in enumerate(row) if text}
        grid.rows[number] = filled
    return grid


def coin_of_answers(grid: Grid) -> str:
    """The coin whose sign the price has; the euro, as of any book of which nothing is said."""
    price = price_in(grid.rows[2][PRICED].text) if PRICED in grid.rows[2] else None
    return (price.coin if price else "") or "EUR"


def _prompt(question: str, default: str) -> str:
    return str(typer.prompt(question, default=default, err=True)).strip() or default


def own_sheet() -> Path:
    """The sheet that is wanted, asked until there is such a file."""
    while True:
        path = Path(typer.prompt("Which file?", err=True).strip().strip("'\"")).expanduser()
        if path.is_file():
            return path
        say(f"There is no {path}.")
