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
            proposal = _with_learned(found, found.undo(document, on=today()))
            if proposal.title != shown:  # asked anew where another document has become the last one meanwhile
                shown = proposal.title
                say(wrapped(f"{shown}: {len(proposal.lines)} lines are reversed."))
                if proposal.learned is not None:
                    say(wrapped("Rates and losses are worked out anew.", "· "))
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


def _with_learned(store: Store, proposal: Proposal) -> Proposal:
    """The undo with rates and losses as they will be; where nothing is learned from the document, as it is."""
    turned = proposal.reverses
    with store.reading() as read:
        if turned is None or not read.teaches(turned):
            return proposal
        from inventory.jobs.learning import relearn

        return replace(
            proposal, learned=relearn(read.written(), read.happened(turned), read.rate_words(turned))
        )
