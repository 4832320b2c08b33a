"""Measured one-offs for one kind of piece and for several at once: against complete search."""

from __future__ import annotations

import itertools
import random
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.errors import BadInput
from inventory.making.blanks import one_by_one, one_offs, solver
from inventory.making.blanks.model import (
    BlankStock,
    CutPlan,
    Segment,
    Wanted,
    lacks,
    length_needed,
    one_off,
    pieces_from,
)
from inventory.making.blanks.planning import cutting_plan

from .sawing import check_sawn, lost, made, missing, used

F = Fraction
SLIM = Wanted("Dunlin", (Segment(F(56), F(10)), Segment(F(56), F(10))))
CAPPED = Wanted("Curlew", (Segment(F(51), F(15)), Segment(F(56), F(13))))
SINGLE = Wanted("Avocet", (Segment(F(59), F(14)),))
SHORT = Wanted("Sanderling", (Segment(F(35), F(9)),))
KERF = F(2)

SIZES = st.tuples(
    st.fractions(min_value=8, max_value=20, max_denominator=2),
    st.fractions(min_value=30, max_value=200, max_denominator=2),
)


def tines(sizes: Sequence[tuple[F, F]]) -> list[BlankStock]:
    """One-offs of these diameters and lengths."""
    return [one_off(f"tine {i}", diameter, length) for i, (diameter, length) in enumerate(sizes)]


FEW = st.lists(SIZES, max_size=4).map(tines)
MORE = st.lists(SIZES, max_size=6).map(tines)


def many(kind: Wanted, count: int) -> Wanted:
    """So many of a kind."""
    return replace(kind, count=count)


def cut_of(plan: CutPlan) -> dict[object, tuple[tuple[object, int], ...]]:
    """What each blank is cut into."""
    return {one.stock: one.pieces for one in plan.patterns}


def test_a_piece_needs_its_fattest_barrel() -> None:
    """Both halves come from one blank, so the blank must be enough for the thicker; the bulk counts each."""
    assert CAPPED.diameter == 15
    assert CAPPED.bulk == 15**2 * 51 + 13**2 * 56
    assert pieces_from(one_off("tine", F(14), F(300)), CAPPED, KERF) == 0
    assert pieces_from(one_off("tine", F(15), F(109)), CAPPED, KERF) == 1
    assert pieces_from(one_off("tine", F(15), F(108)), CAPPED, KERF) == 0


def test_the_snuggest_blank_is_taken() -> None:
    """Of three that fit, the one with the least bulk is cut; the fat and the long one are spared."""
    blanks = [
        one_off("fat", F(22), F(120)),
        one_off("snug", F(11), F(118)),
        one_off("long", F(12), F(200)),
        one_off("thin", F(9), F(150)),
    ]
    found = cutting_plan(blanks, [SLIM], KERF)
    assert cut_of(found) == {"snug": (("Dunlin", 1),)}
    assert lost(found, blanks, [SLIM]) == 11**2 * 118 - 2 * 10**2 * 56


def test_one_long_blank_may_beat_two_short_ones() -> None:
    """A blank that gives two pieces is taken where it has less bulk than two that give one each."""
    blanks = [one_off("a", F(12), F(120)), one_off("b", F(12), F(120)), one_off("long", F(11), F(232))]
    assert cut_of(cutting_plan(blanks, [many(SLIM, 2)], KERF)) == {"long": (("Dunlin", 2),)}


def test_the_longest_chosen_blank_is_spared() -> None:
    """Where the chosen blanks could give more than wanted, the longest is cut for fewer pieces."""
    blanks = [one_off("long", F(15), F(200)), one_off("short", F(15), F(130))]
    for count, of_long in ((4, 2), (5, 3)):
        found = cutting_plan(blanks, [many(SINGLE, count)], KERF)
        assert cut_of(found) == {"long": (("Avocet", of_long),), "short": (("Avocet", 2),)}


def test_too_few_say_what_they_lack() -> None:
    """The most pieces possible are made, and each blank that gives none can say by how much it falls short."""
    blanks = [
        one_off("good", F(12), F(130)),
        one_off("stub", F(12), F(100)),
        one_off("twig", F(17, 2), F(90)),
    ]
    found = cutting_plan(blanks, [many(SLIM, 3)], KERF)
    assert (cut_of(found), found.short) == ({"good": (("Dunlin", 1),)}, {"Dunlin": 2})
    assert [lacks(blank, SLIM, KERF) for blank in blanks] == [
        "",
        "length short by 14 mm",
        "length short by 24 mm, diameter short by 1.5 mm",
    ]
    assert lacks(BlankStock("square", F(100)), SLIM, KERF) == "length short by 14 mm"


@given(MORE, st.sampled_from([SLIM, CAPPED, SINGLE]), st.integers(1, 7))
@examples(35)
def test_one_kind_by_complete_search(blanks: list[BlankStock], kind: Wanted, count: int) -> None:
    """No set of blanks does better: fewest missing, then least bulk, then fewest blanks."""
    best = min(
        (
            max(0, count - sum(pieces_from(blank, kind, KERF) for blank in some)),
            sum((blank.bulk for blank in some), F(0)),
            size,
        )
        for size in range(len(blanks) + 1)
        for some in itertools.combinations(blanks, size)
    )
    wanted = [many(kind, count)]
    found = cutting_plan(blanks, wanted, KERF)
    check_sawn(found, blanks, wanted, KERF)
    bulk = lost(found, blanks, wanted) + made(found)[kind.key] * kind.bulk
    assert (missing(found), bulk, len(used(found))) == best


def complete_search(blanks: Sequence[BlankStock], wanted: Sequence[Wanted]) -> tuple[int, F]:
    """Fewest pieces missing, then least bulk lost, over everything every blank could be cut into."""
    choices = []
    for blank in blanks:
        ways = []
        for counts in itertools.product(*(range(one.count + 1) for one in wanted)):
            taken = [(one, n) for one, n in zip(wanted, counts, strict=True) if n]
            length = sum((n * (length_needed(one, KERF) + KERF) for one, n in taken), F(0))
            if length <= blank.length + KERF and all(
                one.diameter <= (blank.diameter or 0) for one, _ in taken
            ):
                ways.append(counts)
        choices.append(ways)
    best: tuple[int, F] | None = None
    for ways_cut in itertools.product(*choices):
        done = [sum(way[kind] for way in ways_cut) for kind in range(len(wanted))]
        if all(number <= one.count for number, one in zip(done, wanted, strict=True)):
            bulk = sum((b.bulk for b, way in zip(blanks, ways_cut, strict=True) if any(way)), F(0))
            bulk -= sum((n * one.bulk for n, one in zip(done, wanted, strict=True)), F(0))
            left = sum(one.count for one in wanted) - sum(done)
            best = min(best or (left, bulk), (left, bulk))
    assert best is not None
    return best


@pytest.fixture
def solver_only(monkeypatch: pytest.MonkeyPatch) -> None:
    """As where there is too much to go through it blank by blank."""
    monkeypatch.setattr(one_by_one, "MOST_STEPS", -1)


@pytest.mark.cross_check
def test_the_solver_cuts_as_well() -> None:
    """HiGHS loses as much on heaps of blanks, however many of them may be cut, and makes as many pieces."""
    dice = random.Random(4)
    for _ in range(12):
        blanks = [
            one_off(i, F(dice.randint(18, 40), 2), F(dice.randint(80, 500), 2))
            for i in range(dice.randint(1, 9))
        ]
        wanted = [many(kind, dice.randint(0, 7)) for kind in (SLIM, SINGLE, SHORT)]
        most = dice.choice([None, 0, 1, 3, 5])
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(one_offs, "minimise", None)
            own = cutting_plan(blanks, wanted, KERF, most=most)
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(one_by_one, "MOST_STEPS", -1)
            solved = cutting_plan(blanks, wanted, KERF, most=most)
        for found in (own, solved):
            check_sawn(found, blanks, wanted, KERF)
            assert len(found.patterns) <= (len(blanks) if most is None else most)
        assert missing(own) == missing(solved)
        assert lost(own, blanks, wanted) == lost(solved, blanks, wanted)


@pytest.mark.parametrize("steps", [one_by_one.MOST_STEPS, -1])
@given(FEW, st.tuples(*[st.integers(0, 2)] * 3))
@examples(25)
def test_several_kinds_by_complete_search(
    steps: int, blanks: list[BlankStock], counts: tuple[int, ...]
) -> None:
    """No way of cutting the blanks makes more of the pieces, or as many with less lost."""
    wanted = [many(kind, count) for kind, count in zip((SLIM, SINGLE, SHORT), counts, strict=True)]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(one_by_one, "MOST_STEPS", steps)
        found = cutting_plan(blanks, wanted, KERF)
    assert found.proven
    assert (missing(found), lost(found, blanks, wanted)) == complete_search(blanks, wanted)
    check_sawn(found, blanks, wanted, KERF)


def test_kinds_share_one_blank() -> None:
    """A long blank gives pieces of two kinds, exactly filled; a fat one is left whole."""
    blanks = [one_off("fat", F(30), F(300)), one_off("long", F(14), F(114) + 2 + F(59))]
    found = cutting_plan(blanks, [SLIM, SINGLE], KERF)
    assert cut_of(found) == {"long": (("Dunlin", 1), ("Avocet", 1))}
    assert (found.short, found.patterns[0].offcut) == ({}, F(0))


def test_nothing_fits() -> None:
    """Blanks too thin for everything, or none at all, leave all pieces missing."""
    for blanks in ([], [one_off("twig", F(5), F(300))]):
        found = cutting_plan(blanks, [many(SLIM, 2)], KERF)
        assert (found.patterns, found.short, found.proven) == ((), {"Dunlin": 2}, True)


def test_of_equal_plans_it_is_always_the_same() -> None:
    """Twins: the one listed first, and one blank rather than two."""
    twins = [one_off(name, F(12), F(116)) for name in ("one", "two", "three")]
    assert list(cut_of(cutting_plan(twins, [many(SLIM, 2)], KERF))) == ["one", "two"]
    halves = [
        one_off("half", F(14), F(60)),
        one_off("other half", F(14), F(60)),
        one_off("whole", F(14), F(120)),
    ]
    assert list(cut_of(cutting_plan(halves, [many(SINGLE, 2)], KERF))) == ["whole"]


@pytest.mark.usefixtures("solver_only")
def test_time_that_runs_out_is_not_called_proven(monkeypatch: pytest.MonkeyPatch) -> None:
    """A solver stopped before it found anything leaves the pieces missing and says it is unproven."""
    monkeypatch.setattr(one_offs, "minimise", lambda *_: solver.Solved(None, False, 0.0))
    found = cutting_plan([one_off("tine", F(12), F(130))], [SLIM], KERF)
    assert (found.patterns, found.short, found.proven) == ((), {"Dunlin": 1}, False)


@pytest.mark.usefixtures("solver_only")
def test_time_that_runs_out_halfway_keeps_what_was_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """With the fewest missing known but not the least lost, a blank that turns out needless is left whole."""
    answers = iter([solver.Solved((1.0, 1.0, 0.0), True, 0.0), solver.Solved(None, False, 0.0)])
    monkeypatch.setattr(one_offs, "minimise", lambda *_: next(answers))
    blanks = [one_off("one", F(12), F(130)), one_off("two", F(12), F(130))]
    found = cutting_plan(blanks, [SLIM], KERF)
    assert cut_of(found) == {"one": (("Dunlin", 1),)}
    assert (found.short, found.proven) == ({}, False)


def test_too_many_ways_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """With what to do about it."""
    monkeypatch.setattr(one_offs, "MOST_PATTERNS", 1)
    with pytest.raises(BadInput, match="more than 1 ways"):
        cutting_plan([one_off("tine", F(20), F(200))], [SLIM, many(SINGLE, 3)], KERF)
