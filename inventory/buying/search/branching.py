"""Where a node is cut in two or three: by the modes of one supplier, or by the levels of one price group.

Cut is where the ascent to the node's bound could not make up its mind *and* where deciding otherwise costs much, so
that every part's bound rises (the product rule of branching: Achterberg, Koch & Martin 2005, Branching Rules Revisited,
Operations Research Letters 33, from memory).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from inventory.buying.search.leaf import OFF
from inventory.buying.search.node import Node

DOUBT = 0.05
GAIN = 0.0005
"""Added to both factors, the gain as a share of the bound, so that neither alone decides."""


def parts(node: Node, of_supplier: Sequence[Sequence[int]]) -> Iterator[Node]:
    """A node that is not settled, in parts, each with the bound known of it."""
    _, supplier, group = max(_cuts(node, of_supplier))
    if group < 0:
        for mode in node.modes[supplier]:
            modes = (*node.modes[:supplier], (mode,), *node.modes[supplier + 1 :])
            yield Node(modes, node.low, node.high, node.prices, max(node.bound, node.fixed[supplier][mode]))
        return
    at = _middle(node, _picked(node, supplier, of_supplier[supplier].index(group)), group)
    under, over = _sides(node, group, at)
    high = (*node.high[:group], at, *node.high[group + 1 :])
    yield Node(node.modes, node.low, high, node.prices, max(node.bound, under))
    low = (*node.low[:group], at + 1, *node.low[group + 1 :])
    yield Node(node.modes, low, node.high, node.prices, max(node.bound, over))


def _cuts(node: Node, of_supplier: Sequence[Sequence[int]]) -> Iterator[tuple[float, int, int]]:
    """(score, supplier, group) of every cut, group -1 for modes; levels once the supplier's mode is settled."""
    for supplier, modes in enumerate(node.modes):
        if len(modes) > 1:
            least, second = sorted(node.fixed[supplier][mode] for mode in modes)[:2]
            doubt = 1 - max(_picked(node, supplier, -1).values())
            yield _score(node, doubt, second - least), supplier, -1
        elif modes != (OFF,):
            for place, group in enumerate(of_supplier[supplier]):
                if node.low[group] < node.high[group]:
                    yield _level_score(node, group, _picked(node, supplier, place)), supplier, group


def _level_score(node: Node, group: int, picked: dict[int, float]) -> float:
    at = _middle(node, picked, group)
    below = sum(share for level, share in picked.items() if level <= at)
    under, over = _sides(node, group, at)
    return _score(node, min(below, 1 - below), abs(under - over))


def _sides(node: Node, group: int, at: int) -> tuple[int, int]:
    """The bounds of a node with a group's levels up to `at`, and with those above."""
    bounds = node.levels[group]
    under = min(bounds[level] for level in range(node.low[group], at + 1))
    return under, min(bounds[level] for level in range(at + 1, node.high[group] + 1))


def _score(node: Node, doubt: float, gain: int) -> float:
    return (doubt + DOUBT) * (gain / (node.bound + 1) + GAIN)


def _picked(node: Node, supplier: int, place: int) -> dict[int, float]:
    """How often the ascent picked each mode (`place` below 0) or each level of a group, as shares of all."""
    found: dict[int, float] = {}
    for (mode, levels), weight in node.seen[supplier].items():
        if place < 0 or levels:
            key = mode if place < 0 else levels[place]
            found[key] = found.get(key, 0.0) + weight
    whole = sum(found.values())
    return {key: weight / whole for key, weight in found.items()}


def _middle(node: Node, picked: dict[int, float], group: int) -> int:
    """The level to cut after so that what was picked falls on both sides as evenly as it can."""

    def apart(at: int) -> tuple[float, int]:
        return abs(sum(share for level, share in picked.items() if level <= at) - 0.5), -at

    return min(range(node.low[group], node.high[group]), key=apart)
