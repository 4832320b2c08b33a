"""Measured blanks for several kinds of piece at once: against complete search."""

from __future__ import annotations

import itertools
import random
from collections.abc import Sequence
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.errors import BadInput
from inventory.making.blanks import one_by_one, packing, solver
from inventory.making.blanks.cutting import length_needed
from inventory.making.blanks.matching import Barrel, Measured, Wanted, match
from inventory.making.blanks.packing import Demand, Packing, pack_measured

F = Fraction
SLIM = Wanted("Dunlin", (Barrel(F(56), F(10)), Barrel(F(56), F(10))))
SINGLE = Wanted("Avocet", (Barrel(F(59), F(14)),))
SHORT = Wanted("Sanderling", (Barrel(F(35), F(9)),))
KERF = F(2)

BLANKS = st.lists(
    st.tuples(
        st.fractions(min_value=8, max_value=18, max_denominator=2),
        st.fractions(min_value=30, max_value=180, max_denominator=2),
    ),
    max_size=4,
).map(lambda sizes: [Measured(f"tine {i}", diameter, length) for i, (diameter, length) in enumerate(sizes)])
COUNTS = st.tuples(*[st.integers(0, 2)] * 3)


def complete_search(blanks: list[Measured], demands: list[Demand]) -> tuple[int, F]:
    """Fewest pieces missing, then least waste, over everything every blank could be cut into."""
    choices = []
    for blank in blanks:
        ways = []
        for counts in itertools.product(*(range(demand.count + 1) for demand in demands)):
            taken = [(d.wanted, n) for d, n in zip(demands, counts, strict=True) if n]
            length = sum((n * (length_needed(w.segments, KERF) + KERF) for w, n in taken), F(0))
            if length <= blank.length + KERF and all(w.diameter <= blank.diameter for w, _ in taken):
                ways.append(counts)
        choices.append(ways)
    best: tuple[int, F] | None = None
    for ways_cut in itertools.product(*choices):
        made = [sum(way[kind] for way in ways_cut) for kind in range(len(demands))]
        if all(number <= demand.count for number, demand in zip(made, demands, strict=True)):
            bulk = sum((b.bulk for b, way in zip(blanks, ways_cut, strict=True) if any(way)), F(0))
            bulk -= sum((n * d.wanted.bulk for n, d in zip(made, demands, strict=True)), F(0))
            missing = sum(demand.count for demand in demands) - sum(made)
            best = min(best or (missing, bulk), (missing, bulk))
    assert best is not None
    return best


@pytest.fixture
def solver_only(monkeypatch: pytest.MonkeyPatch) -> None:
    """As where there is too much to go through it blank by blank."""
    monkeypatch.setattr(one_by_one, "MOST_STEPS", -1)


def packed_both_ways(
    blanks: Sequence[Measured], demands: Sequence[Demand], most: int | None = None
) -> tuple[Packing, Packing]:
    """The packing gone through blank by blank, and the solver's."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(packing, "minimise", None)
        own = pack_measured(blanks, demands, KERF, most=most)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(one_by_one, "MOST_STEPS", -1)
        return own, pack_measured(blanks, demands, KERF, most=most)


@pytest.mark.cross_check
def test_the_solver_packs_as_well() -> None:
    """HiGHS wastes as much on heaps of blanks, however many of them may be cut, and makes as many pieces."""
    dice = random.Random(4)
    for _ in range(12):
        blanks = [
            Measured(i, F(dice.randint(18, 40), 2), F(dice.randint(80, 500), 2))
            for i in range(dice.randint(1, 9))
        ]
        demands = [Demand(kind, dice.randint(0, 7)) for kind in (SLIM, SINGLE, SHORT)]
        most = dice.choice([None, 0, 1, 3, 5])
        own, solved = packed_both_ways(blanks, demands, most)
        assert (own.waste, sum(own.short.values())) == (solved.waste, sum(solved.short.values()))
        assert len(own.cuts) <= (len(blanks) if most is None else most)


@pytest.mark.parametrize("steps", [one_by_one.MOST_STEPS, -1])
@given(BLANKS, COUNTS)
@examples(25)
def test_packing_by_complete_search(steps: int, blanks: list[Measured], counts: tuple[int, ...]) -> None:
    """No way of cutting the blanks makes more of the pieces, or as many with less waste."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(one_by_one, "MOST_STEPS", steps)
        _by_complete_search(blanks, counts)


def _by_complete_search(blanks: list[Measured], counts: tuple[int, ...]) -> None:
    demands = [Demand(kind, count) for kind, count in zip((SLIM, SINGLE, SHORT), counts, strict=True)]
    found = pack_measured(blanks, demands, KERF)
    assert found.proven
    assert (sum(found.short.values()), found.waste) == complete_search(blanks, demands)
    for demand in demands:
        made = sum(number for cut in found.cuts.values() for key, number in cut if key == demand.wanted.key)
        assert made + found.short.get(demand.wanted.key, 0) == demand.count


def test_kinds_share_one_blank() -> None:
    """A long blank gives pieces of two kinds, exactly filled; a fat one is left whole."""
    blanks = [Measured("fat", F(30), F(300)), Measured("long", F(14), F(114) + 2 + F(59))]
    found = pack_measured(blanks, [Demand(SLIM, 1), Demand(SINGLE, 1)], KERF)
    assert found.cuts == {"long": (("Dunlin", 1), ("Avocet", 1))}
    assert (found.short, found.waste) == ({}, 14**2 * 175 - SLIM.bulk - SINGLE.bulk)


def test_one_kind_agrees_with_match() -> None:
    """For one kind of piece the programme and the dynamic programme waste the same, on thirty blanks."""
    blanks = [Measured(i, F(9 + i % 7), F(90 + 13 * i % 170)) for i in range(30)]
    found, alone = pack_measured(blanks, [Demand(SLIM, 12)], KERF), match(blanks, SLIM, KERF, 12)
    assert (found.waste, sum(found.short.values())) == (alone.waste, alone.shortfall)


def test_nothing_fits() -> None:
    """Blanks too thin for everything, and no blanks, leave all pieces missing."""
    for blanks in ([], [Measured("twig", F(5), F(300))]):
        found = pack_measured(blanks, [Demand(SLIM, 2)], KERF)
        assert not found.cuts
        assert found.short == {"Dunlin": 2}
        assert (found.waste, found.proven) == (F(0), True)


def test_of_equal_packings_it_is_always_the_same() -> None:
    """Twins: the one listed first, and one blank rather than two."""
    twins = [Measured(name, F(12), F(116)) for name in ("one", "two", "three")]
    assert list(pack_measured(twins, [Demand(SLIM, 2)], KERF).cuts) == ["one", "two"]
    halves = [
        Measured("half", F(14), F(60)),
        Measured("other half", F(14), F(60)),
        Measured("whole", F(14), F(120)),
    ]
    assert list(pack_measured(halves, [Demand(SINGLE, 2)], KERF).cuts) == ["whole"]


@pytest.mark.usefixtures("solver_only")
def test_time_that_runs_out_is_not_called_proven(monkeypatch: pytest.MonkeyPatch) -> None:
    """A solver stopped before it found anything leaves the pieces missing and says it is unproven."""
    monkeypatch.setattr(packing, "minimise", lambda *_: solver.Solved(None, False, 0.0))
    found = pack_measured([Measured("tine", F(12), F(130))], [Demand(SLIM, 1)], KERF)
    assert (found.cuts, found.short, found.proven) == ({}, {"Dunlin": 1}, False)


@pytest.mark.usefixtures("solver_only")
def test_time_that_runs_out_halfway_keeps_what_was_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """With the fewest missing known but not the least waste, a blank that turns out needless is left whole."""
    answers = iter([solver.Solved((1.0, 1.0, 0.0), True, 0.0), solver.Solved(None, False, 0.0)])
    monkeypatch.setattr(packing, "minimise", lambda *_: next(answers))
    blanks = [Measured("one", F(12), F(130)), Measured("two", F(12), F(130))]
    found = pack_measured(blanks, [Demand(SLIM, 1)], KERF)
    assert found.cuts == {"one": (("Dunlin", 1),)}
    assert (found.short, found.proven) == ({}, False)


def test_refusals(monkeypatch: pytest.MonkeyPatch) -> None:
    """Counts below nothing, a kind asked for twice and too many ways to cut are refused."""
    blank = [Measured("tine", F(20), F(200))]
    with pytest.raises(BadInput, match="Fewer than no pieces"):
        pack_measured(blank, [Demand(SLIM, -1)], KERF)
    with pytest.raises(BadInput, match="asked for twice"):
        pack_measured(blank, [Demand(SLIM, 1), Demand(SLIM, 2)], KERF)
    monkeypatch.setattr(packing, "MOST_PATTERNS", 1)
    with pytest.raises(BadInput, match="more than 1 ways"):
        pack_measured(blank, [Demand(SLIM, 1), Demand(SINGLE, 3)], KERF)
