"""`carry`: the whole book to another place, and back."""

from __future__ import annotations

from typing import Annotated

import typer

from inventory.cli.drawing.blocks import Block, Screen, Sentence, Whole
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.screens.progress import progress
from inventory.cli.session import StoreOption, opened, say, today, without_password
from inventory.measures import show_day


def carry(
    target: Annotated[str, typer.Argument(metavar="FILE-or-URL", help="Where nothing is yet.")],
    store: StoreOption = None,
) -> None:
    """Carry the whole book to a new place: from a file to a server, or back. All of it, proved there, or nothing.

    The book it came from stays as it is; work in one of the two from then on.

    For example:
    kitdrawer carry postgresql://maker@localhost/penshop
    kitdrawer carry home.kitdrawer --store postgresql://maker@localhost/penshop
    """
    from inventory.store.copies.transfer import carry as take

    without_password(target)
    with opened(store) as found, progress("Carrying") as step:
        done = take(found, target, step)
        left = found.shown
    head = f"Carried and checked, {show_day(today())}: {done.rows} rows of {done.tables} tables."
    told: list[Block] = [
        Whole("Now at", str(done.shown)),
        Whole("Stays as it was", str(left)),
        Sentence("Work in one of the two from now on: name the new place in KITDRAWER_STORE."),
    ]
    following = ("What is booked there", f"kitdrawer entries --store {pasted(str(done.shown))}")
    say(draw(Screen(head, (), [told], following=following)))
