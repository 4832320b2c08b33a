"""What a rehearsal begins with: the shelf, what comes, what is promised, what is expected, and how parts are bought.

Parts are numbers 0, 1, …; quantities whole thousandths of a part's unit. Money is
whole minor units of the shop; what stock is worth is in millionths of them a thousandth.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inventory.planning.rehearsal.dice import Ints

NEVER = -(2**31)
"""A reorder level no stock falls to."""
ALWAYS_POSTED = 2**62
"""Goods from which postage is free, where it never is."""
SCALE = 10**6
TIME = 8
"""Weeks a good or a bad time lasts."""


@dataclass(frozen=True, slots=True)
class Stream:
    """Orders that come at a rate nobody knows exactly: negative binomial, given how many came so far (Pólya's urn).

    expected: orders by week; shape: of the gamma law of the rate; rows: of `Recipes`, with shares; sizes: pieces an
    order, with shares; notice: weeks from asking to due, each as likely; market: whether each piece not there is a
    sale lost.
    """

    expected: Sequence[float]
    shape: float
    rows: Sequence[int]
    shares: Sequence[float]
    sizes: Sequence[int] = (1,)
    size_shares: Sequence[float] = (1.0,)
    notice: Sequence[int] = (0,)
    market: bool = False


@dataclass(frozen=True, slots=True)
class Recipe:
    """What one piece takes: (part, thousandths), and minutes. Also what a piece takes that is lost at some stage."""

    takes: Sequence[tuple[int, int]]
    minutes: int = 0


@dataclass(frozen=True, slots=True)
class MadeOf:
    """A kind of piece: its recipe when good; lost: share of starts that fail, with what each failure takes."""

    good: Recipe
    lost: Sequence[tuple[float, Recipe]] = ()
    finished: int = 0


@dataclass(frozen=True, slots=True)
class Owed:
    """An order that is promised: due at the end of a week; what is set aside or still to be bought for it."""

    due: int
    takes: Sequence[tuple[int, int]]
    minutes: int = 0


@dataclass(frozen=True, slots=True)
class UnderWay:
    """A parcel on its way: a part, how much, from whom, and the week it is expected in, were it not late."""

    part: int
    quantity: int
    week: int
    sender: int


@dataclass(frozen=True, slots=True)
class BoughtAs:
    """How a part is bought: packs of so many thousandths, at prices from so many packs of its group on.

    worth: of a thousandth, in millionths of a minor unit. steps: (packs from, price a pack), rising, the first from 0.
    """

    supplier: int
    group: int
    pack: int
    steps: Sequence[tuple[int, int]]
    worth: int = 0


@dataclass(frozen=True, slots=True)
class Sender:
    """A supplier. postage below `free_from` of goods; weeks: from order to arrival, each as likely, at least 1."""

    postage: int
    free_from: int = ALWAYS_POSTED
    weeks: Sequence[int] = (1,)


@dataclass(frozen=True, slots=True)
class Scene:
    """start: what is good on the shelf; hands: by part thousandths really used for one written, each as likely.

    hours: minutes of work by week, None where they are no limit. swings: thousandths of the usual that all custom of
    a good or a bad time may be, each as likely; a time lasts `TIME` weeks. What markets bring does not go by them.
    """

    weeks: int
    start: Sequence[int]
    bought: Sequence[BoughtAs]
    senders: Sequence[Sender]
    kinds: Sequence[MadeOf]
    streams: Sequence[Stream]
    owed: Sequence[Owed] = ()
    coming: Sequence[UnderWay] = ()
    hands: Mapping[int, Sequence[int]] = field(default_factory=dict)
    hours: Sequence[int] | None = None
    swings: Sequence[int] = (1000,)


@dataclass(frozen=True, slots=True)
class BuyingWay:
    """A way of buying: at the end of each week it looks, what is at or below its level is ordered up to.

    Stock counts as what is there and comes, less what is asked for. level: `NEVER` for what is not bought; ahead: what
    both levels are raised by in some week, for a market.
    """

    name: str
    level: Sequence[int]
    up_to: Sequence[int]
    looks: Sequence[bool]
    ahead: Mapping[int, Sequence[int]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Table:
    """All recipes as one table of rows: those of kinds first, then those of what is lost.

    first: where each row's parts begin; lost: by kind the rows of failures.
    """

    first: Ints
    parts: Ints
    units: Ints
    minutes: Ints
    lost: Sequence[Sequence[int]]


def table_of(kinds: Sequence[MadeOf]) -> Table:
    """The recipes of all kinds as one table."""
    import numpy as np

    rows = [kind.good for kind in kinds]
    lost: list[list[int]] = []
    for kind in kinds:
        lost.append(list(range(len(rows), len(rows) + len(kind.lost))))
        rows += [recipe for _, recipe in kind.lost]
    takes = [one for row in rows for one in row.takes]
    return Table(
        np.cumsum([0, *(len(row.takes) for row in rows)]),
        np.array([part for part, _ in takes], dtype=np.int64),
        np.array([units for _, units in takes], dtype=np.int64),
        np.array([row.minutes for row in rows], dtype=np.int64),
        lost,
    )
