"""Cost layers: first in, first out, exact to the last minor unit.

What leaves a lot takes its share of the lot's cost, cost·q // quantity, and the remainder stays; whoever takes the
last of it takes all that is left. So in = out + left holds for every lot, always.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from inventory.ledger.book import Lot


@dataclass(frozen=True, slots=True)
class Take:
    """So much out of one lot, at so much cost (thousandths; minor units; both positive)."""

    lot: Lot
    quantity: int
    cost: int


def share(quantity: int, cost: int, taken: int) -> int:
    """The cost of `taken` out of `quantity` that cost `cost`: cost·taken // quantity (0 ≤ taken ≤ quantity)."""
    return cost if taken == quantity else cost * taken // quantity


def apportion(total: int, weights: Sequence[int]) -> tuple[int, ...]:
    """A whole sum in proportion to weights, to the last coin, by the largest remainders (ties: the earlier one).

    Share i is the floor of total·w_i / Σw, or one more; so the shares sum to `total` and each lies within one coin of
    its exact share (Hamilton's method; Balinski & Young, *Fair Representation*, 2nd ed. 2001; from memory). Weights
    are 0 or more; where all are 0 nothing is shared.
    """
    whole = sum(weights)
    if not whole:
        return (0,) * len(weights)
    if len(weights) == 1:  # most sales are of one session, most parcels of one sender
        return (total,)
    shares = [total * weight // whole for weight in weights]
    by_rest = sorted(range(len(weights)), key=lambda at: -(total * weights[at] % whole))
    for at in by_rest[: total - sum(shares)]:
        shares[at] += 1
    return tuple(shares)


def draw(lots: Iterable[Lot], quantity: int, *, named: int | None = None) -> tuple[tuple[Take, ...], int]:
    """Takes for `quantity`, oldest lot first, and what is missing.

    Without `named`, stock claimed from a very lot (a measured blank) is left alone; with it only that lot is drawn.
    """
    takes: list[Take] = []
    for lot in lots:
        if quantity <= 0:
            break
        if named is not None and lot.id != named:
            continue
        there = lot.quantity - (0 if named is not None else lot.claimed)
        taken = min(there, quantity)
        if taken > 0:
            takes.append(Take(lot, taken, share(lot.quantity, lot.cost, taken)))
            quantity -= taken
    return tuple(takes), max(quantity, 0)


def after(lots: Iterable[Lot], takes: Iterable[Take]) -> tuple[Lot, ...]:
    """The lots as they stand once the takes are gone; emptied ones drop out."""
    gone = {take.lot.id: take for take in takes}
    left = []
    for lot in lots:
        take = gone.get(lot.id)
        now = replace(lot, quantity=lot.quantity - take.quantity, cost=lot.cost - take.cost) if take else lot
        if now.quantity:
            left.append(now)
    return tuple(left)
