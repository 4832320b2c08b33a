"""Linear programming over mixtures of each part's ways to be bought.

min sum c[i,j] y[i,j]  with  sum over j of y[i,j] = 1 for every part i,  sum a[i,j,r] y[i,j] >= due[r] for every
condition r,  y >= 0.  Solved by the primal simplex method with one *key* way per part, so that only a basis of the
size of the conditions is carried (generalized upper bounding: Dantzig & Van Slyke 1967, J. Computer and System
Sciences 1).  In floats: what comes out only suggests multipliers and lists, nothing is claimed from it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

TINY = 1e-9
PIVOTS = 250


@dataclass(slots=True)
class Way:
    """One way to buy a part (-1: a slack or makeshift): its cost, what it brings to each condition, its packs."""

    part: int
    cost: float
    brings: list[tuple[int, float]]
    packs: tuple[tuple[int, int], ...] = ()


@dataclass(slots=True)
class Mixture:
    """The programme and its basis: `key` way of each part, `basis` ways one per condition, and their values."""

    ways: list[Way]
    dues: list[float]
    key: dict[int, Way] = field(default_factory=dict)
    basis: list[Way] = field(default_factory=list)
    rates: list[float] = field(default_factory=list)
    values: list[float] = field(default_factory=list)

    def solve(self) -> None:
        """Pivot until no way is cheaper at the multipliers, or for `PIVOTS` steps."""
        for _ in range(PIVOTS):
            inverse = self._factor()
            if inverse is None:
                return
            entering = self._cheapest()
            if entering is None or not self._pivot(entering, inverse):
                return

    def _factor(self) -> list[list[float]] | None:
        """Values and multipliers of the basis; its inverse, or None when it has none."""
        size = len(self.dues)
        columns = [self._column(way) for way in self.basis]
        inverse = _inverse([[columns[c][r] for c in range(size)] for r in range(size)])
        if inverse is None:
            return None
        left = list(self.dues)
        for way in self.key.values():
            for row, amount in way.brings:
                left[row] -= amount
        extra = [way.cost - (self.key[way.part].cost if way.part >= 0 else 0.0) for way in self.basis]
        self.values = [sum(a * b for a, b in zip(row, left, strict=True)) for row in inverse]
        self.rates = [sum(extra[k] * inverse[k][r] for k in range(size)) for r in range(size)]
        return inverse

    def _column(self, way: Way) -> list[float]:
        """What a way brings beyond the key way of its part."""
        column = [0.0] * len(self.dues)
        for row, amount in way.brings:
            column[row] += amount
        if way.part >= 0:
            for row, amount in self.key[way.part].brings:
                column[row] -= amount
        return column

    def _reduced(self, way: Way) -> float:
        rates = self.rates
        return way.cost - sum([rates[row] * amount for row, amount in way.brings])

    def _cheapest(self) -> Way | None:
        keys = {part: self._reduced(way) for part, way in self.key.items()}
        keys[-1] = 0.0
        best, found = 0.0, None
        rates = self.rates
        for way in self.ways:
            gain = way.cost - keys[way.part]
            for row, amount in way.brings:
                gain -= rates[row] * amount
            if gain < best - TINY * (1 + abs(way.cost)):
                best, found = gain, way
        return found

    def _pivot(self, entering: Way, inverse: Sequence[Sequence[float]]) -> bool:
        """Bring a way in; False when nothing would leave, which only rounding can cause."""
        column = self._column(entering)
        falls = [sum(a * b for a, b in zip(row, column, strict=True)) for row in inverse]
        key_falls = {entering.part: 1.0} if entering.part >= 0 else {}
        held: dict[int, float] = {}
        for way, fall, value in zip(self.basis, falls, self.values, strict=True):
            if way.part >= 0:
                key_falls[way.part] = key_falls.get(way.part, 0.0) - fall
                held[way.part] = held.get(way.part, 0.0) + value
        tests = [
            (max(0.0, value) / fall, -fall, at)
            for at, (fall, value) in enumerate(zip(falls, self.values, strict=True))
            if fall > TINY
        ]
        keys = [
            (max(0.0, 1 - held.get(part, 0.0)) / fall, -fall, part)
            for part, fall in key_falls.items()
            if fall > TINY
        ]
        if keys and (not tests or min(keys) <= min(tests)):
            self._key_leaves(min(keys)[2], entering)
            return True
        if not tests:
            return False
        self.basis[min(tests)[2]] = entering
        return True

    def _key_leaves(self, part: int, entering: Way) -> None:
        own = [at for at, way in enumerate(self.basis) if way.part == part]
        if not own:
            self.key[part] = entering
            return
        at = max(own, key=lambda place: self.values[place])
        self.key[part] = self.basis[at]
        self.basis[at] = entering


def _inverse(matrix: list[list[float]]) -> list[list[float]] | None:
    """Gauss and Jordan with partial pivoting; None for a matrix that has no inverse within rounding."""
    size = len(matrix)
    rows = [
        [*row, *(1.0 if at == column else 0.0 for column in range(size))] for at, row in enumerate(matrix)
    ]
    for at in range(size):
        pivot = max(range(at, size), key=lambda row: abs(rows[row][at]))
        if abs(rows[pivot][at]) < TINY:
            return None
        rows[at], rows[pivot] = rows[pivot], rows[at]
        head = rows[at][at]
        rows[at] = lead = [value / head for value in rows[at]]
        for row in range(size):
            factor = rows[row][at]
            if row != at and factor:
                rows[row] = [a - factor * b for a, b in zip(rows[row], lead, strict=True)]
    return [row[size:] for row in rows]
