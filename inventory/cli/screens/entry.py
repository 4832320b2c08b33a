"""What an entry that needs no table does, before the question: its title and day, and what it means for others."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from inventory.cli.drawing.blocks import Block, Fact, Screen
from inventory.cli.drawing.colour import stop
from inventory.cli.drawing.draw import draw
from inventory.measures import show_day
from inventory.measures.dates import days_in


def entry_screen(title: str, on: date, said: Sequence[Block] = ()) -> list[str]:
    """The title with its day, then what is said of it."""
    return draw(Screen(f"{days_in(title, on.year).rstrip('.')}, {show_day(on)}.", (), [said], reserved=3))


def labelled(label: str, sentences: Iterable[str], year: int) -> list[Block]:
    """Sentences below each other, the label beside the first."""
    return [Fact("" if at else label, days_in(one, year)) for at, one in enumerate(sentences)]


def short(sentences: Iterable[str], year: int) -> list[Block]:
    """What somebody lacks by it."""
    return labelled(stop("Short"), sentences, year)
