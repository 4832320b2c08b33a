"""What goes to a supplier now and what waits for the next shopping trip: a two-stage programme by scenarios.

First stage, before anybody knows what will be asked for: whom to send to now (y_s), whole packs from each (n_j). Second
stage, in each course ω of what is asked for until the next trip: whom to send to then, and how much. The first stage is
the same in every course (non-anticipative; Birge and Louveaux, Introduction to Stochastic Programming, 2nd ed. (2011),
§2.4, from memory):

    min  Σ_s F_s (y_s − f_s) + Σ_j c_j n_j + 1/K Σ_ω [ the same of the next trip + lateness + shortage − worth left ]

f_s: free postage is reached. A promise is served now, on the next trip or later, each as late as its supplier's parcels
were; what is left after the next trip is worth what it saves later (`Stocked.worth`, falling with every slice).
Stated whole and given to HiGHS, with the gap it proves.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from inventory.solving import unheard

if TYPE_CHECKING:
    from inventory.planning.forecasting.arrays import Floats


@dataclass(frozen=True, slots=True)
class TripSupplier:
    """A supplier. postage, free_from and least (order) in coins; lead: days; late: days its parcels came later."""

    name: str
    postage: float
    free_from: float | None
    least: float
    lead: int
    late: Sequence[int] = (0,)

    def too_late(self, sent: float, days: float) -> float:
        """How much too late its parcels come, sent so many days from now, for what must be there in `days`: 1 each, and

        1 more for every `MONTH` of delay, on average.
        """
        delays = [sent + self.lead + one - days for one in self.late]
        return sum(1 + delay / MONTH for delay in delays if delay > 0) / len(delays)


@dataclass(frozen=True, slots=True)
class TripOffer:
    """Where a part can be had: supplier by number, coins a unit, units a pack."""

    sender: int
    price: float
    pack: float


@dataclass(frozen=True, slots=True)
class Stocked:
    """One part, in its unit. stock: free now, what is due in for nobody with it; never below 0.

    soon: units asked for until the next trip, by course; before: until what that trip brings is there; short: coins one
    of these costs that is not there; worth: slices (units, coins each) of what is left after the next trip, falling.
    """

    sources: tuple[TripOffer, ...]
    stock: float
    soon: Floats
    before: Floats
    short: float
    worth: Sequence[tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Promised:
    """Units of a part (by number) an order lacks. days: from now, by which they must be there; cost: of it late."""

    part: int
    order: str
    units: float
    days: float
    cost: float


@dataclass(frozen=True, slots=True)
class Trip:
    """What to do. packs: (part, source of it, packs) to buy now; now: by promise whether it goes now;

    send: by supplier whether it is sent to now; then: by supplier the share of courses in which the next trip sends to
    it; likely: by part the supplier most of it is bought from then, None for none; cost and bound: coins, of the whole
    programme, expected.
    """

    packs: tuple[tuple[int, int, int], ...]
    now: tuple[bool, ...]
    send: tuple[bool, ...]
    then: tuple[float, ...]
    likely: tuple[int | None, ...]
    cost: float
    bound: float

    @property
    def proven(self) -> bool:
        """Whether no choice costs less but for `GAP`."""
        return self.cost - self.bound <= GAP * max(abs(self.cost), 1.0) + 1e-6


MONTH = 28
"""Days by which what is late already costs as much again (an assumption): what is late hurries too."""
GAP = 5e-3
"""Share of the cost by which a choice may be dearer than the best one."""
LATER = 1.1
"""What is bought later still costs its price, and a share of the postage of a later parcel (an assumption)."""


@dataclass(slots=True)
class _Model:
    """Rows and columns as they are written down, in no order."""

    costs: list[float] = field(default_factory=list)
    most: list[float] = field(default_factory=list)
    whole: list[int] = field(default_factory=list)
    rows: list[int] = field(default_factory=list)
    columns: list[int] = field(default_factory=list)
    values: list[float] = field(default_factory=list)
    low: list[float] = field(default_factory=list)
    high: list[float] = field(default_factory=list)

    def column(self, cost: float, most: float = float("inf"), *, whole: bool = False) -> int:
        """A new one, at least 0."""
        self.costs.append(cost)
        self.most.append(most)
        self.whole.append(int(whole))
        return len(self.costs) - 1

    def row(
        self, terms: Sequence[tuple[int, float]], low: float = -float("inf"), high: float = float("inf")
    ) -> None:
        """A new one: low ≤ Σ value · column ≤ high."""
        for column, value in terms:
            self.rows.append(len(self.low))
            self.columns.append(column)
            self.values.append(value)
        self.low.append(low)
        self.high.append(high)


def two_trips(
    senders: Sequence[TripSupplier],
    parts: Sequence[Stocked],
    promises: Sequence[Promised],
    days: float,
    *,
    seconds: float = 10.0,
) -> Trip | None:
    """The choice that is expected to cost least. days: to the next trip; None where none was found in time."""
    model = _Model()
    many = max((len(one.soon) for one in parts), default=1)
    first = _stage(model, senders, parts, promises, 1.0, whole=True)
    seconds_stage = [_stage(model, senders, parts, promises, 1 / many, whole=False) for _ in range(many)]
    for course, then in enumerate(seconds_stage):
        _course(model, senders, parts, promises, (first, then), course, 1 / many, days)
    solved = _solved(model, seconds)
    if solved is None:
        return None
    values, cost, bound = solved
    packs = tuple(
        (at, which, round(values[column]))
        for (at, which), column in first.buys.items()
        if values[column] > 0.5
    )
    now = tuple(
        sum(values[column] for (i, _), column in first.serves.items() if i == at) > 0.5
        for at in range(len(promises))
    )
    send = tuple(values[column] > 0.5 for column in first.sends)
    later = tuple(
        sum(values[one.sends[at]] > 0.5 for one in seconds_stage) / many for at in range(len(senders))
    )
    likely = tuple(_likely(parts, at, seconds_stage, values) for at in range(len(parts)))
    return Trip(packs, now, send, later, likely, cost, bound)


def _likely(
    parts: Sequence[Stocked], at: int, stages: Sequence[_Stage], values: Sequence[float]
) -> int | None:
    sums: dict[int, float] = {}
    for which, one in enumerate(parts[at].sources):
        units = sum(values[then.buys[at, which]] for then in stages) * one.pack
        sums[one.sender] = sums.get(one.sender, 0.0) + units
    best = max(sums, key=lambda number: sums[number], default=None)
    return best if best is not None and sums[best] > 1e-6 else None


@dataclass(slots=True)
class _Stage:
    """Columns of one trip: sends by supplier; buys by (part, source), in packs; serves by (promise, source)."""

    sends: list[int]
    buys: dict[tuple[int, int], int]
    serves: dict[tuple[int, int], int]


def _stage(
    model: _Model,
    senders: Sequence[TripSupplier],
    parts: Sequence[Stocked],
    promises: Sequence[Promised],
    share: float,
    *,
    whole: bool,
) -> _Stage:
    """Whom to send to, how many packs, and what they serve; in a share of all courses."""
    sends = [model.column(share * one.postage, 1.0, whole=True) for one in senders]
    buys, goods = dict[tuple[int, int], int](), list[list[tuple[int, float]]]()
    for _ in senders:
        goods.append([])
    mine = _by_part(parts, promises)
    for at, part in enumerate(parts):
        most = (
            sum(promises[i].units for i in mine[at])
            + float(part.before.max(initial=0.0))
            + sum(w for w, _ in part.worth)
        )
        for which, one in enumerate(part.sources):
            packs = int(most / one.pack) + 1
            column = model.column(share * one.price * one.pack, packs, whole=whole)
            model.row([(column, 1.0), (sends[one.sender], -packs)], high=0.0)
            buys[at, which] = column
            goods[one.sender].append((column, one.price * one.pack))
    _terms(model, senders, sends, goods, share)
    serves = {}
    for i, want in enumerate(promises):
        for which, _ in enumerate(parts[want.part].sources):
            serves[i, which] = model.column(0.0)
    for (at, which), column in buys.items():
        taken = [(serves[i, which], -promises[i].units) for i in mine[at]]
        if taken:
            model.row([(column, parts[at].sources[which].pack), *taken], low=0.0)
    return _Stage(sends, buys, serves)


def _by_part(parts: Sequence[Stocked], promises: Sequence[Promised]) -> Sequence[Sequence[int]]:
    """Of each part the promises that lack it, by number."""
    found: list[list[int]] = [[] for _ in parts]
    for i, want in enumerate(promises):
        found[want.part].append(i)
    return found


def _terms(
    model: _Model,
    senders: Sequence[TripSupplier],
    sends: Sequence[int],
    goods: Sequence[Sequence[tuple[int, float]]],
    share: float,
) -> None:
    """Free postage, and minimum orders."""
    for number, sender in enumerate(senders):
        if sender.free_from is not None and sender.postage > 0:
            free = model.column(-share * sender.postage, 1.0, whole=True)
            model.row([(free, 1.0), (sends[number], -1.0)], high=0.0)
            model.row([*goods[number], (free, -sender.free_from)], low=0.0)
        if sender.least > 0:
            model.row([*goods[number], (sends[number], -sender.least)], low=0.0)


def _bought(parts: Sequence[Stocked], stage: _Stage, at: int) -> list[tuple[int, float]]:
    return [(stage.buys[at, which], one.pack) for which, one in enumerate(parts[at].sources)]


def _course(
    model: _Model,
    senders: Sequence[TripSupplier],
    parts: Sequence[Stocked],
    promises: Sequence[Promised],
    stages: tuple[_Stage, _Stage],
    course: int,
    share: float,
    days: float,
) -> None:
    """What one course asks for, and what it is late with, short of and left with."""
    first, then = stages
    _late(model, senders, parts, promises, stages, share, days)
    wanted = _by_part(parts, promises)
    for at, part in enumerate(parts):
        soon, before = (float(np_row[course]) for np_row in (part.soon, part.before))
        mine = wanted[at]

        def serves(
            stage: _Stage, mine: Sequence[int] = mine, part: Stocked = part
        ) -> list[tuple[int, float]]:
            return [
                (stage.serves[i, which], -promises[i].units)
                for i in mine
                for which in range(len(part.sources))
            ]

        if before > part.stock and part.short > 0:
            lacks = model.column(share * part.short)
            model.row([(lacks, 1.0), *_bought(parts, first, at), *serves(first)], low=before - part.stock)
        slices = [model.column(-share * coins, units) for units, coins in part.worth]
        slices.append(model.column(0.0))
        owed = model.column(share * (part.short + max((coins for _, coins in part.worth), default=0.0)))
        all_ = [*_bought(parts, first, at), *_bought(parts, then, at), *serves(first), *serves(then)]
        left = soon - part.stock
        model.row([*all_, (owed, 1.0), *((one, -1.0) for one in slices)], low=left, high=left)


def _late(
    model: _Model,
    senders: Sequence[TripSupplier],
    parts: Sequence[Stocked],
    promises: Sequence[Promised],
    stages: tuple[_Stage, _Stage],
    share: float,
    days: float,
) -> None:
    """Every promise is served now, then or later; an order is as late as the latest of its parts."""
    orders = {want.order: want.cost for want in promises}
    late = {order: model.column(share * cost) for order, cost in orders.items()}
    for i, want in enumerate(promises):
        sources = parts[want.part].sources
        chance = min((senders[one.sender].too_late(2 * days, want.days) for one in sources), default=1.0)
        cheapest = min((one.price for one in sources), default=0.0)
        dear = max([LATER * cheapest, *(coins for _, coins in parts[want.part].worth)])
        later = model.column(share * want.units * dear)
        whole, terms = [(later, 1.0)], [(later, chance)]
        for stage, sent in zip(stages, (0.0, days), strict=True):
            for which, one in enumerate(sources):
                column = stage.serves[i, which]
                whole.append((column, 1.0))
                terms.append((column, senders[one.sender].too_late(sent, want.days)))
        model.row(whole, low=1.0, high=1.0)
        model.row([(late[want.order], 1.0), *((column, -part) for column, part in terms if part)], low=0.0)


def _solved(model: _Model, seconds: float) -> tuple[Sequence[float], float, float] | None:
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_matrix

    shape = (len(model.low), len(model.costs))
    matrix = csr_matrix((model.values, (model.rows, model.columns)), shape=shape)
    with unheard():
        found = milp(
            np.array(model.costs),
            integrality=np.array(model.whole),
            bounds=Bounds(np.zeros(shape[1]), np.array(model.most)),
            constraints=LinearConstraint(matrix, np.array(model.low), np.array(model.high)),
            options={"mip_rel_gap": GAP, "time_limit": seconds},
        )
    if found.x is None:
        return None
    bound = found.mip_dual_bound if found.mip_dual_bound is not None else found.fun
    return found.x.tolist(), float(found.fun), float(bound)
