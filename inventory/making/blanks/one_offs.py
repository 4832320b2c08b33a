"""Measured one-offs: pieces of several kinds, several pieces to a blank, least bulk lost.

Every way to cut a blank is listed in exact arithmetic. Which blank is cut which way: minimise Σ bulk of the blanks
cut − Σ bulk of the pieces made, after as many of the wanted pieces as possible. An evening's work is gone through
blank by blank (`one_by_one`); beyond that it is a whole-number programme for the solver.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from inventory.errors import BadInput
from inventory.making.blanks.model import (
    BlankStock,
    Cut,
    CutPlan,
    Wanted,
    as_integers,
    length_needed,
    plan_of,
)
from inventory.making.blanks.one_by_one import fewest_missing_then_least_waste
from inventory.making.blanks.solver import Constraint, Solved, minimise

MOST_PATTERNS = 50_000

Way = tuple[int, tuple[int, ...]]
"""The number of a blank, and how many pieces of each kind it is cut into."""


def plan_one_offs(
    stock: Sequence[BlankStock], wanted: Sequence[Wanted], kerf: Fraction, most: int | None, time_limit: float
) -> CutPlan:
    """The most pieces, then the least bulk lost; most: blanks to cut, if not all."""
    ways = _ways(stock, wanted, kerf)
    bulks = as_integers([*(one.bulk for one in stock), *(one.bulk for one in wanted)])
    blanks, pieces = bulks[: len(stock)], bulks[len(stock) :]
    counts = tuple(one.count for one in wanted)
    taken = fewest_missing_then_least_waste(ways, blanks, pieces, counts, most) if ways else ()
    if taken is not None:
        return _counted_out(stock, wanted, kerf, [ways[at] for at in taken], proven=True)
    none = (*[0] * len(ways), *counts)
    fewest = _solve(ways, counts, [0] * len(ways) + [1] * len(wanted), None, time_limit, most)
    missing = (fewest.whole() or none)[len(ways) :]
    lost = [float(stock[blank].bulk) for blank, _ in ways] + [float(one.bulk) for one in wanted]
    best = _solve(ways, counts, lost, sum(missing), time_limit, most)
    values = best.whole() or fewest.whole() or none
    chosen = [way for way, cut in zip(ways, values, strict=False) if cut]
    return _counted_out(stock, wanted, kerf, chosen, proven=fewest.proven and best.proven)


def _solve(
    ways: Sequence[Way],
    counts: Sequence[int],
    costs: Sequence[float],
    missing: int | None,
    time_limit: float,
    blanks: int | None,
) -> Solved:
    """Variables: one for each way (cut so or not), then for each kind the pieces missing (None: any number)."""
    columns = range(len(ways), len(ways) + len(counts))
    rows = [
        Constraint({j: 1 for j, way in enumerate(ways) if way[0] == blank}, high=1)
        for blank in sorted({way[0] for way in ways})
    ]
    for kind, count in enumerate(counts):
        made = {j: pieces[kind] for j, (_, pieces) in enumerate(ways) if pieces[kind]}
        rows.append(Constraint({**made, columns[kind]: 1}, low=count))
    if blanks is not None:
        rows.append(Constraint(dict.fromkeys(range(len(ways)), 1), high=blanks))
    if missing is not None:
        rows.append(Constraint(dict.fromkeys(columns, 1), high=missing))
    return minimise(costs, rows, [1] * len(ways) + list(counts), time_limit)


def _counted_out(
    stock: Sequence[BlankStock],
    wanted: Sequence[Wanted],
    kerf: Fraction,
    chosen: Sequence[Way],
    *,
    proven: bool,
) -> CutPlan:
    """The pieces wanted over the blanks chosen, the longest blank last: what is spared stays in one long offcut."""
    left = [one.count for one in wanted]
    given: dict[int, tuple[tuple[int, int], ...]] = {}
    for blank, pieces in sorted(chosen, key=lambda way: stock[way[0]].length):
        taken = [min(most, still) for most, still in zip(pieces, left, strict=True)]
        left = [still - number for still, number in zip(left, taken, strict=True)]
        given[blank] = tuple((kind, number) for kind, number in enumerate(taken) if number)
    cuts: list[Cut] = [(blank, pieces, 1) for blank, pieces in sorted(given.items()) if pieces]
    return plan_of(stock, wanted, kerf, cuts, proven=proven)


def _ways(stock: Sequence[BlankStock], wanted: Sequence[Wanted], kerf: Fraction) -> list[Way]:
    """Every way to cut each blank to which no further wanted piece could be added."""
    needs = [length_needed(one, kerf) + kerf for one in wanted]
    lengths = as_integers([*needs, *(blank.length + kerf for blank in stock)])
    ways: list[Way] = []
    for number, blank in enumerate(stock):
        thick = blank.diameter or Fraction(0)
        most = [one.count if one.diameter <= thick else 0 for one in wanted]
        room = lengths[len(needs) + number]
        for pieces in _fillings(lengths[: len(needs)], most, room):
            ways.append((number, pieces))
            if len(ways) > MOST_PATTERNS:
                raise BadInput(
                    f"The measured blanks can be cut in more than {MOST_PATTERNS:,} ways.",
                    hint="Plan fewer kinds of piece at once, or cut the longest blanks to length first.",
                )
    return [way for way in ways if any(way[1])]


def _fillings(lengths: Sequence[int], most: Sequence[int], room: int) -> Iterator[tuple[int, ...]]:
    """Counts of each kind that fit into `room` and leave no room for one more of any kind still wanted."""
    if not lengths:
        yield ()
        return
    for count in range(min(most[0], room // lengths[0]), -1, -1):
        left = room - count * lengths[0]
        for others in _fillings(lengths[1:], most[1:], left):
            rest = left - sum(n * length for n, length in zip(others, lengths[1:], strict=True))
            if count == most[0] or rest < lengths[0]:
                yield count, *others
