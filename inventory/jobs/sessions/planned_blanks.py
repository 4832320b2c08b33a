"""Blanks set aside for the stall by a plan: those the cut plan asks beyond what promised orders hold already.

A promise holds blanks of its own, for the session may be given up or an order leave it; what of these the session
does without is free again once it is booked. Stall pieces are only made in their session, so theirs follow its plan.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from inventory.catalogue import STALL, fold
from inventory.jobs.sessions.cut_plan import Cutting, cut_together
from inventory.ledger import Line
from inventory.ledger.shop import Shop

if TYPE_CHECKING:
    from inventory.jobs.sessions.plan_rows import PlanRow


def without_blanks(lines: Iterable[Line], blank: str) -> tuple[Line, ...]:
    """Claims of everything but the blank."""
    return tuple(line for line in lines if fold(line.part) != fold(blank))


def blanks_for_the_stall(shop: Shop, rows: Sequence[PlanRow]) -> tuple[Line, ...]:
    """What one session's cut plan sets aside for its stall pieces, or has to buy for them."""
    stall = [row.order.name for row in rows if row.order.customer == STALL]
    if not stall:
        return ()
    held = _Held(shop, [row.order.name for row in rows])
    report = cut_together(shop, rows)
    return (
        *(line for cut in report.cuts for line in held.beyond(cut, "claim", stall)),
        *(line for cut in report.missing for line in held.beyond(cut, "to buy", stall)),
    )


class _Held:
    """What the session's orders hold of blanks before the stall gets any, and what of it is not cut yet."""

    def __init__(self, shop: Shop, orders: Iterable[str]) -> None:
        self.left: Counter[tuple[str, str, int | None]] = Counter()
        for name in orders:
            for claim in shop.book.claims_of(name):
                account = "to buy" if claim.account == "due claim" else claim.account
                key = fold(claim.part), account, claim.lot
                self.left[key] += claim.quantity // 1000

    def beyond(self, cut: Cutting, account: str, stall: Sequence[str]) -> Iterable[Line]:
        """A line for the blanks of one cutting that nobody in the session holds."""
        key = fold(cut.part.name), account, cut.lot
        taken = min(self.left[key], cut.blanks)
        self.left[key] -= taken
        mine = next((name for name, _ in cut.pieces if name in stall), None)
        if mine is not None and cut.blanks > taken:
            many = 1000 * (cut.blanks - taken)
            reason = "claimed" if account == "claim" else "missing"
            yield Line(account, cut.part.name, many, lot=cut.lot, order=mine, reason=reason)  # type: ignore[arg-type]  # one of the two
