"""Cut plans looked at from outside: sawn piece by piece, and what they use and lose added up."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

from inventory.making.blanks.model import BlankStock, CutPlan, Wanted


def used(plan: CutPlan) -> dict[object, int]:
    """Blanks cut, by kind."""
    sums: Counter[object] = Counter()
    for pattern in plan.patterns:
        sums[pattern.stock] += pattern.times
    return dict(sums)


def length_of(plan: CutPlan, stock: Sequence[BlankStock]) -> Fraction:
    """Length of the blanks cut, mm."""
    lengths = {one.key: one.length for one in stock}
    return sum((lengths[key] * many for key, many in used(plan).items()), Fraction(0))


def made(plan: CutPlan) -> Counter[object]:
    """Pieces cut, by kind."""
    sums: Counter[object] = Counter()
    for pattern in plan.patterns:
        sums.update({key: many * pattern.times for key, many in pattern.pieces})
    return sums


def missing(plan: CutPlan) -> int:
    """Pieces not made."""
    return sum(plan.short.values())


def lost(plan: CutPlan, stock: Sequence[BlankStock], wanted: Sequence[Wanted]) -> Fraction:
    """Bulk of the one-offs cut less that of the pieces made, mm³."""
    bulks = {one.key: one.bulk for one in stock}
    done = made(plan)
    cut = sum((bulks[key] * many for key, many in used(plan).items()), Fraction(0))
    return cut - sum((one.bulk * done[one.key] for one in wanted), Fraction(0))


def check_sawn(plan: CutPlan, stock: Sequence[BlankStock], wanted: Sequence[Wanted], kerf: Fraction) -> None:
    """The plan saws what it says: each pattern fits, nothing is used up twice, every piece is made or short."""
    kinds, blanks = {one.key: one for one in wanted}, {one.key: one for one in stock}
    for pattern in plan.patterns:
        blank, left, cuts = blanks[pattern.stock], blanks[pattern.stock].length, 0
        for key, many in pattern.pieces:
            assert many > 0
            assert blank.diameter is None or kinds[key].diameter <= blank.diameter
            for segment in kinds[key].segments * many:
                left -= segment.length + (kerf if cuts else 0)
                cuts += 1
        assert cuts
        assert left >= 0
        assert pattern.offcut == max(Fraction(0), left - kerf)
    for key, number in used(plan).items():
        count = blanks[key].count
        assert count is None or number <= count
    done = made(plan)
    assert {key: done[key] + plan.short.get(key, 0) for key in kinds} == {
        key: one.count for key, one in kinds.items()
    }
