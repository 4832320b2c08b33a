"""Prices, margins and what a piece contributes, in exact fractions.

    margin g = (P - C) / P     markup m = (P - C) / C     P = C / (1 - g) = C · (1 + m)     m = g / (1 - g)
    contribution k = P - V     pieces for a profit = ⌈(F + profit) / k⌉, for F alone the break-even

P: price; C: cost; V: what each piece more costs; F: what is paid once. Rates of markup on cost and on the selling
price: Centennial College, *Math help: Markup* (read); contribution and break-even: OpenStax, *Principles of Accounting*
vol. 2, §3.1 to 3.3, as adapted in Penn State's open textbook of ACCTG 211, §7.2 (read).
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil


def price_by_margin(cost: Fraction, margin: Fraction) -> int:
    """The lowest whole price of which `margin` (0 ≤ g < 1) is left over the cost."""
    return ceil(cost / (1 - margin))


def price_by_multiple(cost: Fraction, times: Fraction) -> int:
    """So many times the cost, rounded up to a whole one."""
    return ceil(cost * times)


def margin_of(price: int, cost: Fraction) -> Fraction | None:
    """The share of the price left over the cost; None of a price of nothing."""
    return (price - cost) / price if price else None


def markup_of(price: int, cost: Fraction) -> Fraction | None:
    """What is put on the cost, as a share of it; None of a cost of nothing."""
    return (price - cost) / cost if cost else None


def pieces_for(fixed: int, price: int, variable: Fraction, profit: int = 0) -> int | None:
    """The fewest pieces that pay what is paid once and leave `profit`; None where a piece contributes nothing."""
    contribution = price - variable
    if contribution <= 0:
        return None
    return max(ceil((fixed + profit) / contribution), 0)
