"""`verify`: prove that the book agrees with itself."""

from __future__ import annotations

import typer

from inventory.cli.exact_json import dumps
from inventory.cli.session import JsonOption, StoreOption, opened, say
from inventory.cli.tables import wrapped

DISAGREES = 3


def verify(store: StoreOption = None, as_json: JsonOption = False) -> None:
    """Recompute every balance, cost layer and claim from the movements, and say what disagrees.

    For example:
    kitdrawer verify
    """
    from inventory.store.proof import verify as prove

    with opened(store) as found:
        problems = prove(found)
    if as_json:
        say(dumps({"ok": not problems, "problems": list(problems)}))
    elif problems:
        for problem in problems:
            say(wrapped(problem, "· "))
        say("Restore a backup (kitdrawer restore FILE), or keep this file and ask for help.")
    else:
        say("The book agrees with itself: every balance, lot and claim follows.")
    if problems:
        raise typer.Exit(DISAGREES)
