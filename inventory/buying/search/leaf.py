"""A leaf of the search, and multipliers of its conditions that no pack can be cheaper than nothing by.

With m per atom of goods and w per pack of a group a pack costs p (1 - m) - w.  The sum of the parts' least costs bounds
every list of the leaf only while that is nowhere below 0: else more packs than any cover would take would lower it.
`Rates` are the one kind of multipliers there is, and whatever is asked for they keep

    0 <= m <= 1,    0 <= w <= (1 - m) * (the cheapest pack of the group at its highest level),

and are 0 where the leaf demands nothing: where a supplier is not used, a count begins at one pack, or no value of
goods must be reached.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from inventory.buying.problem import Problem

ONE = 1 << 16
OFF, PAY, FREE = range(1, 4)
"""What is settled about a supplier: not used, used, used with goods that make postage free."""


class Rates:
    """Multipliers: `goods` by supplier in 1/65536, `count` by group in atoms/65536 a pack; from any whole numbers."""

    __slots__ = ("count", "goods")

    def __init__(
        self,
        problem: Problem,
        leaf: tuple[Sequence[int], Sequence[int], Sequence[int]],
        goods: Sequence[int] = (),
        count: Sequence[int] = (),
    ) -> None:
        """leaf: modes by supplier, lowest and highest level by group. Nothing said is 0."""
        modes, low, high = leaf
        self.goods = tuple(
            min(ONE, max(0, rate)) if needed(problem, at, modes[at]) else 0
            for at, rate in enumerate(goods or [0] * len(modes))
        )
        self.count = tuple(
            min(
                max(0, rate),
                problem.groups[at].cheapest[high[at]] * (ONE - self.goods[problem.groups[at].supplier]),
            )
            if rate and low[at] and modes[problem.groups[at].supplier] != OFF
            else 0
            for at, rate in enumerate(count or [0] * len(low))
        )


@dataclass(slots=True)
class Leaf:
    """A part of the search space: for each supplier its mode, for each group its levels; and what is known of it.

    `bound` in atoms/65536; `tries` looks into it so far, the next one's `width` and the `widest` there may be, as
    powers of two, and the `effort`, how often its steps are doubled.
    """

    modes: tuple[int, ...]
    low: tuple[int, ...]
    high: tuple[int, ...]
    rates: Rates
    bound: int = 0
    tries: int = 0
    width: int = 0
    widest: int = 60
    effort: int = 0

    @property
    def goods(self) -> tuple[int, ...]:
        """Multipliers of the suppliers' goods, in 1/65536."""
        return self.rates.goods

    @property
    def count(self) -> tuple[int, ...]:
        """Multipliers of the groups' counts, in atoms/65536 a pack."""
        return self.rates.count

    def charged(self, problem: Problem, goods: Sequence[int], count: Sequence[int]) -> Leaf:
        """The same leaf at other multipliers."""
        rates = Rates(problem, (self.modes, self.low, self.high), goods, count)
        return Leaf(
            self.modes,
            self.low,
            self.high,
            rates,
            self.bound,
            self.tries,
            self.width,
            self.widest,
            self.effort,
        )


def leaf_of(
    problem: Problem,
    modes: Sequence[int],
    low: Sequence[int],
    high: Sequence[int],
    goods: Sequence[int] = (),
    count: Sequence[int] = (),
) -> Leaf:
    """A leaf with these multipliers; none where they are not said."""
    where = tuple(modes), tuple(low), tuple(high)
    return Leaf(*where, Rates(problem, where, goods, count))


def needed(problem: Problem, supplier: int, mode: int) -> int:
    """Atoms of goods a supplier must sell in this mode."""
    terms = problem.terms[supplier]
    if mode == FREE:
        return max(terms.least, terms.free or 0)
    return terms.least if mode == PAY else 0
