"""What an order costs its customer: for one piece, together, and with the postage of what has to be bought for it."""

from __future__ import annotations

from dataclasses import dataclass

from inventory.jobs.orders.order_check import OrderReport


@dataclass(frozen=True, slots=True)
class Quote:
    """Minor units. each: the price that was agreed, else the lowest sensible one; postage: of the parcels it takes.

    goods: what is bought for it, whole packs; agreed: whether the price was; proven: no list of what is missing costs
    less, goods and postage together.
    """

    count: int
    each: int
    postage: int
    goods: int
    agreed: bool
    proven: bool

    @property
    def together(self) -> int:
        """All pieces."""
        return self.count * self.each

    @property
    def with_postage(self) -> int:
        """All pieces, and the postage of their parts at what it costs."""
        return self.together + self.postage


def quote(report: OrderReport) -> Quote | None:
    """The quote of an answer; None where it cannot be made, or nobody knows what something in it costs."""
    request, found = report.resolved.request, report.sourcing
    unknown = any(one.cost is None for one in found.buy)
    if report.verdict == "cannot" or not report.price.known or unknown:
        return None
    agreed = request.price is not None
    each = request.price if request.price is not None else report.price.lowest
    goods = sum(one.cost or 0 for one in found.buy)
    return Quote(request.count, each, found.postage, goods, agreed, found.proven or not found.buy)
