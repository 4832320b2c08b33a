"""A stretch of days gone by, as commands that look back are told it."""

from __future__ import annotations

from datetime import date
from typing import Annotated

import typer

from inventory.cli.session import today
from inventory.errors import BadInput
from inventory.measures import read_date, show_date

SinceOption = Annotated[str, typer.Option(metavar="DATE", help="From that day on; else from 1 January on.")]
UntilOption = Annotated[str, typer.Option(metavar="DATE", help="To the end of that day; else of today.")]


def stretch(since: str, until: str) -> tuple[date, date]:
    """The first day and the last. Raises BadInput where they are the wrong way round, or have not come yet."""
    last = read_date(until) if until else today()
    if last > today():
        raise BadInput(f"{show_date(last)} has not come yet.", hint="Give today or a day gone by.")
    first = read_date(since) if since else date(last.year, 1, 1)
    if first > last:
        hint = f"Give a day up to {show_date(last)}, or leave --since out."
        raise BadInput(f"--since {show_date(first)} is after {show_date(last)}.", hint=hint)
    return first, last
