"""What went to customers and what left the shelf for it, as the entries say."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Final, Literal

if TYPE_CHECKING:
    from inventory.ledger.documents.proposal import Expense

CostClass = Literal["materials", "supplies", "packaging", "tools", "piece"]
"""What a part is to a piece's cost; a finished piece is made of the others."""
OF_THE_PIECE: Final = frozenset({"refill", "spare fitting"})
"""Types of supplies that go into a piece whole: they are materials."""


@dataclass(frozen=True, slots=True)
class Handed:
    """Pieces that one entry handed to a customer. order: folded name; word: the kind of the entry."""

    document: int
    on: date
    word: str
    order: str
    pieces: int


@dataclass(frozen=True, slots=True)
class WentOut:
    """What left the shelf by one entry for one order (None: for none), minor units, positive where it went.

    made_in: of finished pieces the entry that brought them; None for everything else.
    """

    document: int
    order: str | None
    of: CostClass
    word: str
    cost: int
    made_in: int | None = None


@dataclass(frozen=True, slots=True)
class Gift:
    """Finished pieces that were given away. part: folded name."""

    document: int
    on: date
    part: str
    pieces: int


@dataclass(frozen=True, slots=True)
class PastSales:
    """Everything two days and those between them tell of. on: the day of each entry, by number.

    makings: by entry and class of cost what the good pieces took, of every entry that made any, whenever it was;
    sessions: what such an entry's session was called. unknown: names of parts whose cost nobody knows and that left.
    expenses: what was spent beside parts; sold_off: of the
    orders they were for those that were sold off the shelf.
    """

    handed: Sequence[Handed]
    gifts: Sequence[Gift]
    costs: Sequence[WentOut]
    makings: Mapping[int, Mapping[CostClass, int]]
    sessions: Mapping[int, str]
    on: Mapping[int, date]
    unknown: Sequence[str]
    expenses: Sequence[Expense] = ()
    sold_off: frozenset[str] = frozenset()
