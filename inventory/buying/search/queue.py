"""What waits in a search: nodes and leaves by their bounds, leaves put off as hard, and leaves only tried as lists."""

from __future__ import annotations

import heapq
from collections.abc import Iterator
from itertools import count

from inventory.buying.search.leaf import Leaf
from inventory.buying.search.node import Node


class Queue:
    """Lowest bound first; `hard` leaves come after all else.

    Leaves only tried as lists lie in nodes that wait, too: they are only there to be looked into early.
    """

    def __init__(self) -> None:
        self._heap: list[tuple[int, int, Node | Leaf]] = []
        self._hard: list[Leaf] = []
        self._tried: list[tuple[int, int, Leaf]] = []
        self._order = count()

    def push(self, one: Node | Leaf) -> None:
        """Let it wait its turn."""
        heapq.heappush(self._heap, (one.bound, next(self._order), one))

    def pop(self) -> Node | Leaf:
        """Take out the one of the lowest bound."""
        return heapq.heappop(self._heap)[2]

    def put_off(self, leaf: Leaf) -> None:
        """Keep a leaf till all else is done."""
        self._hard.append(leaf)

    def keep_tried(self, leaf: Leaf) -> None:
        """Remember a leaf that was tried as a list."""
        heapq.heappush(self._tried, (leaf.bound, next(self._order), leaf))

    def left(self, target: int) -> bool:
        """Whether something is left of a bound below the target; what was put off comes back when all else is done."""
        if self._heap and self._heap[0][0] >= target:
            self._heap.clear()
        if not self._heap:
            hard, self._hard = self._hard, []
            for leaf in hard:
                if leaf.bound < target:
                    self.push(leaf)
        return bool(self._heap)

    def least(self) -> int | None:
        """The lowest bound of what waits its turn."""
        return self._heap[0][0] if self._heap else None

    def bounds(self) -> Iterator[int]:
        """The bounds of all that is left."""
        yield from (least for least, _, _ in self._heap)
        yield from (leaf.bound for leaf in self._hard)

    def begin_again(self) -> None:
        """Forget what waits its turn: the whole space is about to; what was ever put off is so again.

        A search that begins again leaves those leaves out.
        """
        self._hard += [one for _, _, one in self._heap if isinstance(one, Leaf) and one.effort]
        self._heap.clear()

    def tried_below(self, enough: int) -> Leaf | None:
        """Take out the lowest leaf tried as a list, if its bound is below that."""
        return heapq.heappop(self._tried)[2] if self._tried and self._tried[0][0] < enough else None

    def waiting_below(self, enough: int) -> Leaf | None:
        """Take out the lowest leaf that waits its turn, if its bound is below that."""
        waiting = [it for it in self._heap if isinstance(it[2], Leaf) and it[2].bound < enough]
        if not waiting:
            return None
        lowest = min(waiting, key=lambda it: it[:2])
        self._heap.remove(lowest)
        heapq.heapify(self._heap)
        leaf = lowest[2]
        assert isinstance(leaf, Leaf)  # noqa: S101 - for the checker of types
        return leaf

    def hopeful_below(self, enough: int) -> Leaf | None:
        """Take out the lowest leaf, tried as a list or waiting, if its bound is below that."""
        if self._tried and self._tried[0][0] < enough:
            enough = self._tried[0][0]
            return self.waiting_below(enough) or self.tried_below(enough + 1)
        return self.waiting_below(enough)
