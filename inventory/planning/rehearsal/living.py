"""Living the futures, week by week, with a way of buying.

A week: parcels come; what is asked for takes its parts, first come, first served, and waits for what is not there;
then, where the way of buying looks, it orders. An order is late if by the end of its due week a part of it is not
there, or the hours were too few: work waits in one line, L = max(L + work − hours, 0). Of a promised order the parts
are those set aside for it.

Everything is held in arrays over a block of futures, in whole numbers; blocks are so small that a week of all parts
stays in the processor's cache.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

from inventory.planning.rehearsal.drawing import Futures
from inventory.planning.rehearsal.scene import SCALE, BuyingWay, Scene

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from inventory.planning.rehearsal.dice import Ints

    Small = NDArray[np.int32]
    Flags = NDArray[np.bool_]

EXACT = 2.0**53
"""Whole numbers below it are exact as floats."""
CELLS = 2**18
"""Parts times futures of a block, about."""


@dataclass(frozen=True, slots=True)
class Lived:
    """What became of a way of buying, by future. Money in minor units.

    late: orders late; missed: pieces a market lacked; goods, postage: spent; parcels: sent for; begun, left: worth of
    what lay there or was on its way, before and after, less what was owed; held: by week and future, worth of what
    lies there at its end. waits, lacks: by part and week, futures in which somebody waits for it at its end, and
    thousandths all of them lack together.
    """

    way: str
    late: Ints
    missed: Ints
    goods: Ints
    postage: Ints
    parcels: Ints
    begun: Ints
    left: Ints
    held: Ints
    waits: Ints
    lacks: Ints


@dataclass(frozen=True, slots=True)
class BuyingTerms:
    """How parts are bought, as arrays: by part, by step and part, by group and by supplier."""

    pack: Small
    worth: Ints
    supplier: Ints
    group: Ints
    from_packs: Small
    price: Small
    sellers: Ints
    postage: Ints
    free_from: Ints


def live(scene: Scene, drawn: Futures, ways: Sequence[BuyingWay]) -> tuple[Lived, ...]:
    """Each way's outcomes over all futures."""
    parts: list[list[Lived]] = [[] for _ in ways]
    for block in _blocks(scene, drawn):
        for at, way in enumerate(ways):
            parts[at].append(block.lived(way))
    return tuple(_joined(some) for some in parts)


def _joined(some: Sequence[Lived]) -> Lived:
    """Blocks of futures as one."""
    import numpy as np

    late, missed, goods, postage, parcels, begun, left, held = (
        np.concatenate([getattr(one, name) for one in some], axis=-1)
        for name in ("late", "missed", "goods", "postage", "parcels", "begun", "left", "held")
    )
    waits, lacks = sum(one.waits for one in some), sum(one.lacks for one in some)
    return Lived(
        some[0].way,
        late,
        missed,
        goods,
        postage,
        parcels,
        begun,
        left,
        held,
        np.asarray(waits),
        np.asarray(lacks),
    )


def used_up(scene: Scene, drawn: Futures, chance: float) -> list[int]:
    """By part, thousandths that with this chance suffice for all that is asked for up to the end."""
    import numpy as np

    asked = [block.asked[-1] for block in _blocks(scene, drawn)]
    ranked = np.sort(np.concatenate(asked, axis=1), axis=1)
    return [int(one) for one in ranked[:, ceil(chance * drawn.many) - 1]]


def _blocks(scene: Scene, drawn: Futures) -> Iterator[_Block]:
    """All futures, some at a time."""
    terms, size = _terms(scene), _at_once(len(scene.start))
    for begin in range(0, drawn.many, size):
        yield _Block(scene, drawn, terms, begin, min(begin + size, drawn.many))


def _at_once(parts: int) -> int:
    """Futures of a block."""
    return max(CELLS // max(parts, 1), 16)


def _terms(scene: Scene) -> BuyingTerms:
    import numpy as np

    rows = scene.bought
    steps = max((len(row.steps) for row in rows), default=1)
    padded = [[*row.steps, *[row.steps[-1]] * (steps - len(row.steps))] for row in rows]
    group, supplier = np.array([row.group for row in rows]), np.array([row.supplier for row in rows])
    groups = np.unique(group)
    sellers = np.unique(supplier)
    return BuyingTerms(
        np.array([row.pack for row in rows], dtype=np.int32),
        np.array([row.worth for row in rows], dtype=np.int64),
        supplier,
        np.searchsorted(groups, group),
        np.array([[one[step][0] for one in padded] for step in range(steps)], dtype=np.int32),
        np.array([[one[step][1] for one in padded] for step in range(steps)], dtype=np.int32),
        sellers,
        np.array([scene.senders[at].postage for at in sellers], dtype=np.int64),
        np.array([scene.senders[at].free_from for at in sellers], dtype=np.int64),
    )


class _Block:
    """Some futures: what is asked for in each, worked out once for all ways."""

    def __init__(self, scene: Scene, drawn: Futures, terms: BuyingTerms, begin: int, end: int) -> None:
        import numpy as np

        self.scene, self.drawn, self.terms, self.begin, self.end = scene, drawn, terms, begin, end
        self.some = slice(*np.searchsorted(drawn.future, [begin, end]))
        self.which: Ints
        self.flat: Ints
        self.asked, self.work = self._taken()
        self.scheduled = self._scheduled()

    @property
    def many(self) -> int:
        return self.end - self.begin

    def _taken(self) -> tuple[Small, Ints]:
        """(weeks, parts, futures) asked for up to each week, and (weeks, futures) minutes of work."""
        import numpy as np

        scene, drawn, table = self.scene, self.drawn, self.drawn.table
        gone = slice(*np.searchsorted(drawn.lost[0], [self.begin, self.end]))
        future, week, row = (
            np.concatenate([one[self.some], lost[gone]])
            for one, lost in zip((drawn.future, drawn.week, drawn.row), drawn.lost, strict=True)
        )
        times = np.concatenate([drawn.pieces[self.some], np.ones(gone.stop - gone.start, dtype=np.int64)])
        future = future - self.begin
        parts = len(scene.start)
        asked = np.zeros((scene.weeks, parts, self.many), dtype=np.int32)
        which, at = _spread(table.first, row)
        flat = (week * (parts * self.many) + future)[which] + (table.parts * self.many)[at]
        np.add.at(asked.ravel(), flat, (table.units[at] * times[which]).astype(np.int32))
        orders = int(np.searchsorted(which, self.some.stop - self.some.start))
        self.which, self.flat = which[:orders], flat[:orders]
        for part, each in drawn.hands.items():
            really = asked[:, part].astype(np.int64) * each[self.begin : self.end]
            asked[:, part] = (really + 500) // 1000
        for one in scene.owed:
            for part, units in one.takes:
                asked[0, part] += np.int32(units)
        work = np.zeros((scene.weeks, self.many), dtype=np.int64)
        np.add.at(work, (week, future), table.minutes[row] * times)
        work[0] += sum(one.minutes for one in scene.owed)
        for at_week in range(1, scene.weeks):  # numpy's own sums along this axis take four times as long
            asked[at_week] += asked[at_week - 1]
        return asked, work

    def _scheduled(self) -> Small:
        """(weeks, parts, futures) that parcels on their way bring; a week in which one is expected may be past."""
        import numpy as np

        done = np.zeros((self.scene.weeks, len(self.scene.start), self.many), dtype=np.int32)
        futures = np.arange(self.many)
        for one in self.scene.coming:
            usual = min(self.scene.senders[one.sender].weeks)
            late = self.drawn.posted[one.sender, self.scene.weeks, self.begin : self.end] - usual
            week = np.maximum(one.week + late, 0)
            here = week < self.scene.weeks
            done[week[here], one.part, futures[here]] += np.int32(one.quantity)
        return done

    def lived(self, way: BuyingWay) -> Lived:
        """These futures with a way of buying."""
        import numpy as np

        scene, terms, many = self.scene, self.terms, self.many
        weeks, parts = scene.weeks, len(scene.start)
        have = self.scheduled.copy()
        have[0] += np.array(scene.start, dtype=np.int32)[:, None]
        sure = np.zeros((parts, many), dtype=np.int32)
        sure += np.array(scene.start, dtype=np.int32)[:, None]
        for one in scene.coming:
            sure[one.part] += np.int32(one.quantity)
        begun = self._worth(sure)
        goods, postage, parcels = (np.zeros(many, dtype=np.int64) for _ in range(3))
        held = np.zeros((weeks, many), dtype=np.int64)
        waits, lacks = (np.zeros((parts, weeks), dtype=np.int64) for _ in range(2))
        waiting = np.zeros((weeks, parts, many), dtype=bool)
        level, up_to = (np.array(one, dtype=np.int32)[:, None] for one in (way.level, way.up_to))
        for week in range(weeks):
            if week:
                have[week] += have[week - 1]
            net = have[week] - self.asked[week]
            waiting[week] = net < 0
            waits[:, week] = np.count_nonzero(waiting[week], axis=1)
            lacks[:, week] = -np.minimum(net, 0).sum(axis=1, dtype=np.int64)
            held[week] = self._worth(np.maximum(net, 0))
            if way.looks[week]:
                more = np.array(way.ahead.get(week, [0] * parts), dtype=np.int32)[:, None]
                spent = self._ordered(week, (level + more, up_to + more), sure, have)
                goods += spent.sum(axis=0)
                parcels += np.count_nonzero(spent, axis=0)
                posted = (spent > 0) & (spent < terms.free_from[:, None])
                postage += np.where(posted, terms.postage[:, None], 0).sum(axis=0)
        left = self._worth(sure - self.asked[-1])
        late, missed = self._late(have, waiting)
        return Lived(way.name, late, missed, goods, postage, parcels, begun, left, held, waits, lacks)

    def _ordered(self, week: int, levels: tuple[Small, Small], sure: Small, have: Small) -> Ints:
        """Order what is at or below its level, up to the other; goods by (supplier, future) in minor units.

        Only the cells (part, future) that order are looked at: most weeks most do not. Their sums are of whole
        numbers, so floats hold them exactly.
        """
        import numpy as np

        terms, many = self.terms, self.many
        stock = sure - self.asked[week]
        cells = np.flatnonzero(stock <= levels[0])
        part = cells // many
        packs = -(-(levels[1][part, 0] - stock.ravel()[cells]) // terms.pack[part])
        some = packs > 0
        cells, part, packs = cells[some], part[some], packs[some]
        future = cells - part * many
        bought = packs * terms.pack[part]
        sure.ravel()[cells] += bought
        after = week + self.drawn.posted[terms.supplier[part], week, self.begin + future]
        seen = after < self.scene.weeks
        flat = after[seen].astype(np.int64) * stock.size + cells[seen]
        have.ravel()[flat] += bought[seen]
        together = np.bincount(terms.group[part] * many + future, packs)[terms.group[part] * many + future]
        price = terms.price[0][part]
        for from_packs, cheaper in zip(terms.from_packs[1:], terms.price[1:], strict=True):
            price = np.where(together >= from_packs[part], cheaper[part], price)
        seller = np.searchsorted(terms.sellers, terms.supplier)[part]
        spent = np.bincount(seller * many + future, packs * price.astype(float), len(terms.sellers) * many)
        return spent.reshape(len(terms.sellers), many).astype(np.int64)

    def _worth(self, stock: Small) -> Ints:
        """By future, minor units; what is owed counts as less than nothing."""
        import numpy as np

        worth = self.terms.worth
        if (worth.astype(float) @ np.abs(stock) >= EXACT).any():
            return (worth @ stock.astype(np.int64)) // SCALE
        # Sums of whole numbers below 2⁵³ are exact in any order, so they may be left to the quick library.
        return (worth.astype(float) @ stock).astype(np.int64) // SCALE

    def _late(self, have: Small, waiting: Flags) -> tuple[Ints, Ints]:
        """By future orders late, and pieces a market lacked. What is late waited in the week it was asked for."""
        import numpy as np

        drawn, last = self.drawn, self.scene.weeks
        future, week, due = drawn.future[self.some] - self.begin, drawn.week[self.some], drawn.due[self.some]
        pieces, market = drawn.pieces[self.some], drawn.market[self.some]
        late = np.zeros(len(week), dtype=bool)
        some = np.flatnonzero(waiting.ravel()[self.flat])
        some = some[due[self.which[some]] < last]
        which, flat = self.which[some], self.flat[some]
        later = flat + (due - week)[which] * (waiting.shape[1] * self.many)
        late[which[have.ravel()[later] < self.asked.ravel()[flat]]] = True
        counted = (due < last) & (pieces > 0)
        line = self._line()
        if line is not None:
            lines, until = line
            end = np.minimum(due, last - 1)
            late |= lines[week, future] > until[end] - until[week]
        orders, missed = np.zeros(self.many, dtype=np.int64), np.zeros(self.many, dtype=np.int64)
        np.add.at(orders, future[late & counted & ~market], 1)
        np.add.at(missed, future[late & counted & market], pieces[late & counted & market])
        return orders + self._owed_late(have), missed

    def _line(self) -> tuple[Ints, Ints] | None:
        """Work that waits at the end of each week, and hours there are until then; None where hours are no limit."""
        import numpy as np

        if self.scene.hours is None:
            return None
        hours = np.array(self.scene.hours, dtype=np.int64)
        waiting = np.zeros_like(self.work)
        now = np.zeros(self.many, dtype=np.int64)
        for week, minutes in enumerate(hours):
            now = np.maximum(now + self.work[week] - minutes, 0)
            waiting[week] = now
        return waiting, np.cumsum(hours)

    def _owed_late(self, have: Small) -> Ints:
        """Promised orders that are late: those due earlier come first."""
        import numpy as np

        done = np.zeros(self.many, dtype=np.int64)
        before: dict[int, int] = {}
        minutes = 0
        for one in sorted(self.scene.owed, key=lambda owed: owed.due):
            late = np.zeros(self.many, dtype=bool)
            minutes += one.minutes
            for part, units in one.takes:
                before[part] = before.get(part, 0) + units
            if one.due < self.scene.weeks:
                for part, _ in one.takes:
                    late |= have[one.due, part] < before[part]
                if self.scene.hours is not None:
                    late |= minutes > sum(self.scene.hours[: one.due + 1])
                done += late
        return done


def _spread(first: Ints, row: Ints) -> tuple[Ints, Ints]:
    """For rows of a table, each part of each: which of the rows it is of, and where in the table it stands."""
    import numpy as np

    many = first[row + 1] - first[row]
    which = np.repeat(np.arange(len(row)), many)
    begins = np.cumsum(many) - many
    return which, np.arange(len(which)) - np.repeat(begins, many) + np.repeat(first[row], many)
