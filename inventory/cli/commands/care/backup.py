"""`backup`: a checked copy of the whole book."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from inventory.cli.session import StoreOption, opened, say


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
    say(f"Copied and checked: {target}")
