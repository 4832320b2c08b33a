"""Rows that are asked about before they are booked: listed on the screen and as JSON, refused in a script."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated

import typer

from inventory.cli.json.exact import Value
from inventory.cli.screens.tables import wrapped
from inventory.errors import Doubtful, Place
from inventory.measures import plural

SureOption = Annotated[bool, typer.Option("--sure", help="With --yes: what is asked about is right.")]
MOST = 20
"""Rows listed on a screen; JSON lists them all."""


def check_sure(doubts: Sequence[Place], *, sure: bool, yes: bool) -> None:
    """Raises Doubtful where something is asked about, --yes was said for a script, and --sure was not."""
    if doubts and yes and not sure:
        raise Doubtful(
            f"{plural(len(doubts), 'row')} would have been asked about, so nothing was booked.",
            hint="Mend them; or, where they are right, say --sure.",
            where=doubts,
        )


def doubtful_screen(doubts: Sequence[Place]) -> list[str]:
    """The rows, before the question whether to book."""
    lines = [f"{plural(len(doubts), 'row')} to look at before you say yes:"] if doubts else []
    for place in doubts[:MOST]:
        lines += wrapped(f"{f'{place}: ' if str(place) else ''}{place.problem}", "? ")
    if len(doubts) > MOST:
        lines.append(f"  … and {len(doubts) - MOST} more (--json lists all)")
    return lines


def doubtful_json(doubts: Sequence[Place]) -> list[Value]:
    """The rows for programs."""
    return [
        {"file": one.file, "tab": one.tab, "row": one.row, "column": one.column, "problem": one.problem}
        for one in doubts
    ]
