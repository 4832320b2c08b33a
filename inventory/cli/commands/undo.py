"""`undo`: take a document back."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.session import TRIES, StoreOption, YesOption, agreed, opened, say, today
from inventory.cli.tables import wrapped
from inventory.errors import BookMoved, StoreBusy

if TYPE_CHECKING:
    from inventory.ledger import Proposal
    from inventory.store import Store


def undo(
    document: Annotated[
        int | None, typer.Argument(help="Its number; the last one where none is said.")
    ] = None,
    yes: YesOption = False,
    store: StoreOption = None,
) -> None:
    """Take a document back by a reversing one. Refused where later ones stand on it; they are named.

    For example:
    kitdrawer undo
    kitdrawer undo 1
    """
    with opened(store) as found:
        shown = ""
        for _ in range(TRIES):
            proposal, told = _with_learned(found, found.undo(document, on=today()))
            if proposal.title != shown:  # asked anew where another document has become the last one meanwhile
                shown = proposal.title
                say([*wrapped(f"{shown}{_reversed(len(proposal.lines))}."), *told])
                if not agreed("Undo it?", yes):
                    say("Nothing was changed.")
                    return
            try:
                number = found.commit(proposal)
            except BookMoved:
                continue
            say(f"Undone as document {number}.")
            return
    raise StoreBusy("Others keep booking in this store.", hint="Nothing was booked. Try again in a moment.")


def _reversed(lines: int) -> str:
    """What becomes of lines; a word on a rate has none."""
    return f": {lines} {'line is' if lines == 1 else 'lines are'} reversed" if lines else ""


def _with_learned(store: Store, proposal: Proposal) -> tuple[Proposal, list[str]]:
    """The undo with rates and losses as they will be, and what changes of them; as it is where it teaches nothing."""
    turned = proposal.reverses
    with store.reading() as read:
        if turned is None or not read.teaches(turned):
            return proposal, []
        from inventory.cli.learned_screen import changes
        from inventory.jobs.learning import relearn

        written = read.written()
        learned = relearn(written, read.happened(turned), read.rate_words(turned))
        told = changes(written, read.learned(), learned) or wrapped(
            "Rates and losses stay as they are.", "· "
        )
    return replace(proposal, learned=learned), told
