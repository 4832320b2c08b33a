"""The best multipliers of a corner, by linear programming over mixtures of each part's ways to be bought.

min sum c[i,j] y[i,j]  with  sum over j of y[i,j] = 1 for every part i,  sum a[i,j,r] y[i,j] >= due[r] for every
condition r,  y >= 0.  Its dual is the Lagrangian bound of `bound` at its best multipliers.  Solved by the primal simplex
method with one *key* way per part, so that only a basis of the size of the conditions is carried (generalized upper
bounding: Dantzig & Van Slyke 1967, J. Computer and System Sciences 1).  Floats only choose multipliers here: the bound
itself is then worked out again in integers, so that rounding can make it weaker but never wrong.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from inventory.buying.bound import FREE, OFF, ONE, PAY, Bounds, Corner, Relaxed, cost_at, needed
from inventory.buying.case import Pack, Packs

TINY = 1e-9
PIVOTS = 250
ROUNDS = 8


@dataclass(frozen=True, slots=True)
class Condition:
    """A count of packs of a group, or goods of a supplier, that must reach `due`; `cap` is its dearest multiplier."""

    group: int
    supplier: int
    due: int
    cap: float


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


def sharpen(bounds: Bounds, corner: Corner, best: Relaxed, target: int) -> tuple[Relaxed, Packs | None]:
    """Put the best multipliers into a corner; the relaxed list there, and the mixture rounded to a list.

    `best` is the relaxed list at the multipliers the corner has; they stay where no better are found.
    """
    conditions = list(_conditions(bounds, corner))
    mixture = _start(bounds, corner, conditions)
    rounded: Packs | None = None
    for _ in range(ROUNDS if conditions else 0):
        mixture.solve()
        turned = _turned(bounds, corner, conditions, mixture.rates)
        found = bounds.relax(turned)
        if found is None or not mixture.values:
            break
        rounded = _rounded(bounds, mixture)
        if found.bound > best.bound:
            best = found
            corner.goods, corner.count, corner.bound = (
                turned.goods,
                turned.count,
                max(corner.bound, found.bound),
            )
        if best.bound >= target or not _enriched(bounds, corner, conditions, mixture, found):
            break
    return best, rounded


def _conditions(bounds: Bounds, corner: Corner) -> Iterator[Condition]:
    case = bounds.case
    for group, low in enumerate(corner.low):
        one = case.groups[group]
        if low and corner.modes[one.supplier] != OFF:
            prices = [case.packs[number].prices[corner.high[group]] for number in one.packs]
            cap = min((price for price in prices if price is not None), default=0)
            yield Condition(group, one.supplier, one.starts[low], float(cap))
    for supplier, mode in enumerate(corner.modes):
        due = needed(case, supplier, mode) if mode in (PAY, FREE) else 0
        if due:
            yield Condition(-1, supplier, due, 1.0)


def _start(bounds: Bounds, corner: Corner, conditions: Sequence[Condition]) -> Mixture:
    """The programme with each part bought the cheapest way; what is short is made up at the cap."""
    mixture = Mixture([], [1.0] * len(conditions))
    bare = Corner(corner.modes, corner.low, corner.high, [0] * len(corner.goods), [0] * len(corner.count))
    found = bounds.relax(bare)
    for part, packs in _by_part(bounds, found.bought if found else {}).items():
        mixture.key[part] = _way(bounds, corner, conditions, part, packs)
        mixture.ways.append(mixture.key[part])
    for number, pack in enumerate(bounds.case.packs):
        if corner.modes[pack.supplier] != OFF and pack.alone is not None:
            packs = _alone(pack)
            if packs and (
                pack.own or pack.prices[corner.high[pack.group] if pack.group >= 0 else 0] is not None
            ):
                mixture.ways.append(_way(bounds, corner, conditions, pack.part, [(number, packs)]))
    _make_up(mixture, conditions)
    return mixture


def _make_up(mixture: Mixture, conditions: Sequence[Condition]) -> None:
    """Begin with what is short made up by more of the cheapest: packs of a group, which are goods too, or goods."""
    held = [0.0] * len(conditions)
    for way in mixture.key.values():
        for row, amount in way.brings:
            held[row] += amount
    for row, one in enumerate(conditions):
        slack = Way(-1, 0.0, [(row, -1.0)])
        makeshift = Way(-1, one.cap * one.due, [(row, 1.0), *_goods_too(conditions, one)])
        mixture.ways += [makeshift, slack]
        mixture.basis.append(makeshift if held[row] < 1 else slack)
        for other, amount in makeshift.brings[1:] if held[row] < 1 else ():
            held[other] += amount * (1 - held[row])


def _goods_too(conditions: Sequence[Condition], one: Condition) -> Iterator[tuple[int, float]]:
    for row, other in enumerate(conditions):
        if one.group >= 0 and other.group < 0 and other.supplier == one.supplier:
            yield row, one.cap * one.due / other.due


def _alone(pack: Pack) -> int:
    """Packs that cover the part alone, cheapest at the offer's own steps."""
    if not pack.own or pack.alone is None:
        return pack.alone or 0
    tried = [pack.alone, *(start for start, _ in pack.own if start > pack.alone)]
    return min(
        ((cost, packs) for packs in tried if (cost := pack.own_cost(packs)) is not None), default=(0, 0)
    )[1]


def _way(
    bounds: Bounds,
    corner: Corner,
    conditions: Sequence[Condition],
    part: int,
    packs: Iterable[tuple[int, int]],
) -> Way:
    brings: dict[int, float] = {}
    total = 0
    for number, count in packs:
        pack = bounds.case.packs[number]
        cost = cost_at(pack, count, corner.high)
        total += cost
        for row, one in enumerate(conditions):
            if one.group == pack.group if one.group >= 0 else one.supplier == pack.supplier:
                brings[row] = brings.get(row, 0.0) + (count if one.group >= 0 else cost) / one.due
    return Way(part, float(total), list(brings.items()), tuple(packs))


def _by_part(bounds: Bounds, bought: Packs) -> dict[int, list[tuple[int, int]]]:
    found: dict[int, list[tuple[int, int]]] = {}
    for number, packs in bought.items():
        found.setdefault(bounds.case.packs[number].part, []).append((number, packs))
    return found


def _turned(
    bounds: Bounds, corner: Corner, conditions: Sequence[Condition], rates: Sequence[float]
) -> Corner:
    """The corner with these multipliers, rounded and kept where no pack has a reduced price below 0."""
    goods, count = [0] * len(corner.goods), [0] * len(corner.count)
    for one, rate in zip(conditions, rates, strict=True):
        if one.group < 0:
            goods[one.supplier] = min(ONE, max(0, round(rate / one.due * ONE)))
    for one, rate in zip(conditions, rates, strict=True):
        if one.group >= 0:
            cap = int(one.cap) * (ONE - goods[one.supplier])
            count[one.group] = min(cap, max(0, round(rate / one.due * ONE)))
    return Corner(corner.modes, corner.low, corner.high, goods, count)


def _enriched(
    bounds: Bounds, corner: Corner, conditions: Sequence[Condition], mixture: Mixture, found: Relaxed
) -> bool:
    """Add the ways of a relaxed list that the programme does not know; whether any is cheaper than what it has."""
    known = {(way.part, way.packs) for way in mixture.ways}
    bought = _by_part(bounds, found.bought)
    new = [_way(bounds, corner, conditions, part, bought[part]) for part in bounds.mixed]
    new = [way for way in new if (way.part, way.packs) not in known]
    mixture.ways += new
    return bool(new)


def _rounded(bounds: Bounds, mixture: Mixture) -> Packs:
    """Each part its largest way; a part that is mixed gets its packs in proportion, rounded up."""
    shares: dict[int, list[tuple[float, Way]]] = {part: [(1.0, way)] for part, way in mixture.key.items()}
    for way, value in zip(mixture.basis, mixture.values, strict=True):
        if way.part >= 0 and value > TINY:
            first = shares[way.part][0]
            shares[way.part][0] = (first[0] - value, first[1])
            shares[way.part].append((value, way))
    bought: Packs = {}
    for mix in shares.values():
        for share, way in mix:
            for number, packs in way.packs if share > TINY else ():
                bought[number] = bought.get(number, 0) + -(-round(packs * share * 10**6) // 10**6)
    return bought
