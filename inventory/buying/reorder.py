"""How much to order at a time, and at what stock to order again.  Floats: these are estimates, never book entries.

Symbols: d demand per unit of time, K cost of placing one order, h cost of holding one unit for one unit of time,
i holding cost per coin's worth and unit of time, c price of a unit, Q order quantity, L lead time.
Source of the formulas: Snyder & Shen, Fundamentals of Supply Chain Theory, 2nd ed., sections 3.2, 3.4 and 4.3.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf, sqrt
from statistics import NormalDist

from inventory.errors import BadInput


@dataclass(frozen=True, slots=True)
class OrderSize:
    """A quantity to order, in units of the part, and what that costs per unit of time."""

    quantity: float
    cost: float


def eoq(fixed: float, holding: float, demand: float) -> OrderSize:
    """Economic order quantity: Q = sqrt(2 K d / h), cost per time K d / Q + h Q / 2 = sqrt(2 K d h).

    `fixed` K in coins per order, `holding` h in coins per unit and time, `demand` d in units per time; all above 0,
    else `BadInput`.

    >>> round(eoq(8, 0.225, 1300).quantity, 4)
    304.0468
    """
    _above_zero(fixed=fixed, holding=holding, demand=demand)
    return OrderSize(sqrt(2 * fixed * demand / holding), sqrt(2 * fixed * demand * holding))


def eoq_all_units(
    fixed: float, holding_rate: float, demand: float, breaks: Sequence[tuple[float, float]]
) -> OrderSize:
    """Economic order quantity when the price of every unit falls at some quantities (all-units discount).

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


def reorder_level(rate: float, rate_sd: float, lead: float, service: float, lead_sd: float = 0.0) -> float:
    """The stock at which to order again so that it lasts until delivery with probability `service`.

    r = d L + z sqrt(L s^2 + d^2 t^2), z the normal quantile of the service level; `rate` d and `rate_sd` s in units per
    unit of time, `lead` L and `lead_sd` t in units of time.  Demand in separate times is taken as independent and
    normal.  `BadInput` for a service level outside 0 to 1 or a figure below 0.

    >>> round(reorder_level(50, 8, 4, 0.7954545454545454), 2)
    213.21
    """
    if not 0 < service < 1:
        raise BadInput(
            f"A service level of {service} cannot be.", hint="Give a share between 0 and 1, such as 0.95."
        )
    if min(rate, rate_sd, lead, lead_sd) < 0:
        raise BadInput("Rates and lead times cannot be below 0.", hint="Give figures of 0 or more.")
    return rate * lead + NormalDist().inv_cdf(service) * sqrt(lead * rate_sd**2 + rate**2 * lead_sd**2)


def _above_zero(**figures: float) -> None:
    for name, figure in figures.items():
        if not figure > 0:
            words = name.replace("_", " ").capitalize()
            raise BadInput(f"{words} must be above 0, not {figure}.", hint="Give a larger one.")
