"""A planned session as it is laid out: how its blanks are cut, what its pieces need, pots of glue to mix."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from inventory.catalogue import Part, fold
from inventory.jobs.sessions.cut_plan import CutReport, Cutting, cut_together
from inventory.jobs.sessions.plan_rows import PlannedSession
from inventory.jobs.sessions.planning import PlanReport
from inventory.jobs.sessions.session_needs import Mix, Together, mixes, together
from inventory.ledger.learned import LearnedFigures
from inventory.ledger.shop import Shop


@dataclass(frozen=True, slots=True)
class Bench:
    """One session, worked out once for the screen, for programs and for the exit code."""

    session: PlannedSession
    cuts: CutReport
    needs: tuple[Together, ...]
    mixes: tuple[Mix, ...]
    spare: tuple[tuple[Part, int], ...]
    """Blanks set aside for its orders that the cut plan does without."""

    def shortages(self) -> Iterator[tuple[Part, int]]:
        """Counted parts it asks more of than is there, thousandths."""
        for one in self.needs:
            if one.part.unit == "piece" and one.there < one.total:
                yield one.part, one.total - one.there


def benches(report: PlanReport, learned: LearnedFigures) -> tuple[Bench, ...]:
    """Every session of a plan."""
    return tuple(_bench(report.shop, session, learned) for session in report.sessions)


def _bench(shop: Shop, session: PlannedSession, learned: LearnedFigures) -> Bench:
    cuts = cut_together(shop, session.rows)
    needs = together(shop, session.rows, learned, cuts)
    return Bench(session, cuts, needs, mixes(shop, session.rows, needs), tuple(_spare(shop, session, cuts)))


def _whole(cut: Cutting, orders: set[str]) -> bool:
    """Whether anything of it is for an order of which all is made here: of others the rest is cut another evening."""
    return any(fold(name) in orders for name, _ in cut.pieces)


def _spare(shop: Shop, session: PlannedSession, cuts: CutReport) -> Iterator[tuple[Part, int]]:
    orders = {fold(row.order.name) for row in session.rows if not row.in_part}
    for part in {fold(cut.part.name): cut.part for cut in cuts.every}.values():
        claims = shop.book.claims_on(part.name)
        held = sum(c.quantity for c in claims if c.account == "claim" and fold(c.order) in orders) // 1000
        over = held - sum(cut.blanks for cut in cuts.cuts if cut.part is part and _whole(cut, orders))
        if over > 0:
            yield part, over
