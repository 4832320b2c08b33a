"""What can still be promised, and from when: the shelf, what comes, and what is already promised, day by day.

Periods are positions in sequences of equal length; quantities are integers in any one unit.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import accumulate, pairwise

from inventory.catalogue import fold
from inventory.ledger.book import Book


def projected(on_hand: int, receipts: Sequence[int], gross: Sequence[int]) -> tuple[int, ...]:
    """The balance after every period: on hand + receipts − gross so far (netting; Orlicky, *Material
    Requirements Planning*)."""
    moves = (came - went for came, went in zip(receipts, gross, strict=True))
    return tuple(accumulate(moves, initial=on_hand))[1:]


def net_requirements(on_hand: int, receipts: Sequence[int], gross: Sequence[int]) -> tuple[int, ...]:
    """What each period lacks beyond what earlier periods lacked: the growth of the shortfall max(0, −balance)."""
    lacking = [0, *(max(0, -balance) for balance in projected(on_hand, receipts, gross))]
    return tuple(max(0, now - before) for before, now in pairwise(lacking))


def available_to_promise(on_hand: int, receipts: Sequence[int], orders: Sequence[int]) -> tuple[int, ...]:
    """Discrete available-to-promise: in the first period and in each with a receipt, what comes less the orders until
    the next receipt; 0 elsewhere (Orlicky's *MRP*, 3rd ed., figure 19-4)."""
    starts = [at for at in range(len(receipts)) if at == 0 or receipts[at]]
    ends = [*starts[1:], len(receipts)]
    done = [0] * len(receipts)
    for start, end in zip(starts, ends, strict=False):
        done[start] = receipts[start] + (on_hand if start == 0 else 0) - sum(orders[start:end])
    return tuple(done)


def free_by_day(book: Book, part: str, today: date) -> tuple[tuple[date, int], ...]:
    """From which day how much of a part can be promised, thousandths: the days on which it changes, today first.

    The cumulative available-to-promise, and never more than any later day leaves: what is promised for next week is not
    free this week. Claims that wait to be bought count against what comes unclaimed.
    """
    receipts: dict[date, int] = {}
    orders: dict[date, int] = {}
    for row in book.due:
        if fold(row.part) == fold(part) and row.expected_on:
            day = max(row.expected_on, today)
            receipts[day] = receipts.get(day, 0) + row.quantity
    for claim in book.claims_on(part):
        order = book.orders.get(fold(claim.order))
        day = max(order.due, today) if order else today
        orders[day] = orders.get(day, 0) + claim.quantity
    days = sorted({today, *receipts, *orders})
    came = [receipts.get(day, 0) for day in days]
    went = [orders.get(day, 0) for day in days]
    free = list(projected(book.balance(part).on_hand, came, went))
    for at in range(len(free) - 2, -1, -1):
        free[at] = min(free[at], free[at + 1])
    changes = [at for at in range(len(days)) if at == 0 or free[at] != free[at - 1]]
    return tuple((days[at], max(free[at], 0)) for at in changes)
