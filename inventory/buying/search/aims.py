"""How far above its bound a leaf is looked into for lists, and what is worth looking for: the pace of a search alone.

Whatever is aimed at, the answer is right: where no list of a leaf costs less than the aim, that bounds it from then on.
"""

from __future__ import annotations

from inventory.buying.problem import Problem
from inventory.buying.search.leaf import ONE, Leaf
from inventory.buying.search.whole import SMALL, size

CORE = 2400
"""HiGHS is asked for lists dearer than a leaf's bound by four parts in so many, next time for twice as much: a wide
core is a slow one. Of small lists all of it is asked at once.
"""

NARROW = 6
"""The first look into a leaf is for lists dearer than its bound by one part in so many times the square of the parts,
each next for twice as much, or half where that is too much.
"""


def aimed(problem: Problem, leaf: Leaf, price: int) -> int:
    """Atoms that the lists looked for in a leaf cost less than; up to the price of the best list."""
    least = -(-leaf.bound // ONE)
    window = (least << leaf.width) // (NARROW * len(problem.parts) ** 2)
    return price if price - least <= 2 * window else least + 1 + window


def aimed_wide(problem: Problem, leaf: Leaf, price: int) -> int:
    """The same where HiGHS looks."""
    least = -(-leaf.bound // ONE)
    above = (least << min(leaf.tries, 20)) // CORE
    return price if size(problem) <= SMALL else min(price, least + 1 + above)


def less(target: int, part: int) -> int:
    """One part in so many less than the target."""
    return target - target // part
