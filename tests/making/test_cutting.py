"""What one blank gives, plans for one kind of piece: the trade's worked cases, a stick cut by hand, complete search."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.errors import BadInput
from inventory.making.blanks.arc_flow import Arc, Finish, build
from inventory.making.blanks.first_fit import Task, first_fit
from inventory.making.blanks.model import (
    BlankStock,
    CutPattern,
    Segment,
    Wanted,
    length_needed,
    one_off,
    pieces_from,
)
from inventory.making.blanks.planning import cutting_plan

from .sawing import check_sawn, length_of, missing, used

F = Fraction
LENGTHS = st.fractions(min_value=10, max_value=300, max_denominator=16)
KERFS = st.sampled_from([F(0), F(1), F(2), F(16, 5)])


def pieces(count: int, *lengths: F) -> Wanted:
    """So many pieces of segments of these lengths."""
    return Wanted("pen", tuple(map(Segment, lengths)), count)


@pytest.mark.practice
@pytest.mark.parametrize(
    ("tubes", "allowance", "kerf", "one_takes", "many"),
    [
        ([F(53), F(53)], F(16, 5), F(2), F(572, 5), 1),
        ([F(53), F(53)], F(19, 2), F(2), F(127), 1),
        ([F(1143, 20)], F(16, 5), F(16, 5), F(1207, 20), 2),
        ([F(1143, 20)], F(127, 20), F(16, 5), F(127, 2), 1),
    ],
    ids=["two tubes, wood", "two tubes, nothing to spare", "single tube, wood", "single tube, chip-prone"],
)
def test_worked_blanks(tubes: list[F], allowance: F, kerf: F, one_takes: F, many: int) -> None:
    """Pens from a 127 mm blank by tube, allowance and kerf (common practice, no source)."""
    pen = pieces(1, *(tube + allowance for tube in tubes))
    assert length_needed(pen, kerf) == one_takes
    assert pieces_from(BlankStock("blank", F(127)), pen, kerf) == many


@given(
    LENGTHS,
    st.lists(st.fractions(min_value=5, max_value=60, max_denominator=16), min_size=1, max_size=3),
    KERFS,
)
@examples(50)
def test_cutting_by_hand(blank: F, segments: list[F], kerf: F) -> None:
    """Sawing segment after segment off a stick gives the same pieces and the same offcut."""
    left, many, rest = blank, 0, blank
    while True:
        for number, segment in enumerate(segments):
            if number or many:
                left -= kerf
            left -= segment
        if left < 0:
            break
        many, rest = many + 1, left
    assert pieces_from(BlankStock(0, blank), pieces(1, *segments), kerf) == many
    if many:
        (pattern,) = cutting_plan([BlankStock(0, blank)], [pieces(many, *segments)], kerf).patterns
        assert pattern.offcut == max(F(0), rest - kerf)


def test_the_last_blank_leaves_its_offcut_long() -> None:
    """Five pieces, two to a blank: two blanks cut in full, a third for one piece only."""
    plan = cutting_plan([BlankStock("square", F(127), 10)], [pieces(5, F(60))], F(2))
    assert set(plan.patterns) == {
        CutPattern("square", (("pen", 2),), 2, F(3)),
        CutPattern("square", (("pen", 1),), 1, F(65)),
    }


def test_a_shorter_kind_is_taken_where_it_wastes_less() -> None:
    """One long blank and one short one for three pieces, rather than two long ones."""
    stock = [BlankStock("long", F(127), 4), BlankStock("short", F(65), 1)]
    assert used(cutting_plan(stock, [pieces(3, F(60))], F(2))) == {"short": 1, "long": 1}


def test_too_few_blanks() -> None:
    """All that give a piece are cut, and the rest is short."""
    stock = [BlankStock("short", F(50), 9), BlankStock("square", F(127), 2), BlankStock("none", F(90), 0)]
    plan = cutting_plan(stock, [pieces(7, F(60))], F(2))
    assert (used(plan), plan.short) == ({"square": 2}, {"pen": 3})


def test_as_many_as_asked_for() -> None:
    """Blanks still to be bought have no limit: the plan says how many it takes."""
    plan = cutting_plan([BlankStock("square", F(127))], [pieces(2_000, F(55), F(55))], F(2))
    assert used(plan) == {"square": 2_000}


STOCK = st.lists(st.tuples(LENGTHS, st.integers(0, 4)), min_size=1, max_size=3)


@given(
    STOCK,
    st.lists(st.fractions(min_value=20, max_value=70, max_denominator=8), min_size=1, max_size=2),
    KERFS,
    st.integers(1, 9),
)
@examples(40)
def test_least_length_by_complete_search(
    kinds: list[tuple[F, int]], segments: list[F], kerf: F, many: int
) -> None:
    """No choice of blanks does better: fewest missing, then least length."""
    stock = [BlankStock(i, length, count) for i, (length, count) in enumerate(kinds)]
    pen = pieces(many, *segments)
    gives = [pieces_from(one, pen, kerf) for one in stock]

    def worth(counts: tuple[int, ...]) -> tuple[int, F]:
        done = sum(each * count for each, count in zip(gives, counts, strict=True))
        length = sum((count * one.length for count, one in zip(counts, stock, strict=True)), F(0))
        return max(0, many - done), length

    best = min(worth(counts) for counts in itertools.product(*(range(count + 1) for _, count in kinds)))
    plan = cutting_plan(stock, [pen], kerf)
    assert (missing(plan), length_of(plan, stock)) == best
    check_sawn(plan, stock, [pen], kerf)


@pytest.mark.parametrize(
    ("stock", "wanted", "kerf", "says"),
    [
        ([BlankStock("a", F(0), 1)], [pieces(1, F(1))], F(0), "blank a has no size"),
        ([one_off("a", F(0), F(9))], [pieces(1, F(1))], F(0), "blank a has no size"),
        ([BlankStock("a", F(9), -1)], [pieces(1, F(1))], F(0), "cannot be -1 of the blank a"),
        ([BlankStock("a", F(9), 1)] * 2, [pieces(1, F(1))], F(0), "kind of blank is listed twice"),
        ([BlankStock("a", F(9), 1)], [pieces(1, F(1))] * 2, F(0), "kind of piece is listed twice"),
        ([BlankStock("a", F(9), 1)], [pieces(1)], F(0), "at least one segment"),
        ([BlankStock("a", F(9), 1)], [pieces(1, F(1), F(0))], F(0), "at least one segment"),
        ([BlankStock("a", F(9), 1)], [pieces(1, F(1))], F(-1), "kerf of -1 mm"),
        ([BlankStock("a", F(9), 1)], [pieces(-1, F(1))], F(0), "-1 of pen cannot be cut"),
    ],
)
def test_refusals(stock: Sequence[BlankStock], wanted: Sequence[Wanted], kerf: F, says: str) -> None:
    """What cannot be cut is refused in a sentence with a remedy."""
    with pytest.raises(BadInput, match=says) as refusal:
        cutting_plan(stock, wanted, kerf)
    assert refusal.value.hint


def test_what_just_fits_is_cut_from_the_same_blank() -> None:
    """Two of 5 fill a blank of 10: one blank, not two."""
    assert first_fit(Task([5], [2], [10], [10], [2])) == {(0, (0, 0)): 1}


def test_cuts_follow_one_another_along_a_blank() -> None:
    """Two of three 3 wide, and one of 2, fit into 7: wide before narrow, each where the one before it ends."""
    found = build([3, 2], [3, 1], [7], 99)
    assert found is not None
    assert set(found.arcs) == {Arc(0, 3, 0), Arc(3, 6, 0), Arc(0, 2, 1), Arc(3, 5, 1)}
    assert set(found.finishes) == {Finish(end, 0) for end in (2, 3, 5, 6)}


def test_what_nobody_said_of_a_piece_or_a_blank_asks_for_nothing() -> None:
    """One piece, of no thickness; a blank of any length is thick enough for it, and has no bulk to lose."""
    pen = Wanted("pen", (Segment(F(30)),))
    assert (pen.count, pen.diameter, pen.bulk) == (1, F(0), F(0))
    assert pieces_from(one_off("twig", F(1, 2), F(65)), pen, F(2)) == 2
    assert BlankStock("blank", F(65)).bulk == 0
    plan = cutting_plan([BlankStock("blank", F(30))], [pen], F(2))
    assert plan.patterns == (CutPattern("blank", (("pen", 1),), 1, F(0)),)
