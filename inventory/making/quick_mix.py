"""A large set of pieces out of what is there, found without a solver: the scarcest first; a bound may prove it.

Items are taken in turn, a piece each, those with the least room first; where that leaves a doubt, always what takes the
least of what is left. Blanks are cut as they are needed, the cheapest first. No set has more pieces than
Σ over groups of items of ⌊there_i / least need_i⌋, whatever part i each group shares: a set that has as many is the
largest. It is held against `product_mix` in the tests.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from math import inf

from inventory.making.product_mix import BestMix, BlankSupply, MixItem, MixTask

ONE_BY_ONE = 2_000
"""Pieces up to which the item that asks for least is looked for anew after each."""


@dataclass(slots=True)
class _Bench:
    """What is left while pieces are added. room: by size, pieces that blanks which are cut already still give.

    once: of each part the most any item takes once an evening, as the programme has it; begun: those that were taken.
    """

    task: MixTask
    left: dict[Hashable, int]
    minutes: int | None
    room: dict[Hashable, int] = field(default_factory=dict)
    plain: dict[Hashable, int] = field(default_factory=dict)
    free: dict[Hashable, int] = field(default_factory=dict)
    measured: dict[Hashable, list[Mapping[Hashable, int]]] = field(default_factory=dict)
    once: dict[Hashable, int] = field(default_factory=dict)
    begun: set[Hashable] = field(default_factory=set)
    pieces: dict[Hashable, int] = field(default_factory=dict)
    cut: dict[tuple[Hashable, Hashable], int] = field(default_factory=dict)
    paid: int = 0

    def add(self, item: MixItem) -> bool:
        """One piece more of an item; whether there was enough."""
        asked = dict(item.needs)
        for part in item.once:
            asked[part] = asked.get(part, 0) + (0 if part in self.begun else self.once[part])
        if any(self.left.get(part, 0) < need for part, need in asked.items()):
            return False
        if self.minutes is not None and self.minutes < item.minutes:
            return False
        if item.size is not None and not self._cut(item.size):
            return False
        for part, need in asked.items():
            self.left[part] -= need
        self.begun |= item.once.keys()
        self.minutes = None if self.minutes is None else self.minutes - item.minutes
        self.pieces[item.key] = self.pieces.get(item.key, 0) + 1
        return True

    @property
    def made(self) -> int:
        """Pieces in all."""
        return sum(self.pieces.values())

    def pressure(self, item: MixItem) -> float:
        """What shares of what is left of its parts one piece takes, added up."""
        once = {part: need for part, need in item.once.items() if part not in self.begun}
        return self._share(item.needs) + self._share(once)

    def _share(self, needs: Mapping[Hashable, int]) -> float:
        return sum(need / self.left[part] if self.left.get(part) else inf for part, need in needs.items())

    def _cut(self, size: Hashable) -> bool:
        """Room for one piece of a size, out of a blank that is cut already or the cheapest that is not."""
        if not self.room.get(size):
            of = self._blank(size)
            if of is None:
                return False
            supply, gives = of
            self.free[supply.key] -= 1
            self.room[size] = gives
            self.paid += supply.cost
            self.cut[size, supply.key] = self.cut.get((size, supply.key), 0) + gives
        self.room[size] -= 1
        return True

    def _blank(self, size: Hashable) -> tuple[BlankSupply, int] | None:
        """The blank that costs least a piece, taken off what is there, and how many pieces it gives."""
        best: tuple[float, BlankSupply, int, bool] | None = None
        for supply in self.task.blanks:
            if self.free[supply.key] <= 0:
                continue
            alone = max((one.get(size, 0) for one in self.measured[supply.key]), default=0)
            for gives, measured in (
                (supply.each.get(size, 0) if self.plain[supply.key] else 0, False),
                (alone, True),
            ):
                if gives and (best is None or supply.cost / gives < best[0]):
                    best = supply.cost / gives, supply, gives, measured
        if best is None:
            return None
        _, supply, gives, measured = best
        if measured:
            mine = self.measured[supply.key]
            mine.remove(next(one for one in mine if one.get(size, 0) == gives))
        else:
            self.plain[supply.key] -= 1
        return supply, gives


def quick_mix(task: MixTask) -> BestMix:
    """A set of many pieces; proven where no set has more. What pieces earn is not looked at."""
    bound = most_pieces(task)
    tried = [_filled(task, _in_turn)]
    if tried[0].made < bound <= ONE_BY_ONE:
        tried.append(_filled(task, _least_asked))
    best = max(tried, key=lambda one: one.made)
    gain = sum(item.gain * best.pieces.get(item.key, 0) for item in task.items) - best.paid
    return BestMix(best.pieces, best.cut, gain, best.made >= bound)


def _filled(task: MixTask, way: Callable[[_Bench], None]) -> _Bench:
    bench = _Bench(task, dict(task.there), task.minutes)
    for item in task.items:
        for part, once in item.once.items():
            bench.once[part] = max(bench.once.get(part, 0), once)
    for supply in task.blanks:
        bench.plain[supply.key] = supply.plain
        bench.measured[supply.key] = list(supply.measured)
        every = supply.plain + len(supply.measured)
        bench.free[supply.key] = every if supply.free is None else min(every, supply.free)
    way(bench)
    return bench


def _in_turn(bench: _Bench) -> None:
    """A piece of each item, those with the least room first, again and again."""
    waiting = sorted(_possible(bench.task), key=lambda item: _alone(bench.task, item))
    while waiting:
        waiting = [item for item in waiting if bench.add(item)]


def _least_asked(bench: _Bench) -> None:
    """Always a piece of the item that takes the least of what is left, all its parts together."""
    waiting = _possible(bench.task)
    while waiting:
        item = min(waiting, key=bench.pressure)
        if not bench.add(item):
            waiting.remove(item)


def _possible(task: MixTask) -> list[MixItem]:
    """Items of which there could be a piece: what takes nothing at all is none."""
    return [item for item in task.items if _alone(task, item)]


def most_pieces(task: MixTask) -> int:
    """A bound: no set has more. Items begin alone; groups that share a part join where that bounds them lower."""
    groups: list[tuple[list[MixItem], int]] = [([item], _alone(task, item)) for item in task.items]
    shared = dict.fromkeys(part for item in task.items for part, need in item.needs.items() if need)
    for part in sorted(shared, key=lambda one: _of(task, one, task.items)):
        mine = [group for group in groups if all(item.needs.get(part) for item in group[0])]
        together = [item for items, _ in mine for item in items]
        if together and (bound := _of(task, part, together)) < sum(many for _, many in mine):
            groups = [group for group in groups if group not in mine] + [(together, bound)]
    of_blanks, rest = 0, 0
    for items, many in groups:
        if all(item.size is not None for item in items):
            of_blanks += many
        else:
            rest += many
    most = rest + min(of_blanks, _most_of(task, [item.size for item in task.items if item.size is not None]))
    least = min((item.minutes for item in task.items), default=0)
    return most if task.minutes is None or not least else min(most, task.minutes // least)


def _of(task: MixTask, part: Hashable, items: Iterable[MixItem]) -> int:
    """Pieces that a part suffices for at most, some of these items taking it."""
    return task.there.get(part, 0) // min(need for item in items if (need := item.needs.get(part)))


def _alone(task: MixTask, item: MixItem) -> int:
    """Pieces there could be of an item alone."""
    several = [task.there.get(part, 0) // need for part, need in item.needs.items() if need]
    if item.size is not None:
        several.append(_most_of(task, [item.size]))
    if task.minutes is not None and item.minutes:
        several.append(task.minutes // item.minutes)
    if any(task.there.get(part, 0) < once for part, once in item.once.items()):
        return 0
    return max(min(several, default=0), 0)


def _most_of(task: MixTask, sizes: Sequence[Hashable]) -> int:
    """Pieces all blanks give, each cut for the size it gives most of."""
    whole = 0
    for supply in task.blanks:
        every = [*[supply.each] * supply.plain, *supply.measured]
        each = [max([0, *(gives.get(size, 0) for size in sizes)]) for gives in every]
        whole += sum(sorted(each, reverse=True)[: supply.free])
    return whole
