"""An evening at the bench, from the plan over the filled sheet to the book, for tests of what is cut."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from inventory.catalogue import Order
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.promising import promise
from inventory.jobs.orders.requests import OrderRequest, request_of
from inventory.jobs.sessions.planning import Ask, PlanReport, plan
from inventory.jobs.sessions.reconciling.booking import SessionBooking, book_session
from inventory.ledger.learned import LearnedFigures
from inventory.ledger.sessions import Session
from inventory.ledger.shop import Shop
from inventory.reports.filled import FilledBlank
from jobs import goods
from jobs.booking import booked as moved_on
from jobs.sessions import SATURDAY, filled, piece
from jobs.shop import Stock, plenty

NOTHING = LearnedFigures()


def lossless() -> goods.Goods:
    """The shop where nothing goes wrong; a blank of olive gives two pieces."""
    return goods.catalogue().with_losses("olive wood").with_losses("antler")


@dataclass(frozen=True)
class Evening:
    """A plan of some orders and stall pieces, and the session booked as filled in."""

    before: Shop
    report: PlanReport
    session: Session

    @classmethod
    def of(
        cls, there: Shop, orders: Iterable[Order], stall: Sequence[int] = (), blank: str = goods.OLIVE
    ) -> Evening:
        """Orders promised one by one, then planned together with some Turnstones for the stall."""
        for one in orders:
            there = moved_on(there, promise(there, one, check(there, request_of(one))))
        requests = tuple(
            OrderRequest("Turnstone gloss", ("chrome",), blank, many, SATURDAY) for many in stall
        )
        names = tuple(one.name for one in there.book.orders.values() if one.state == "promised")
        report = plan(there, (), Ask((SATURDAY,), names, requests))
        return cls(there, report, replace(report.proposal.sessions[0], number=1))

    @property
    def after_planning(self) -> Shop:
        """The shop once it is planned, the stall's orders in its book."""
        return moved_on(self.before, self.report.proposal)

    def done(self, *blanks: FilledBlank, fewer: int = 0) -> SessionBooking:
        """The session: every piece that was planned is good (but for the first row's `fewer`)."""
        starts = [row.starts for row in self.session.rows]
        starts[0] -= fewer
        sheet = filled([piece(at, many) for at, many in enumerate(starts, 1)], blanks=blanks)
        return book_session(self.after_planning, self.session, sheet)


def antlers(*lengths: str, plain: int = 0) -> Stock:
    """Measured antlers A, B, C … of these lengths, 20 mm thick."""
    stock = plenty()
    for name, length in zip("ABCDEF", lengths, strict=False):
        stock.measured(name, "20 mm", length, 100)
    if plain:
        stock.lot(goods.ANTLER, 1000 * plain, 100 * plain)
    return stock
