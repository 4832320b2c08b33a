"""What moved stock between two days, sorted into few kinds of which the year's end is made.

opening + bought + found + made - used - lost - sold - given - lent + corrected = closing, for quantities and for costs,
of every part and of all together: each line of the shelf falls into exactly one kind, and what a line of no known word
says is sorted by its sign. Made: finished pieces that came onto the shelf at the cost of what went into them, and parts
saved from spoiled ones. Lent: what came back counts against it. Corrected: what moves nothing in or out of the shop,
as when two names became one, or when it was said later what something cost.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Final, Literal

from inventory.ledger.costs import POSTAGE, SAID_LATER
from inventory.ledger.lending import BACK, LENT
from inventory.ledger.past.shelf import MovedSum, PastLot

Kind = Literal["bought", "found", "made", "used", "lost", "sold", "given", "lent", "corrected"]
COMES: Final[tuple[Kind, ...]] = ("bought", "found", "made")
GOES: Final[tuple[Kind, ...]] = ("used", "lost", "sold", "given", "lent")
KINDS: Final[tuple[Kind, ...]] = (*COMES, *GOES, "corrected")
"""As they are listed; what comes counts up, what goes counts down, what is corrected has a sign of its own."""

_BOTH_WAYS: Final[Mapping[str, Kind]] = {
    LENT: "lent", BACK: "lent", "merged": "corrected", "opened": "corrected", "moved": "corrected",
    SAID_LATER: "corrected", POSTAGE: "bought",
}  # fmt: skip
_IN: Final[Mapping[str, Kind]] = {"arrived": "bought", "added": "bought", "made": "made", "saved": "made"}
_OUT: Final[Mapping[str, Kind]] = {
    "used": "used", "robbed": "used", "repair": "used", "used up": "used", "weighed": "used",
    "handed over": "sold", "given away": "given",
}  # fmt: skip


def kind_of(word: str, quantity: int) -> Kind:
    """The kind of a line of the shelf with this word that moves so much."""
    if (both := _BOTH_WAYS.get(word)) or not quantity:
        return both or "corrected"
    return _IN.get(word, "found") if quantity > 0 else _OUT.get(word, "lost")


@dataclass(frozen=True, slots=True)
class Flow:
    """One part's way from the first day to the last: (thousandths, minor units) of each.

    moved: by kind, as the lines have it: what goes is negative.
    """

    opening: tuple[int, int] = (0, 0)
    moved: Mapping[Kind, tuple[int, int]] = field(default_factory=dict)
    closing: tuple[int, int] = (0, 0)

    def of(self, kind: Kind) -> tuple[int, int]:
        """What a kind comes to, positive for what it usually is: bought 3 is 3, used 3 is 3."""
        quantity, cost = self.moved.get(kind, (0, 0))
        return (-quantity, -cost) if kind in GOES else (quantity, cost)


def flows(closing: Iterable[PastLot], moved: Iterable[MovedSum]) -> dict[str, Flow]:
    """Each part that is there or moved, by folded name; the opening is worked out by the identity above."""
    ended: dict[str, tuple[int, int]] = {}
    for lot in closing:
        quantity, cost = ended.get(lot.part, (0, 0))
        ended[lot.part] = quantity + lot.quantity, cost + lot.cost
    by_kind: dict[str, dict[Kind, tuple[int, int]]] = {}
    for one in moved:
        mine, kind = by_kind.setdefault(one.part, {}), kind_of(one.word, one.quantity)
        quantity, cost = mine.get(kind, (0, 0))
        mine[kind] = quantity + one.quantity, cost + one.cost
    return {key: _flow(by_kind.get(key, {}), ended.get(key, (0, 0))) for key in sorted({*ended, *by_kind})}


def _flow(moved: Mapping[Kind, tuple[int, int]], closing: tuple[int, int]) -> Flow:
    quantity, cost = (sum(one[of] for one in moved.values()) for of in (0, 1))
    return Flow((closing[0] - quantity, closing[1] - cost), moved, closing)
