"""From what was made to its document, with all it teaches: for filled sheets, and for a piece made of an evening."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from inventory.cli.past.used import past_of, use_and_wear
from inventory.jobs.sessions.reconciling.booking import SessionBooking, book_session
from inventory.reports.session_report import SessionReport

if TYPE_CHECKING:
    from inventory.catalogue import Catalogue
    from inventory.jobs.differences.reasons import BookMemory
    from inventory.jobs.sessions.reconciling.measured import Checked
    from inventory.ledger.learned import LearnedFigures
    from inventory.ledger.sessions import Observed, Outcome, Session
    from inventory.ledger.shop import Shop
    from inventory.reports.filled import FilledSession
    from inventory.reports.purchasing.demands import Demand
    from inventory.store import Read


@dataclass(frozen=True, slots=True)
class BookedSession:
    """What is about to be booked, and how it looks on Sunday night."""

    booking: SessionBooking
    report: SessionReport


def looked_back(
    read: Read, shop: Shop, session: Session, filled: FilledSession, *, buying: bool = True
) -> BookedSession:
    """The document of a session as it was filled in, the figures learned from it, and the report.

    buying: whether what is to be bought then is worked out too.
    """
    from inventory.jobs.learning.learned_figures import learn_on
    from inventory.jobs.learning.readings import looks, unseen
    from inventory.jobs.sessions.reconciling.session_report import look_back
    from inventory.ledger.learned import with_learned
    from inventory.ledger.sessions import Happened

    written, before = read.written(), shop.learned
    happened, words = read.happened(), read.rate_words()

    def figures(
        outcomes: Sequence[Outcome], observed: Sequence[Observed]
    ) -> tuple[LearnedFigures, Catalogue]:
        new = Happened(read.version + 1, shop.today, tuple(outcomes), tuple(observed))
        learned = learn_on(before, written, happened, new, words)
        return learned, with_learned(written, learned)

    def past(checked: Sequence[Checked], asked: Mapping[str, int]) -> BookMemory:
        from inventory.jobs.sessions.session_needs import rate_scatter  # of an evening nothing is checked

        every = {key: asked.get(key, 0) + earlier.get(key, 0) for key in {**asked, **earlier}}
        return past_of(read, checked, rate_scatter(every, before))

    earlier = {key: unseen(seen) for key, seen in looks(happened).items()}
    booking = book_session(shop, session, filled, figures, past, earlier)
    learned = booking.proposal.learned or before
    wanted = _wanted(read, shop, booking) if buying else ()
    report = look_back(booking, booking.differences, written, before, learned, wanted)
    return BookedSession(booking, report)


def _wanted(read: Read, before: Shop, booking: SessionBooking) -> Iterable[Demand]:
    """What is to be bought once it is booked."""
    from inventory.jobs.purchasing.demand import demand
    from inventory.jobs.purchasing.shopping import HORIZON

    return demand(booking.shop, use_and_wear(read, before), before.today + HORIZON)
