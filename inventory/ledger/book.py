"""The book as it stands: balances, lots, claims, what is due in. A frozen picture of one moment."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from itertools import compress
from typing import Literal

from inventory.catalogue import Order, fold
from inventory.measures import Length

# What a line of the book moves. "shelf" is stock in lots with its cost; "claim" sets shelf stock aside for an
# order; "due" is bought and not arrived; "due claim" sets that aside; "to buy" is promised and not yet bought.
Account = Literal["shelf", "claim", "due", "due claim", "to buy"]
FIELDS: Mapping[Account, str] = {
    "shelf": "on_hand",
    "claim": "claimed",
    "due": "due_in",
    "due claim": "due_claimed",
    "to buy": "to_buy",
}
"""The field of a `Balance` that the lines of an account add up to."""
ACCOUNTS: tuple[Account, ...] = tuple(FIELDS)
FOR_ORDERS: tuple[Account, ...] = ("claim", "due claim", "to buy")
"""Accounts whose lines are kept by order."""


@dataclass(frozen=True, slots=True)
class Lot:
    """What one receipt brought, as far as it is left: quantity in thousandths, cost in minor units.

    `claimed` counts only what is claimed from this very lot (measured blanks, opened bottles).
    `cost_from` says how far the cost is known (`ledger.costs`): 0 said, 1 by the offer, 2 unknown.
    """

    id: int
    part: str
    name: str
    received_on: date | None
    quantity: int
    cost: int
    claimed: int = 0
    opened_on: date | None = None
    use_by: date | None = None
    smallest_diameter: Length | None = None
    length: Length | None = None
    cost_from: int = 0

    @property
    def measured(self) -> bool:
        """Whether this is a one-off with its own size."""
        return self.smallest_diameter is not None and self.length is not None


@dataclass(frozen=True, slots=True)
class Balance:
    """One part's totals, thousandths of its unit."""

    on_hand: int = 0
    claimed: int = 0
    due_in: int = 0
    due_claimed: int = 0
    to_buy: int = 0

    @property
    def unclaimed(self) -> int:
        """On the shelf and nobody's, what is out of date too; what can be promised says `availability.free`."""
        return self.on_hand - self.claimed


@dataclass(frozen=True, slots=True)
class Claim:
    """A quantity set aside, or still to be bought, for an order."""

    order: str
    part: str
    account: Account
    quantity: int
    lot: int | None = None
    purchase: int | None = None


@dataclass(frozen=True, slots=True)
class DueIn:
    """One bought line that has not arrived in full; cost: shop minor units the open quantity is expected to cost.

    pack, code: the offer it was bought by, thousandths of the part's unit in one pack and the supplier's own code.
    """

    purchase: int
    part: str
    supplier: str
    quantity: int
    cost: int
    expected_on: date | None
    claimed: int = 0
    pack: int = 1000
    code: str = ""


@dataclass(frozen=True, slots=True)
class _Found:
    """The claims by folded order and by folded part, each in the order of the book, and the folded order of each."""

    by_order: Mapping[str, tuple[Claim, ...]]
    by_part: Mapping[str, tuple[Claim, ...]]
    orders: tuple[str, ...]

    @classmethod
    def of(cls, claims: Iterable[Claim]) -> _Found:
        """Every claim looked at once."""
        by_order: dict[str, list[Claim]] = defaultdict(list)
        by_part: dict[str, list[Claim]] = defaultdict(list)
        orders = []
        for claim in claims:
            key = fold(claim.order)
            orders.append(key)
            by_order[key].append(claim)
            by_part[fold(claim.part)].append(claim)
        return cls(
            {key: tuple(some) for key, some in by_order.items()},
            {key: tuple(some) for key, some in by_part.items()},
            tuple(orders),
        )


@dataclass(frozen=True, slots=True)
class Book:
    """What is there. Keys of `balances` and `lots` are folded part names; lots come first in, first out.

    `version` counts booked documents: a proposal made from this picture is only booked on top of it. late: by folded
    supplier, how many days after the day it was expected each of its last parcels came.
    """

    version: int = 0
    balances: Mapping[str, Balance] = field(default_factory=dict)
    lots: Mapping[str, tuple[Lot, ...]] = field(default_factory=dict)
    claims: tuple[Claim, ...] = ()
    due: tuple[DueIn, ...] = ()
    orders: Mapping[str, Order] = field(default_factory=dict)
    to_count: tuple[str, ...] = ()
    late: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    _found: _Found | None = field(default=None, init=False, repr=False, compare=False)

    def claims_of(self, order: str) -> tuple[Claim, ...]:
        """Everything set aside or still to buy for one order."""
        return self._claims().by_order.get(fold(order), ())

    def claims_on(self, part: str) -> tuple[Claim, ...]:
        """Everything set aside or still to buy of one part."""
        return self._claims().by_part.get(fold(part), ())

    def claims_beside(self, order: str) -> tuple[Claim, ...]:
        """The claims of everybody else."""
        return tuple(compress(self.claims, map(fold(order).__ne__, self._claims().orders)))

    def _claims(self) -> _Found:
        # Found once a book: with many open orders, looking through all claims for each order and part is what is slow.
        if self._found is None:
            object.__setattr__(self, "_found", _Found.of(self.claims))
        assert self._found is not None  # noqa: S101 - just set
        return self._found

    def balance(self, part: str) -> Balance:
        """The totals of a part; zeros where nothing was ever booked."""
        return self.balances.get(fold(part), Balance())

    def lots_of(self, part: str) -> tuple[Lot, ...]:
        """The lots of a part that still hold something, oldest first."""
        return self.lots.get(fold(part), ())
