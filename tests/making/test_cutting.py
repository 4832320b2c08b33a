"""Cut plans for blanks of known length: the trade's worked cases, a stick cut by hand, complete search."""

from __future__ import annotations

import itertools
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.errors import BadInput
from inventory.making.blanks.cutting import (
    Cut,
    Stock,
    TooShort,
    cut_plan,
    length_needed,
    offcut,
    pieces_per_blank,
)

F = Fraction
LENGTHS = st.fractions(min_value=10, max_value=300, max_denominator=16)
KERFS = st.sampled_from([F(0), F(1), F(2), F(16, 5)])


@pytest.mark.practice
@pytest.mark.parametrize(
    ("tubes", "allowance", "kerf", "one_takes", "pieces"),
    [
        ([F(53), F(53)], F(16, 5), F(2), F(572, 5), 1),
        ([F(53), F(53)], F(19, 2), F(2), F(127), 1),
        ([F(1143, 20)], F(16, 5), F(16, 5), F(1207, 20), 2),
        ([F(1143, 20)], F(127, 20), F(16, 5), F(127, 2), 1),
    ],
    ids=["two tubes, wood", "two tubes, nothing to spare", "single tube, wood", "single tube, chip-prone"],
)
def test_worked_blanks(tubes: list[F], allowance: F, kerf: F, one_takes: F, pieces: int) -> None:
    """Pens from a 127 mm blank by tube, allowance and kerf (common practice, no source)."""
    segments = [tube + allowance for tube in tubes]
    assert length_needed(segments, kerf) == one_takes
    assert pieces_per_blank(F(127), segments, kerf) == pieces


@given(
    LENGTHS,
    st.lists(st.fractions(min_value=5, max_value=60, max_denominator=16), min_size=1, max_size=3),
    KERFS,
)
@examples(50)
def test_cutting_by_hand(blank: F, segments: list[F], kerf: F) -> None:
    """Sawing segment after segment off a stick gives the same pieces and the same offcut."""
    left, pieces, rest = blank, 0, blank
    while True:
        for number, segment in enumerate(segments):
            if number or pieces:
                left -= kerf
            left -= segment
        if left < 0:
            break
        pieces, rest = pieces + 1, left
    assert pieces_per_blank(blank, segments, kerf) == pieces
    freed = max(F(0), rest - kerf) if pieces else blank
    assert offcut(blank, segments, kerf, pieces) == freed


def test_the_last_blank_leaves_its_offcut_long() -> None:
    """Five pieces, two to a blank: two blanks cut in full, a third for one piece only."""
    plan = cut_plan([Stock("square", F(127), 10)], [F(60)], F(2), 5)
    assert plan.cuts == (Cut("square", 2, 2, F(3)), Cut("square", 1, 1, F(65)))
    assert (plan.pieces, plan.shortfall, plan.blanks, plan.waste) == (5, 0, 3, F(81))


def test_a_shorter_kind_is_taken_where_it_wastes_less() -> None:
    """One long blank and one short one for three pieces, rather than two long ones."""
    stock = [Stock("long", F(127), 4), Stock("short", F(65), 1)]
    plan = cut_plan(stock, [F(60)], F(2), 3)
    assert plan.cuts == (Cut("short", 1, 1, F(3)), Cut("long", 1, 2, F(3)))


def test_equal_length_goes_to_fewer_blanks() -> None:
    """Where two plans cut into the same length, the one with fewer blanks is taken."""
    stock = [Stock("half", F(60), 9), Stock("double", F(120), 9)]
    assert cut_plan(stock, [F(50)], F(0), 4).cuts == (Cut("double", 2, 2, F(20)),)


def test_too_few_blanks() -> None:
    """All that give a piece are cut, the shortfall and the kinds that are too short are named."""
    plan = cut_plan(
        [Stock("short", F(50), 9), Stock("square", F(127), 2), Stock("none", F(90), 0)], [F(60)], F(2), 7
    )
    assert (plan.pieces, plan.shortfall, plan.blanks) == (4, 3, 2)
    assert plan.too_short == (TooShort("short", F(10)),)


def test_no_blanks_at_all() -> None:
    """Without blanks nothing is cut and everything is short."""
    plan = cut_plan([], [F(60)], F(2), 3)
    assert not plan.cuts
    assert (plan.pieces, plan.shortfall, plan.waste) == (0, 3, F(0))


def test_as_many_as_asked_for() -> None:
    """Blanks still to be bought have no limit: the plan says how many it takes."""
    assert cut_plan([Stock("square", F(127))], [F(55), F(55)], F(2), 2_000).blanks == 2_000


STOCK = st.lists(st.tuples(LENGTHS, st.integers(0, 4)), min_size=1, max_size=3)


@given(
    STOCK,
    st.lists(st.fractions(min_value=20, max_value=70, max_denominator=8), min_size=1, max_size=2),
    KERFS,
    st.integers(1, 9),
)
@examples(70)
def test_least_length_by_complete_search(
    kinds: list[tuple[F, int]], segments: list[F], kerf: F, pieces: int
) -> None:
    """No choice of blanks does better: fewest missing, then least length, then fewest blanks."""
    stock = [Stock(i, length, count) for i, (length, count) in enumerate(kinds)]
    gives = [pieces_per_blank(length, segments, kerf) for length, _ in kinds]

    def worth(counts: tuple[int, ...]) -> tuple[F | int, ...]:
        made = sum(each * count for each, count in zip(gives, counts, strict=True))
        length = sum(count * kind.length for count, kind in zip(counts, stock, strict=True))
        return max(0, pieces - made), length, sum(counts)

    best = min(worth(counts) for counts in itertools.product(*(range(count + 1) for _, count in kinds)))
    plan = cut_plan(stock, segments, kerf, pieces)
    used = sum((stock[int(str(cut.key))].length * cut.blanks for cut in plan.cuts), F(0))
    assert (plan.shortfall, used, plan.blanks) == best
    assert sum(cut.blanks * cut.pieces for cut in plan.cuts) == plan.pieces == pieces - plan.shortfall
    for cut in plan.cuts:
        assert 1 <= cut.pieces <= gives[int(str(cut.key))]
    assert used == plan.waste + plan.pieces * sum(segments)


@pytest.mark.parametrize(
    ("stock", "segments", "kerf", "pieces", "says"),
    [
        ([Stock("a", F(0), 1)], [F(1)], F(0), 1, "blank a has no length"),
        ([Stock("a", F(9), -1)], [F(1)], F(0), 1, "cannot be -1 of the blank a"),
        ([Stock("a", F(9), 1)] * 2, [F(1)], F(0), 1, "listed twice"),
        ([Stock("a", F(9), 1)], [], F(0), 1, "at least one segment"),
        ([Stock("a", F(9), 1)], [F(1), F(0)], F(0), 1, "at least one segment"),
        ([Stock("a", F(9), 1)], [F(1)], F(-1), 1, "kerf of -1 mm"),
        ([Stock("a", F(9), 1)], [F(1)], F(0), 0, "0 pieces cannot be cut"),
    ],
)
def test_refusals(stock: list[Stock], segments: list[F], kerf: F, pieces: int, says: str) -> None:
    """What cannot be cut is refused in a sentence with a remedy."""
    with pytest.raises(BadInput, match=says) as refusal:
        cut_plan(stock, segments, kerf, pieces)
    assert refusal.value.hint
