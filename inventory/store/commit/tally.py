"""What one document adds to every balance, and the check that nothing would go below what is there."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field

from inventory.ledger.book import FIELDS, Account

ClaimKey = tuple[int, int, Account, int | None, int | None]
"""Order, part, account, lot, purchase, all by number."""

ON_HAND, CLAIMED, DUE_IN, DUE_CLAIMED, TO_BUY = range(5)
TOTALS = tuple(FIELDS.values())
LAYER = ("quantity", "cost", "claimed")
LOT_LAYER = (*LAYER, "cost_from")
_TOTAL_OF = {account: TOTALS.index(name) for account, name in FIELDS.items()}


def _three() -> defaultdict[int, list[int]]:
    return defaultdict(lambda: [0, 0, 0])


def _four() -> defaultdict[int, list[int]]:
    return defaultdict(lambda: [0, 0, 0, 0])


def _five() -> defaultdict[int, list[int]]:
    return defaultdict(lambda: [0, 0, 0, 0, 0])


@dataclass(slots=True)
class Tally:
    """Sums of a document's lines: per part the five totals, per lot and purchase quantity, cost and claimed.

    Of a lot also the mark of where its cost comes from.
    """

    parts: defaultdict[int, list[int]] = field(default_factory=_five)
    lots: defaultdict[int, list[int]] = field(default_factory=_four)
    due: defaultdict[int, list[int]] = field(default_factory=_three)
    claims: defaultdict[ClaimKey, int] = field(default_factory=lambda: defaultdict(int))
    part_of_lot: dict[int, int] = field(default_factory=dict)
    part_of_due: dict[int, int] = field(default_factory=dict)

    def add(
        self,
        account: Account,
        part: int,
        quantity: int,
        cost: int,
        lot: int | None,
        purchase: int | None,
        order: int | None,
        cost_from: int = 0,
    ) -> None:
        """Add one line. Raises ValueError where it does not say what its account needs: a bug of the proposer."""
        self.parts[part][_TOTAL_OF[account]] += quantity
        if lot is not None and self.part_of_lot.setdefault(lot, part) != part:
            raise ValueError(f"lot {lot} is of another part")
        if purchase is not None and self.part_of_due.setdefault(purchase, part) != part:
            raise ValueError(f"purchase {purchase} is of another part")
        if account == "shelf":
            _add(self.lots, lot, quantity, cost, account)[3] += cost_from
        elif account == "due":
            _add(self.due, purchase, quantity, cost, account)
        else:
            self._claim(account, part, quantity, lot, purchase, order)

    def _claim(
        self,
        account: Account,
        part: int,
        quantity: int,
        lot: int | None,
        purchase: int | None,
        order: int | None,
    ) -> None:
        if order is None:
            raise ValueError(f"a line of “{account}” names no order")
        self.claims[order, part, account, lot, purchase] += quantity
        if account == "claim" and lot is not None:
            self.lots[lot][2] += quantity
        if account == "due claim" and purchase is not None:
            self.due[purchase][2] += quantity


def _add(
    to: defaultdict[int, list[int]], number: int | None, quantity: int, cost: int, account: Account
) -> list[int]:
    if number is None:
        raise ValueError(f"a line of “{account}” names no {'lot' if account == 'shelf' else 'purchase'}")
    sums = to[number]
    sums[0] += quantity
    sums[1] += cost
    return sums
