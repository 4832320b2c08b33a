"""Measured blanks for a whole session: pieces of several kinds, several pieces to a blank, least waste.

Every way to cut a blank is listed in exact arithmetic. Which blank is cut which way: minimise Σ bulk of the blanks
cut − Σ bulk of the pieces made, after as many of the wanted pieces as possible. An evening's work is gone through
blank by blank (`one_by_one`); beyond that it is a whole-number programme for the solver.
Bulk is d² · L in mm³, as in `inventory.making.blanks.matching`.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping, Sequence
from fractions import Fraction

from inventory.errors import BadInput
from inventory.making.blanks.cutting import as_integers, length_needed
from inventory.making.blanks.matching import Measured, Wanted, check_match
from inventory.making.blanks.one_by_one import fewest_missing_then_least_waste
from inventory.making.blanks.solver import Row, Solved, minimise
from inventory.quick import dataclass

MOST_PATTERNS = 50_000


@dataclass(frozen=True, slots=True)
class Demand:
    """So many pieces of one kind."""

    wanted: Wanted
    count: int


@dataclass(frozen=True, slots=True)
class Packing:
    """What each blank is cut into.

    cuts    blank → (kind of piece, how many) …; blanks left whole are not named
    short   kind of piece → pieces no blank is left for
    waste   bulk of the blanks cut less that of the pieces, mm³
    proven  whether no better packing exists; False only where time ran out
    """

    cuts: Mapping[Hashable, tuple[tuple[Hashable, int], ...]]
    short: Mapping[Hashable, int]
    waste: Fraction
    proven: bool


@dataclass(frozen=True, slots=True)
class _Way:
    """Blank number `blank` cut into `pieces[j]` pieces of kind j."""

    blank: int
    pieces: tuple[int, ...]


def pack_measured(
    measured: Sequence[Measured],
    demands: Sequence[Demand],
    kerf: Fraction,
    time_limit: float = 10.0,
    most: int | None = None,
) -> Packing:
    """Share measured blanks out to the demands: the most pieces, then the least waste. most: blanks to cut, if fewer.

    Errors: `BadInput` as for `match`, and where the blanks can be cut in more than 50,000 ways.
    """
    _check(measured, demands, kerf)
    ways = _ways(measured, demands, kerf)
    if not ways:
        return _packing(measured, demands, (), True)
    if (taken := _gone_through(measured, demands, ways, most)) is not None:
        return _packing(measured, demands, [ways[at] for at in taken], True)
    fewest = _solve(measured, demands, ways, None, time_limit, most)
    missing = (fewest.whole() or _none_made(ways, demands))[len(ways) :]
    best = _solve(measured, demands, ways, sum(missing), time_limit, most)
    values = best.whole() or fewest.whole() or _none_made(ways, demands)
    chosen = tuple(way for way, cut in zip(ways, values, strict=False) if cut)
    return _packing(measured, demands, chosen, fewest.proven and best.proven)


def _gone_through(
    measured: Sequence[Measured], demands: Sequence[Demand], ways: Sequence[_Way], most: int | None
) -> tuple[int, ...] | None:
    """The numbers of the ways to take; None where the solver has to find them."""
    pieces = [demand.wanted.bulk for demand in demands]
    bulks = as_integers([*(blank.bulk for blank in measured), *pieces])
    return fewest_missing_then_least_waste(
        [(way.blank, way.pieces) for way in ways],
        bulks[: len(measured)],
        bulks[len(measured) :],
        tuple(demand.count for demand in demands),
        most,
    )


def _solve(
    measured: Sequence[Measured],
    demands: Sequence[Demand],
    ways: Sequence[_Way],
    missing: int | None,
    time_limit: float,
    blanks: int | None,
) -> Solved:
    """Fewest missing pieces where `missing` is None, else the least waste with that many missing.

    Variables: one for each way (cut so or not), then for each kind the pieces missing.
    """
    kinds = range(len(demands))
    columns = [len(ways) + kind for kind in kinds]
    rows = [
        Row({j: 1 for j, way in enumerate(ways) if way.blank == blank}, high=1)
        for blank in sorted({way.blank for way in ways})
    ]
    for kind, demand in enumerate(demands):
        made = {j: way.pieces[kind] for j, way in enumerate(ways) if way.pieces[kind]}
        rows.append(Row({**made, columns[kind]: 1}, low=demand.count))
    if blanks is not None and blanks < len(measured):
        rows.append(Row(dict.fromkeys(range(len(ways)), 1), high=blanks))
    if missing is not None:
        rows.append(Row(dict.fromkeys(columns, 1), high=missing))
        costs = [float(measured[way.blank].bulk) for way in ways]
        costs += [float(demand.wanted.bulk) for demand in demands]
    else:
        costs = [0.0] * len(ways) + [1.0] * len(demands)
    most = [1] * len(ways) + [demand.count for demand in demands]
    return minimise(costs, rows, most, time_limit)


def _packing(
    measured: Sequence[Measured], demands: Sequence[Demand], chosen: Sequence[_Way], proven: bool
) -> Packing:
    """Count out the pieces wanted over the chosen blanks; what a blank could give beyond is offcut."""
    open_counts = [demand.count for demand in demands]
    cuts: dict[Hashable, tuple[tuple[Hashable, int], ...]] = {}
    waste = Fraction(0)
    for way in chosen:
        taken = [min(most, still) for most, still in zip(way.pieces, open_counts, strict=True)]
        if any(taken):
            open_counts = [still - number for still, number in zip(open_counts, taken, strict=True)]
            named = zip(demands, taken, strict=True)
            cuts[measured[way.blank].key] = tuple((d.wanted.key, number) for d, number in named if number)
            bulks = (number * d.wanted.bulk for d, number in zip(demands, taken, strict=True))
            waste += measured[way.blank].bulk - sum(bulks, Fraction(0))
    short = {demand.wanted.key: still for demand, still in zip(demands, open_counts, strict=True) if still}
    return Packing(cuts, short, waste, proven)


def _ways(measured: Sequence[Measured], demands: Sequence[Demand], kerf: Fraction) -> list[_Way]:
    """Every way to cut each blank to which no further wanted piece could be added."""
    needs = [length_needed(demand.wanted.segments, kerf) + kerf for demand in demands]
    lengths = as_integers([*needs, *(blank.length + kerf for blank in measured)])
    ways: list[_Way] = []
    for number, blank in enumerate(measured):
        most = [d.count if d.wanted.diameter <= blank.diameter else 0 for d in demands]
        room = lengths[len(needs) + number]
        for pieces in _fillings(lengths[: len(needs)], most, room):
            ways.append(_Way(number, pieces))
            if len(ways) > MOST_PATTERNS:
                raise BadInput(
                    f"The measured blanks can be cut in more than {MOST_PATTERNS:,} ways.",
                    hint="Plan fewer kinds of piece at once, or cut the longest blanks to length first.",
                )
    return [way for way in ways if any(way.pieces)]


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


def _none_made(ways: Sequence[_Way], demands: Sequence[Demand]) -> tuple[int, ...]:
    return (*[0] * len(ways), *(demand.count for demand in demands))


def _check(measured: Sequence[Measured], demands: Sequence[Demand], kerf: Fraction) -> None:
    """Refuse what `match` refuses, counts below nothing and a kind asked for twice."""
    check_match(measured, [demand.wanted for demand in demands], kerf)
    if any(demand.count < 0 for demand in demands):
        raise BadInput("Fewer than no pieces cannot be asked for.", hint="Give 0 or more of each kind.")
    if len({demand.wanted.key for demand in demands}) < len(demands):
        raise BadInput("One kind of piece is asked for twice.", hint="Add up the pieces of each kind.")
