"""`undo`: take a document back."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.answers import Answer, write
from inventory.cli.json.exact import Value
from inventory.cli.screens.making.learned_pages import LearnedChanges, undo_screen
from inventory.cli.session import AllOption, JsonOption, StoreOption, YesOption, opened, say, today

if TYPE_CHECKING:
    from inventory.ledger import Proposal
    from inventory.store import Read


Undone = tuple["Proposal", "LearnedChanges | None"]
"""The undoing, and what becomes of rates and losses where it turns what taught them."""


def undo(
    document: Annotated[
        int | None, typer.Argument(metavar="[ENTRY]", help="Its number; the last one where none is said.")
    ] = None,
    every: AllOption = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Take an entry back by a reversing one. Refused where later ones stand on it; they are named.

    For example:
    kitdrawer undo
    kitdrawer undo 1
    """

    def work_out(read: Read) -> Undone:
        return _with_learned(read, read.undo(document, on=today()))

    def show(made: Undone) -> None:
        proposal, told = made
        say(undo_screen(proposal.title, proposal.on, len(proposal.lines), told, everything=every))

    with opened(store) as found:
        write(
            found,
            Answer(work_out, lambda made: made[0], show, "Undo it?", _told, _json),
            yes=yes,
            as_json=as_json,
        )


def _told(number: int | None, _: Undone) -> None:
    say("Nothing was changed." if number is None else f"Undone (entry {number}).")


def _json(_: int | None, made: Undone) -> dict[str, Value]:
    proposal, _told = made
    return {"undone": proposal.reverses, "title": proposal.title, "lines": len(proposal.lines)}


def _with_learned(read: Read, proposal: Proposal) -> Undone:
    """The undo with rates and losses as they will be, and what changes of them; as it is where it teaches nothing."""
    turned = proposal.reverses
    if turned is None or not read.teaches(turned):
        return proposal, None
    from inventory.cli.screens.learned import changes
    from inventory.jobs.learning.learned_figures import relearn

    written = read.written_once(turned)
    learned = relearn(written, read.happened(turned), read.rate_words(turned))
    return replace(proposal, learned=learned), changes(written, read.learned(), learned)
