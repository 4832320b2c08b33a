"""The same packing by going through the blanks one by one, where few pieces are wanted: exact, and without a solver.

What matters of the blanks gone through is only how many pieces of each kind they gave (no more than are wanted) and,
where blanks are limited, how many were cut. Of all ways to get there the one with the least bulk is kept, then the one
with the fewest blanks, then the one found first; so at the end, of equal packings it is always the same.
"""

from __future__ import annotations

from collections.abc import Sequence

MOST_STEPS = 100_000
"""Ways looked at (a tenth of a second) beyond which the solver is faster, what loading it takes included."""

Pieces = tuple[int, ...]
_Kept = tuple[int, int, tuple[int, ...]]
"""Bulk of the blanks cut, how many they are, and the numbers of the ways they are cut."""


def fewest_missing_then_least_waste(
    ways: Sequence[tuple[int, Pieces]],
    blanks: Sequence[int],
    kinds: Sequence[int],
    wanted: Pieces,
    most: int | None,
) -> tuple[int, ...] | None:
    """The ways to take: the most pieces of those wanted, then the least waste; None where that is too much work.

    ways: the number of a blank, ascending, and the pieces of each kind it is cut into; blanks, kinds: the bulk of each
    blank and of one piece of each kind, whole numbers of one unit; most: blanks that may be cut, None for all.
    """
    of_blank: dict[int, list[tuple[int, Pieces]]] = {}
    for number, (blank, pieces) in enumerate(ways):
        of_blank.setdefault(blank, []).append((number, pieces))
    limit = len(of_blank) if most is None else most
    counted = limit < min(len(of_blank), sum(wanted))  # a blank that gives nothing more is never cut
    states: dict[tuple[int, Pieces], _Kept] = {(0, tuple(0 for _ in wanted)): (0, 0, ())}
    steps = 0
    for blank, several in of_blank.items():
        steps += len(states) * len(several)
        if steps > MOST_STEPS:
            return None
        states = _with_blank(states, several, blanks[blank], wanted, limit if counted else None)
    bulks = {
        (-sum(made), kept[0] - sum(map(int.__mul__, made, kinds)), kept[1:])
        for (_, made), kept in states.items()
    }
    return min(bulks)[2][1]


def _with_blank(
    states: dict[tuple[int, Pieces], _Kept],
    several: Sequence[tuple[int, Pieces]],
    bulk: int,
    wanted: Pieces,
    limit: int | None,
) -> dict[tuple[int, Pieces], _Kept]:
    """What there may be once one blank more was gone through: left whole, or cut in one of several ways."""
    after = dict(states)
    for (cut, made), (before, many, chosen) in states.items():
        if limit is not None and cut >= limit:
            continue
        for number, pieces in reversed(several):
            now = tuple(map(min, wanted, map(int.__add__, made, pieces)))
            key = cut + (limit is not None), now
            kept = before + bulk, many + 1, (*chosen, number)
            if key not in after or kept[:2] < after[key][:2]:
                after[key] = kept
    return after
