"""`backup`: a checked copy of the whole book."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from inventory.cli.drawing.blocks import Block, Screen, Sentence, Whole
from inventory.cli.drawing.draw import draw
from inventory.cli.session import StoreOption, opened, say, today
from inventory.measures import show_day


def backup(
    target: Annotated[Path, typer.Argument(readable=False, metavar="FILE", help="Where the copy goes.")],
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace the file if it is there.")] = False,
    store: StoreOption = None,
) -> None:
    """A checked copy of the whole book, taken while others may go on working.

    For example:
    kitdrawer backup ~/stick/book-2026-11.kitdrawer
    """
    from inventory.store.copies.backups import backup as copy

    with opened(store) as found:
        copy(found, target, over=overwrite)
    told: list[Block] = [Whole("Copy", str(target)), Sentence("Keep it on another disk than the book.")]
    head = f"Copied and checked, {show_day(today())}: the whole book."
    say(draw(Screen(head, (), [told], following=("How a copy comes back", "kitdrawer guide care"))))
