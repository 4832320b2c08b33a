"""Measured blanks and pieces: against complete search and a library's assignment."""

from __future__ import annotations

import itertools
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.errors import BadInput
from inventory.making.blanks.matching import Barrel, Measured, Unfit, Wanted, match, pieces_from

F = Fraction
SLIM = Wanted("Dunlin", (Barrel(F(56), F(10)), Barrel(F(56), F(10))))
CAPPED = Wanted("Curlew", (Barrel(F(51), F(15)), Barrel(F(56), F(13))))
SINGLE = Wanted("Avocet", (Barrel(F(59), F(14)),))
KERF = F(2)

SIZES = st.tuples(
    st.fractions(min_value=8, max_value=24, max_denominator=4),
    st.fractions(min_value=40, max_value=260, max_denominator=4),
)
BLANKS = st.lists(SIZES, max_size=6).map(
    lambda sizes: [Measured(f"tine {i}", diameter, length) for i, (diameter, length) in enumerate(sizes)]
)


def test_a_piece_needs_its_fattest_barrel() -> None:
    """Both halves come from one blank, so the blank must be enough for the thicker; the bulk counts each."""
    assert CAPPED.diameter == 15
    assert CAPPED.bulk == 15**2 * 51 + 13**2 * 56
    assert pieces_from(Measured("tine", F(14), F(300)), CAPPED, KERF) == 0
    assert pieces_from(Measured("tine", F(15), F(109)), CAPPED, KERF) == 1
    assert pieces_from(Measured("tine", F(15), F(108)), CAPPED, KERF) == 0


def test_the_snuggest_blank_is_taken() -> None:
    """Of three that fit, the one with the least bulk is cut; the fat and the long one are spared."""
    blanks = [
        Measured("fat", F(22), F(120)),
        Measured("snug", F(11), F(118)),
        Measured("long", F(12), F(200)),
        Measured("thin", F(9), F(150)),
    ]
    found = match(blanks, SLIM, KERF, 1)
    assert found.cuts == (("snug", 1),)
    assert found.waste == 11**2 * 118 - 2 * 10**2 * 56
    assert found.unfit == (Unfit("thin", F(0), F(1)),)


def test_one_long_blank_may_beat_two_short_ones() -> None:
    """A blank that gives two pieces is taken where it has less bulk than two that give one each."""
    blanks = [Measured("a", F(12), F(120)), Measured("b", F(12), F(120)), Measured("long", F(11), F(232))]
    assert match(blanks, SLIM, KERF, 2).cuts == (("long", 2),)


def test_the_longest_chosen_blank_is_spared() -> None:
    """Where the chosen blanks could give more than wanted, the longest is cut for fewer pieces."""
    blanks = [Measured("long", F(15), F(200)), Measured("short", F(15), F(130))]
    assert match(blanks, SINGLE, KERF, 4).cuts == (("long", 2), ("short", 2))
    assert match(blanks, SINGLE, KERF, 5).cuts == (("long", 3), ("short", 2))


def test_too_few_say_what_they_lack() -> None:
    """The most pieces possible are made, and each blank that gives none says by how much it falls short."""
    blanks = [
        Measured("good", F(12), F(130)),
        Measured("stub", F(12), F(100)),
        Measured("twig", F(17, 2), F(90)),
    ]
    found = match(blanks, SLIM, KERF, 3)
    assert (found.cuts, found.shortfall) == ((("good", 1),), 2)
    assert [f"{unfit.key}: {unfit}" for unfit in found.unfit] == [
        "stub: length short by 14 mm",
        "twig: length short by 24 mm, diameter short by 1.5 mm",
    ]


def test_no_blanks() -> None:
    """Without measured blanks nothing is matched."""
    found = match([], SLIM, KERF, 3)
    assert not found.cuts
    assert not found.unfit
    assert (found.shortfall, found.waste) == (3, F(0))


@given(BLANKS, st.sampled_from([SLIM, CAPPED, SINGLE]), st.integers(1, 7))
@examples(35)
def test_match_by_complete_search(blanks: list[Measured], wanted: Wanted, pieces: int) -> None:
    """No set of blanks does better: fewest missing, then least waste, then fewest blanks."""
    best = min(
        (
            max(0, pieces - sum(pieces_from(blank, wanted, KERF) for blank in some)),
            sum((blank.bulk for blank in some), F(0)),
            size,
        )
        for size in range(len(blanks) + 1)
        for some in itertools.combinations(blanks, size)
    )
    found = match(blanks, wanted, KERF, pieces)
    by_key = {blank.key: blank for blank in blanks}
    used = sum((by_key[key].bulk for key, _ in found.cuts), F(0))
    assert (found.shortfall, used, len(found.cuts)) == best
    assert sum(number for _, number in found.cuts) == pieces - found.shortfall
    assert all(1 <= number <= pieces_from(by_key[key], wanted, KERF) for key, number in found.cuts)
    assert found.waste == used - (pieces - found.shortfall) * wanted.bulk >= 0
    assert {unfit.key for unfit in found.unfit} == {b.key for b in blanks if not pieces_from(b, wanted, KERF)}
    assert all(str(unfit) for unfit in found.unfit)


@pytest.mark.parametrize(
    ("blanks", "wanted", "pieces", "says"),
    [
        ([Measured("a", F(0), F(9))], SLIM, 1, "blank a has no size"),
        ([Measured("a", F(9), F(0))], SLIM, 1, "blank a has no size"),
        ([Measured("a", F(9), F(9))] * 2, SLIM, 1, "listed twice"),
        ([], Wanted("Dunlin", ()), 1, "at least one segment"),
        ([], Wanted("Dunlin", (Barrel(F(9), F(0)),)), 1, "barrel of Dunlin has no diameter"),
        ([], SLIM, 0, "0 pieces cannot be matched"),
    ],
)
def test_refusals(blanks: list[Measured], wanted: Wanted, pieces: int, says: str) -> None:
    """Blanks and pieces without size are refused in a sentence with a remedy."""
    with pytest.raises(BadInput, match=says) as refusal:
        match(blanks, wanted, KERF, pieces)
    assert refusal.value.hint
