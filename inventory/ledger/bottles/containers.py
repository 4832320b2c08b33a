"""Containers: a lot of a supply is so many full ones, and at most one that is open.

The first use opens one. What is in it becomes a lot of its own, of the same name, receipt and use-by, which carries
the day; the full ones stay sealed where they were. Of a lot that was never split (bought or counted in one sum)
quantity = full · net + what is in the open one. Quantities are thousandths of the part's unit.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from inventory.catalogue import Part, Supply, fold
from inventory.ledger.book import Lot
from inventory.measures import read_unit, show_date

_STATES: Final = frozenset({"", "open", "opened", "sealed", "unopened", "full", "new"})
"""Names of lots that only say whether they are open."""


def net_of(part: Part) -> int | None:
    """What one container of a supply that is weighed or measured out holds; None where it comes in none."""
    detail = part.detail
    if not isinstance(detail, Supply) or not detail.net or read_unit(part.unit).kind == "count":
        return None
    return detail.net


def is_opened_by_use(part: Part) -> bool:
    """Whether the first use of a container is worth a day in the book."""
    keeps = isinstance(part.detail, Supply) and part.detail.keeps_opened is not None
    return keeps or net_of(part) is not None


def full_and_open(part: Part, lot: Lot) -> tuple[int, int]:
    """How many full containers a lot has, and what is in its open one (0: none is open)."""
    net = net_of(part)
    if net is None:
        return 0, lot.quantity
    if lot.opened_on is None:
        return divmod(lot.quantity, net)
    full = max(-(-lot.quantity // net) - 1, 0)
    return full, lot.quantity - full * net


def to_open(part: Part, lot: Lot) -> int:
    """What the next use opens of a lot: the broached one, else a full one; 0 where it is open, or never opened."""
    if lot.opened_on is not None or not is_opened_by_use(part):
        return 0
    return full_and_open(part, lot)[1] or net_of(part) or lot.quantity


def opened_first(lots: Iterable[Lot]) -> tuple[Lot, ...]:
    """Nobody opens a second one while the first is open; else in the order given."""
    return tuple(sorted(lots, key=lambda lot: lot.opened_on is None))


def called(lot: Lot) -> str:
    """What a lot is called beside its part: its name, with the day it was opened."""
    opened = f"opened {show_date(lot.opened_on)}" if lot.opened_on else ""
    if fold(lot.name) in _STATES:
        return opened or lot.name or f"lot {lot.id}"
    return ", ".join(word for word in (lot.name, opened) if word)
