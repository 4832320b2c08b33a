"""A booked session looked back on: made, lost, used, missing, learned, to buy; for the screen and the workbook."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from inventory.catalogue import STAGES, Catalogue, Order, Supply, fold
from inventory.jobs.learning.report import changed_losses, changed_rates
from inventory.jobs.sessions.reconciling.booking import SessionBooking
from inventory.jobs.sessions.safety import after_finishing
from inventory.ledger.costs import UNKNOWN, Cost
from inventory.ledger.learned import LearnedFigures
from inventory.ledger.sessions import UNREAD, Outcome
from inventory.measures import show_date
from inventory.reports.session_report import (
    LossChanged,
    Lost,
    MadePieces,
    RateChanged,
    SessionDifference,
    SessionReport,
    ToBuy,
    Used,
)
from inventory.reports.shortfalls import Shortfall

if TYPE_CHECKING:
    from inventory.reports.purchasing.demands import Demand

JUST_SO = Fraction(1, 100)
"""A rate that moved by less than this share of itself is not worth a line."""


def look_back(
    booking: SessionBooking,
    differences: Sequence[SessionDifference],
    written: Catalogue,
    before: LearnedFigures,
    after: LearnedFigures,
    wanted: Iterable[Demand],
) -> SessionReport:
    """Everything of one session. wanted: what is to be bought once it is booked."""
    shop = booking.shop
    return SessionReport(
        f"Session of {show_date(booking.session.on)}",
        shop.today,
        shop.currency,
        tuple(_made(booking)),
        tuple(_lost(booking)),
        tuple(_used(booking)),
        tuple(differences),
        tuple(_short(booking)),
        tuple(
            RateChanged(new.part.name, new.per, old.estimate, new.estimate, new.part.unit)
            for old, new in changed_rates(written, before, after)
            if abs(new.estimate - old.estimate) >= JUST_SO * old.estimate
        ),
        tuple(
            LossChanged(new.material, new.stage, old.estimate, new.estimate)
            for old, new in changed_losses(written, before, after)
            if new.lost or abs(new.estimate - old.estimate) >= JUST_SO * old.estimate
        ),
        tuple(ToBuy(one.part.name, one.quantity, one.part.unit, one.reason) for one in wanted),
        cautions=after_finishing(shop.catalogue.part(key) for key in booking.tally.quantity),
        notes=booking.notes,
        unpriced=tuple(booking.shop.catalogue.part(key).name for key in booking.tally.unpriced),
    )


def _made(booking: SessionBooking) -> Iterable[MadePieces]:
    costs = iter(booking.tally.pieces)  # one for each row with good pieces, in their order
    for one in booking.made:
        outcome: Outcome = one.outcome
        cost = next(costs)[3] if outcome.good else Cost(0)
        lost = sum(outcome.lost.values())
        known = cost.cost_from != UNKNOWN
        yield MadePieces(outcome.pattern, outcome.order, outcome.good, lost, cost.amount, known)


def _lost(booking: SessionBooking) -> Iterable[Lost]:
    pieces: Counter[str] = Counter()
    for one in booking.made:
        for stage, many in one.outcome.lost.items():
            pieces[stage] += many
    for stage in STAGES:
        if stage in pieces:
            known = stage not in booking.tally.lost_unpriced
            yield Lost(stage, pieces[stage], booking.tally.lost_cost[stage], known)


def _used(booking: SessionBooking) -> Iterable[Used]:
    """Supplies whose use is known, against what the bills expect."""
    for one in booking.proposal.observed:
        part = booking.shop.catalogue.part(one.part)
        if isinstance(part.detail, Supply) and one.way not in UNREAD:
            key = fold(part.name)
            before = booking.unseen[key]
            yield Used(part.name, part.unit, booking.expected[key] + before, one.used + before)


def _short(booking: SessionBooking) -> Iterable[Shortfall]:
    """What promised orders still wait for, earliest due first."""
    shop = booking.shop
    for claim in shop.book.claims:
        order: Order | None = shop.book.orders.get(fold(claim.order))
        if claim.account == "to buy" and order is not None:
            yield Shortfall(
                order.name, claim.part, claim.quantity, shop.catalogue.part(claim.part).unit, order.due
            )
