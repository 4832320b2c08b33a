"""`rename`: a wrong name, a wrong code."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.answers import Answer, write
from inventory.cli.json.exact import Value
from inventory.cli.screens.entry import entry_screen, labelled
from inventory.cli.session import JsonOption, StoreOption, YesOption, booked_as, opened, say, shop_of
from inventory.jobs.naming.renaming import Renaming
from inventory.jobs.naming.renaming import rename as work
from inventory.measures import plural
from inventory.measures.text import plain

if TYPE_CHECKING:
    from inventory.store import Read


def rename(
    old: Annotated[str, typer.Argument(help="What it is called now: a thing, an order, a supplier's code.")],
    new: Annotated[str, typer.Argument(help="What it is to be called.")],
    what: Annotated[
        str, typer.Option(help="part, pattern, family, plating, material, supplier, order or code.")
    ] = "",
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Another name. The past keeps it, and sheets and commands with the old name are still understood.

    For example:
    kitdrawer rename "Dunlin kit crome" "Dunlin kit chrome"
    kitdrawer rename SM-1021 SM-1012 --what code
    """
    name = plain(new, "name")

    def work_out(read: Read) -> Renaming:
        shop = shop_of(read, lambda _: [], offers=False)
        return work(shop, old, name, what, lambda: [one for some in read.offers().values() for one in some])

    with opened(store) as found:
        write(
            found,
            Answer(work_out, lambda made: made.proposal, _show, "Rename it?", booked_as, _json),
            yes=yes,
            as_json=as_json,
        )


def _show(made: Renaming) -> None:
    said = ["The old name is still understood."]
    if made.follow:
        many = plural(len(made.follow), "kind")
        said.append(f"Named after it, and renamed with it: {many} of finished pieces.")
    title, on = f"The {made.what} “{made.old}” is called “{made.new}” from now on", made.proposal.on
    say(entry_screen(title, on, labelled("Note", said, on.year)))


def _json(_: int | None, made: Renaming) -> Mapping[str, Value]:
    return {
        "what": made.what,
        "old": made.old,
        "new": made.new,
        "with_it": [{"old": old, "new": new} for old, new in made.follow],
    }
