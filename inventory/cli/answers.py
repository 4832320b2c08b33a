"""How a writing command answers: a screen for people, JSON for programs, one exit code for both.

With `--json` and without `--yes` it only looks: what would be booked, and `null` for the entry's number.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Generic, TypeVar

from inventory.cli.booking import book
from inventory.cli.json.exact import Value, dumps
from inventory.cli.session import ended, say, talk

if TYPE_CHECKING:
    from inventory.ledger import Intake, Proposal
    from inventory.store import Read, Store

T = TypeVar("T")


def _never(_: object) -> bool:
    return False


@dataclass(frozen=True, slots=True)
class Answer(Generic[T]):
    """What one command books and how it tells of it.

    make: works it out; proposal: the document in it; show: the screen before the question; told: the screen after it,
    from the entry's number (None: nothing was booked); body: the same for programs; short: whether something is
    short or disagrees, whatever is answered; intake: see `booking.book`; talks: it shows itself on standard error where
    the answer is JSON, so that it may.
    """

    make: Callable[[Read], T]
    proposal: Callable[[T], Proposal]
    show: Callable[[T], None]
    question: str
    told: Callable[[int | None, T], None]
    body: Callable[[int | None, T], Mapping[str, Value]]
    short: Callable[[T], bool] = _never
    intake: Intake | Callable[[T], Intake] | None = None
    talks: bool = False


def worked(found: Store, answer: Answer[T], *, yes: bool, as_json: bool) -> tuple[int | None, T]:
    """Work it out, show it, ask and book it. Returns the entry's number and what was worked out."""
    show = _silent if as_json and not answer.talks else answer.show
    number = None
    if as_json and not yes:
        with found.reading() as read:
            made = answer.make(read)
        show(made)
        talk("Nothing was booked: add --yes to book it.")
    else:
        number, made = book(
            found,
            answer.make,
            answer.proposal,
            show,
            answer.question,
            yes=yes,
            intake=answer.intake,
        )
    return number, made


def answered(found: Store, answer: Answer[T], *, yes: bool, as_json: bool) -> tuple[int | None, T]:
    """The same, and tell of it."""
    number, made = worked(found, answer, yes=yes, as_json=as_json)
    if as_json:
        say(dumps({"entry": number, **answer.body(number, made)}))
    else:
        answer.told(number, made)
    return number, made


def _silent(_: object) -> None:
    """What is told afterwards, in one answer."""


def write(found: Store, answer: Answer[T], *, yes: bool, as_json: bool) -> None:
    """One command from beginning to end."""
    _, made = answered(found, answer, yes=yes, as_json=as_json)
    ended(short=answer.short(made))
