"""The one way to write, and who goes first where many want to."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, nullcontext
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Generic, TypeVar

from inventory.cli.session import agreed, talk
from inventory.errors import BookMoved, StoreBusy, StoreUnsure

if TYPE_CHECKING:
    from inventory.ledger import Intake, Proposal
    from inventory.store import Read, Store

T = TypeVar("T")

FREE_TRIES = 3
"""How often a write is worked out while others may book; then it takes the write lock before it looks."""
UNASKED_TRIES = 1
"""The same where nobody is asked, so that the lock is held for no longer than it takes to work it out."""
LOCKED_TRIES = 6
"""How often it takes the lock, or waits for it in vain; more than once only where it has to ask anew."""


def book(
    store: Store,
    make: Callable[[Read], T],
    proposal: Callable[[T], Proposal],
    show: Callable[[T], None],
    question: str,
    *,
    yes: bool,
    intake: Intake | Callable[[T], Intake] | None = None,
) -> tuple[int | None, T]:
    """The one way to write: work it out, show it, ask, book it; anew where the book has moved meanwhile.

    A proposal that changed while somebody was asked is shown and asked again. Who was overtaken so often, or
    waited in vain, takes the write lock first, so that nobody can book between look and booking; nobody is asked
    while it is held. So a command waits for others at most (FREE_TRIES + LOCKED_TRIES) * BUSY_SECONDS = 90 s, and
    works out at most FREE_TRIES + 1 times what nobody has to be asked about again; with --yes twice.

    Returns the document's number (None where the answer was no) and what was worked out. Raises StoreBusy where
    the tries are used up; then nothing was booked.
    """
    one = _Booking(store, make, proposal, show, question, yes, intake)
    held_up: StoreBusy | None = None
    tries = FREE_TRIES - UNASKED_TRIES if yes else 0
    while tries < FREE_TRIES + LOCKED_TRIES:
        locked, tries = tries >= FREE_TRIES, tries + 1
        try:
            number, result = one.locked() if locked else one.free()
        except BookMoved:
            held_up = None
        except StoreBusy as error:
            if held_up is None:
                store.waiting()
            held_up = error
            tries = max(tries, FREE_TRIES)  # to look before one may write would be in vain again
        else:
            held_up = None
            if number is not None or one.declined:
                return number, result
    raise held_up or StoreBusy(
        "Others keep booking in this store.", hint="Nothing was booked. Try again in a moment."
    )


@dataclass(slots=True)
class _Booking(Generic[T]):
    """One document on its way into the book, and what was agreed to so far."""

    store: Store
    make: Callable[[Read], T]
    proposal: Callable[[T], Proposal]
    show: Callable[[T], None]
    question: str
    yes: bool
    intake: Intake | Callable[[T], Intake] | None
    settled: Proposal | None = None
    declined: bool = False

    def free(self) -> tuple[int | None, T]:
        """Look, ask, book: others may book meanwhile, then this raises BookMoved."""
        with self.store.reading(waits=1) as read:
            result = self.make(read)
        try:
            agreed_to = self._agreed(result)
        except BrokenPipeError:  # quiet where a command only looks; here somebody may take it for booked
            talk("Nothing was booked: the answer was not read to its end.")
            raise
        if not agreed_to:
            return None, result
        with self._remembered(result):
            return self.store.commit(self.proposal(result), self._beside(result)), result

    def locked(self) -> tuple[int | None, T]:
        """Look and book with nobody in between; what was not agreed to is asked afterwards and not booked yet.

        What --yes books is shown afterwards too: even a screen may keep us waiting, and everybody else with us.
        """
        number = None
        with ExitStack() as stack:
            hand = stack.enter_context(self.store.exclusive())
            result = self.make(hand)
            if self.yes or self._known(result):
                number = hand.commit(self.proposal(result), self._beside(result))
            with self._remembered(result) if number is not None else nullcontext():
                stack.close()
        self._agreed(result)
        return number, result

    @contextmanager
    def _remembered(self, result: T) -> Iterator[None]:
        """What is cut off, or could not be found out, is kept for the next command; the latter is named."""
        from inventory.cli.unsure import under_way

        title = self.proposal(result).title
        self.store.remember = lambda ticket: under_way(self.store.shown, ticket, title)
        try:
            yield
        except StoreUnsure as error:
            error.message = error.message.replace("this was", f"“{title}” was")
            raise
        finally:
            self.store.remember = None

    def _agreed(self, result: T) -> bool:
        """Whether it is what was agreed to; else it is shown, and asked unless --yes."""
        if not self._known(result):
            self.show(result)
            self.declined = not agreed(self.question, self.yes)
            self.settled = self.proposal(result)
        return not self.declined

    def _known(self, result: T) -> bool:
        """Whether this is what was agreed to; on which state of the book it stands does not matter."""
        return self.settled is not None and replace(self.settled, expected_version=None) == replace(
            self.proposal(result), expected_version=None
        )

    def _beside(self, result: T) -> Intake | None:
        return self.intake(result) if callable(self.intake) else self.intake
