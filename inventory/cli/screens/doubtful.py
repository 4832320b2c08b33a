"""Rows that are asked about before they are booked: listed on the screen and as JSON, refused in a script."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated

import typer

from inventory.cli.drawing.blocks import Block, Sentence
from inventory.cli.drawing.colour import look
from inventory.cli.json.exact import Value
from inventory.errors import Doubtful, Place
from inventory.measures import plural

SureOption = Annotated[bool, typer.Option("--sure", help="With --yes: what is asked about is right.")]
FEW = 6
"""Rows listed on a screen; all of them with `--all` and in JSON."""


def check_sure(doubts: Sequence[Place], *, sure: bool, yes: bool) -> None:
    """Raises Doubtful where something is asked about, --yes was said for a script, and --sure was not."""
    if doubts and yes and not sure:
        raise Doubtful(
            f"{plural(len(doubts), 'row')} would have been asked about, so nothing was booked.",
            hint="Correct these cells; or, where they are right, add --sure.",
            where=doubts,
        )


def doubtful_rows(doubts: Sequence[Place], *, everything: bool = False) -> list[Block]:
    """The rows, before the question whether to book."""
    if not doubts:
        return []
    shown = doubts if everything else doubts[:FEW]
    rows: list[Block] = [Sentence(f"{look(plural(len(doubts), 'row'))} to look at before you say yes:")]
    rows += [Sentence(f"{f'{one}: ' if str(one) else ''}{one.problem}", "? ") for one in shown]
    if len(doubts) > len(shown):
        rows.append(Sentence(f"and {len(doubts) - len(shown)} more: --all"))
    return rows


def doubtful_json(doubts: Sequence[Place]) -> list[Value]:
    """The rows for programs."""
    return [
        {"file": one.file, "tab": one.tab, "row": one.row, "column": one.column, "problem": one.problem}
        for one in doubts
    ]
