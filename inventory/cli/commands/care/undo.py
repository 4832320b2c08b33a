"""`undo`: take a document back."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.answers import Answer, write
from inventory.cli.json.exact import Value
from inventory.cli.screens.tables import wrapped
from inventory.cli.session import JsonOption, StoreOption, YesOption, opened, say, today
from inventory.measures import plural

if TYPE_CHECKING:
    from inventory.ledger import Proposal
    from inventory.store import Read


def undo(
    document: Annotated[
        int | None, typer.Argument(help="Its number; the last one where none is said.")
    ] = None,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Take a document back by a reversing one. Refused where later ones stand on it; they are named.

    For example:
    kitdrawer undo
    kitdrawer undo 1
    """

    def work_out(read: Read) -> tuple[Proposal, list[str]]:
        return _with_learned(read, read.undo(document, on=today()))

    def show(made: tuple[Proposal, list[str]]) -> None:
        proposal, told = made
        say([*wrapped(f"{proposal.title}{_reversed(len(proposal.lines))}."), *told])

    with opened(store) as found:
        write(
            found,
            Answer(work_out, lambda made: made[0], show, "Undo it?", _told, _json),
            yes=yes,
            as_json=as_json,
        )


def _told(number: int | None, _: tuple[Proposal, list[str]]) -> None:
    say("Nothing was changed." if number is None else f"Undone (entry {number}).")


def _json(_: int | None, made: tuple[Proposal, list[str]]) -> dict[str, Value]:
    proposal, _told = made
    return {"undone": proposal.reverses, "title": proposal.title, "lines": len(proposal.lines)}


def _reversed(lines: int) -> str:
    """What becomes of lines; a word on a rate has none."""
    return f": {plural(lines, 'line is', 'lines are')} reversed" if lines else ""


def _with_learned(read: Read, proposal: Proposal) -> tuple[Proposal, list[str]]:
    """The undo with rates and losses as they will be, and what changes of them; as it is where it teaches nothing."""
    turned = proposal.reverses
    if turned is None or not read.teaches(turned):
        return proposal, []
    from inventory.cli.screens.learned import changes
    from inventory.jobs.learning.learned_figures import relearn

    written = read.written_once(turned)
    learned = relearn(written, read.happened(turned), read.rate_words(turned))
    told = changes(written, read.learned(), learned) or wrapped("Rates and losses stay as they are.", "· ")
    return replace(proposal, learned=learned), told
