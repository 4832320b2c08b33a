"""`carry`: the whole book to another place, and back."""

from __future__ import annotations

from typing import Annotated

import typer

from inventory.cli.drawing.texts import wrapped
from inventory.cli.screens.progress import progress
from inventory.cli.session import StoreOption, opened, say, without_password


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
    say(wrapped(f"Carried and checked, {done.rows:,} rows of {done.tables} tables, to {done.shown}."))
    say(wrapped(f"{left} stays as it was. From now on work in the new place: name it in KITDRAWER_STORE."))
