"""How much to order at a time where demand is steady."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf, sqrt

from inventory.errors import BadInput


@dataclass(frozen=True, slots=True)
class OrderSize:
    """A quantity to order, in units of the part, and what that costs per unit of time.

    short: share of the time there is nothing, where waiting is allowed.
    """

    quantity: float
    cost: float
    short: float = 0.0


def eoq(fixed: float, holding: float, demand: float, penalty: float = inf) -> OrderSize:
    """Economic order quantity, with waiting at a penalty where one is given (sections 3.2 and 3.5).

    Q = sqrt(2 K d (h + p) / (h p)), cost sqrt(2 K d h p / (h + p)), short h / (h + p) of the time; without a penalty
    Q = sqrt(2 K d / h), cost sqrt(2 K d h). All figures above 0, else `BadInput`.

    >>> round(eoq(8, 0.225, 1300).quantity, 4)
    304.0468
    """
    _above_zero(fixed=fixed, holding=holding, demand=demand, penalty=penalty)
    share = 1.0 if penalty == inf else penalty / (holding + penalty)
    return OrderSize(
        sqrt(2 * fixed * demand / (holding * share)), sqrt(2 * fixed * demand * holding * share), 1 - share
    )


def eoq_all_units(
    fixed: float, holding_rate: float, demand: float, breaks: Sequence[tuple[float, float]]
) -> OrderSize:
    """Economic order quantity when the price of every unit falls at some quantities (all-units discount, 3.4).

    Cost per time g(Q) = c(Q) d + K d / Q + i c(Q) Q / 2, where c(Q) is the price of the last break reached.  The least
    is at a break or at sqrt(2 K d / (i c)) inside a price's own range.  `breaks` are (quantity from, price per unit),
    rising quantities from 0 on; `holding_rate` i in coins per coin and time.  `BadInput` for figures not above 0 or
    breaks out of order.

    >>> eoq_all_units(8, 0.3, 1300, [(0, 0.75), (400, 0.72), (800, 0.68)]).quantity
    800.0
    """
    lowest = {"every price": min((price for _, price in breaks), default=0.0)}
    _above_zero(fixed=fixed, holding_rate=holding_rate, demand=demand, **lowest)
    starts = [start for start, _ in breaks]
    if starts[0] != 0 or any(a >= b for a, b in pairwise(starts)):
        raise BadInput("The price breaks are out of order.", hint="Begin at 0 and let the quantities rise.")
    tried: list[OrderSize] = []
    for (start, price), end in zip(breaks, [*starts[1:], inf], strict=True):
        quantity = max(float(start), sqrt(2 * fixed * demand / (holding_rate * price)))
        if quantity < end:
            cost = price * demand + fixed * demand / quantity + holding_rate * price * quantity / 2
            tried.append(OrderSize(quantity, cost))
    return min(tried, key=lambda size: size.cost)


def _above_zero(**figures: float) -> None:
    for name, figure in figures.items():
        if not figure > 0:
            words = name.replace("_", " ").capitalize()
            raise BadInput(f"{words} must be above 0, not {figure}.", hint="Give a larger one.")
