"""`restore`: a backup in the book's place."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from inventory.cli.drawing.blocks import Screen, Whole
from inventory.cli.drawing.draw import draw
from inventory.cli.session import StoreOption, YesOption, agreed, say, today, whereabouts
from inventory.measures import show_day


def restore(
    source: Annotated[Path, typer.Argument(readable=False, metavar="FILE", help="A copy made by `backup`.")],
    yes: YesOption = False,
    store: StoreOption = None,
) -> None:
    """Put a backup in the book's place. The book that was there is kept beside it.

    For example:
    kitdrawer restore ~/stick/book-2026-11.kitdrawer
    """
    from inventory.store.copies.backups import check_copy
    from inventory.store.copies.backups import restore as put_back
    from inventory.store.engine import find

    place = find(whereabouts(store)).shown
    if find(whereabouts(store)).file is not None:
        check_copy(source)  # before anybody is asked to have it in the book's place
    if not agreed(f"Put {source} in the place of {place}?", yes):
        say("Nothing was changed.")
        return
    kept = put_back(source, whereabouts(store))
    told = [Whole("Book", place)]
    told += [Whole("What was there is kept as", str(kept))] if kept is not None else []
    head = f"Restored and checked, {show_day(today())}: the copy is in the book's place."
    say(draw(Screen(head, (), [told], following=("What is booked in it", "kitdrawer entries"))))
