"""The joint probability: exact against simulation, enumeration, the bench itself and a statistics library."""

from __future__ import annotations

import itertools
import subprocess
import sys
from collections.abc import Iterable, Sequence
from math import comb, sqrt
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from searching import examples

from inventory.errors import BadInput
from inventory.making.budgets import Budget, probability_within
from inventory.making.evening import evening
from inventory.making.joint_probability import (
    JointProbability,
    Need,
    joint_probability,
    simulated_probability,
)
from inventory.making.losses.starts import Survival


def known(shares: Iterable[float]) -> tuple[Survival, ...]:
    """Shares that are known exactly."""
    return tuple(Survival(share) for share in shares)


STAGES = (0.97, 0.95, 0.98, 0.96, 0.93, 0.97, 0.985, 1.0)
KNOWN = known(STAGES)
SHOP = (
    Need("blank", {0: 1}, free=13),
    Need("tube", {2: 2}, free=26),
    Need("epoxy", {2: 1500, 6: 300}, per_session=2000, free=23_500),
    Need("adhesive", {3: 170, 5: 1300}, free=17_500),
    Need("kit", {6: 1}, free=10),
    Need("box", {7: 1}, free=12),
    Need("tap water", {5: 9}),
)


def enough(need: Need, reached: Sequence[int]) -> bool:
    """The definition: what pieces and session take is there."""
    used = need.per_session + sum(quantity * reached[stage] for stage, quantity in need.by_stage.items())
    return need.free is None or used <= need.free


def by_enumeration(good: int, stages: Sequence[float], needs: Sequence[Need], most: int = 40) -> float:
    """Sum over every number of failures at every stage up to `most`, straight from the definition."""
    total = 0.0
    for failures in itertools.product(range(most), repeat=len(stages)):
        probability, reach, reached = 1.0, good, [0] * len(stages)
        for stage in reversed(range(len(stages))):
            k, p = failures[stage], stages[stage]
            probability *= comb(reach + k - 1, k) * p**reach * (1 - p) ** k
            reach += k
            reached[stage] = reach
        total += probability * all(enough(need, reached) for need in needs)
    return total


def at_the_bench(good: int, stages: Sequence[float], needs: Sequence[Need], runs: int) -> float:
    """Start one piece after another until `good` are good, counting what reaches each stage."""
    dice, hits = Random(7), 0
    for _ in range(runs):
        done, reached = 0, [0] * len(stages)
        while done < good:
            for stage, success in enumerate(stages):
                reached[stage] += 1
                if dice.random() >= success:
                    break
            else:
                done += 1
        hits += all(enough(need, reached) for need in needs)
    return hits / runs


@pytest.mark.outside
@given(
    st.integers(1, 40), st.lists(st.floats(0.3, 1.0), min_size=1, max_size=4), st.integers(0, 60), st.data()
)
@examples(35)
def test_one_part_at_one_stage(good: int, stages: list[float], spare: int, data: st.DataObject) -> None:
    """A part used at one stage suffices with the negative binomial probability of scipy.stats."""
    stage = data.draw(st.integers(0, len(stages) - 1))
    found = joint_probability(
        good, known(stages), [Need("blank", {stage: 3}, per_session=5, free=5 + 3 * (good + spare) + 2)]
    )
    onward = 1.0
    for success in stages[stage:]:
        onward *= success
    assert found.probability == pytest.approx(stats.nbinom.cdf(spare, good, onward), abs=1e-9)
    assert found.how == "exact"


@pytest.mark.parametrize(
    "needs",
    [
        [Need("a", {0: 1}, free=5)],
        [Need("a", {0: 1}, free=6), Need("b", {1: 1}, free=4)],
        [Need("a", {0: 2, 1: 3}, per_session=1, free=24)],
        [Need("a", {0: 2, 1: 3}, free=24), Need("b", {0: 1, 1: 1}, free=8), Need("c", {1: 1}, free=4)],
        [
            Need("a", {0: 4, 1: 6}, free=51),
            Need("b", {0: 2, 1: 3}, free=25),
            Need("c", {0: 5, 1: 1}, free=33),
        ],
    ],
    ids=["one stage", "two parts", "two stages", "shared stages", "same proportions"],
)
def test_exact_is_the_sum_over_all_outcomes(needs: list[Need]) -> None:
    """The recursion gives what adding up every outcome gives."""
    expected = by_enumeration(3, (0.7, 0.8), needs)
    assert joint_probability(3, known((0.7, 0.8)), needs).probability == pytest.approx(expected, abs=1e-9)


def test_exact_over_three_stages_is_the_sum_over_all_outcomes() -> None:
    """A budget drawn on at three stages, beside one drawn on at two of them."""
    stages, needs = (
        (0.9, 0.85, 0.9),
        [Need("a", {0: 1, 1: 2, 2: 3}, free=17), Need("b", {0: 1, 2: 1}, free=6)],
    )
    assert joint_probability(2, known(stages), needs).probability == pytest.approx(
        by_enumeration(2, stages, needs, 25), abs=1e-9
    )


def fades(steps: int) -> float:
    """A bottle that covers ten steps surely, forty never, and what lies between more and more doubtfully."""
    return min(1.0, max(0.0, (40 - steps) / 30))


@pytest.mark.parametrize(
    "needs",
    [
        [Need("bottle", {1: 2}, per_session=3, free=1, covers=fades)],
        [Need("bottle", {0: 1, 2: 3}, per_session=1, free=1, covers=fades)],
        [Need("bottle", {}, per_session=25, free=1, covers=fades), Need("kit", {2: 1}, free=3)],
        [
            Need("bottle", {0: 2, 1: 1}, free=1, covers=fades),
            Need("jar", {1: 3, 2: 2}, free=1, covers=fades),
            Need("tube", {0: 1, 1: 2}, free=12),
            Need("kit", {2: 1}, free=4),
        ],
    ],
    ids=["one stage", "two stages", "once a session", "two bottles among others"],
)
def test_a_doubtful_use_is_mixed_in_exactly(needs: list[Need]) -> None:
    """Over every outcome: its own chance times those of each bottle to cover what that outcome asks of it."""
    stages, expected = (0.9, 0.8, 0.9), 0.0
    for failures in itertools.product(range(25), repeat=3):
        probability, reach, reached = 1.0, 2, [0, 0, 0]
        for stage in (2, 1, 0):
            k, p = failures[stage], stages[stage]
            probability *= comb(reach + k - 1, k) * p**reach * (1 - p) ** k
            reach += k
            reached[stage] = reach
        for need in needs:
            used = need.per_session + sum(take * reached[stage] for stage, take in need.by_stage.items())
            probability *= need.covers(used) if need.covers else used <= (need.free or 0)
        expected += probability
    found = joint_probability(2, known(stages), needs)
    assert found.how == "exact"
    assert found.probability == pytest.approx(expected, abs=1e-6)
    simulated = simulated_probability(2, known(stages), needs)
    assert simulated.probability == pytest.approx(expected, abs=4 * simulated.error)


@pytest.mark.outside
@pytest.mark.parametrize(("worth", "free"), [(6.0, 12), (40.0, 11), (500.0, 14), (5_000.0, 13)])
def test_a_share_hardly_known(worth: float, free: int) -> None:
    """One lossy stage and one part: the distribution of scipy.stats.betanbinom; runs say the same."""
    survivals = (Survival(0.85, worth), Survival(1.0))
    law = stats.betanbinom(10, *survivals[0].beta)
    needs = [Need("blank", {0: 1}, free=free), Need("box", {1: 2}, free=20)]
    found = joint_probability(10, survivals, needs)
    assert found.probability == pytest.approx(law.cdf(free - 10), abs=1e-9)
    simulated = simulated_probability(10, survivals, needs)
    assert abs(simulated.probability - found.probability) < 4 * simulated.error


def test_exact_is_what_happens_at_the_bench() -> None:
    """Pieces started one by one until enough are good leave enough of everything as often as the probability say."""
    runs = 12_000
    exact = joint_probability(10, KNOWN, SHOP).probability
    assert 0.1 < exact < 0.9, "the case must be able to fail"
    seen = at_the_bench(10, STAGES, SHOP, runs)
    assert abs(seen - exact) < 4 * sqrt(exact * (1 - exact) / runs)


def test_simulation_agrees_with_the_recursion() -> None:
    """Joint and by part the simulated lie within four standard errors of the exact."""
    exact, simulated = (
        joint_probability(10, KNOWN, SHOP),
        simulated_probability(10, KNOWN, SHOP, runs=10_000, seed=3),
    )
    assert (exact.how, simulated.how) == ("exact", "simulated")
    assert 0 < simulated.error < 0.006
    assert abs(exact.probability - simulated.probability) < 4 * simulated.error
    for part, alone in exact.by_part.items():
        assert abs(alone - simulated.by_part[part]) < 4 * sqrt(max(alone * (1 - alone), 1e-4) / 10_000)
    assert exact.weakest == simulated.weakest


def test_too_much_work_is_simulated() -> None:
    """Where the recursion would take too long the probability are simulated, the same each time, and say so."""
    first = joint_probability(10, KNOWN, SHOP, most_steps=10, runs=2_000)
    assert first.how == "simulated"
    assert first == joint_probability(10, KNOWN, SHOP, most_steps=10, runs=2_000)
    assert first != joint_probability(10, KNOWN, SHOP, most_steps=10, runs=2_000, seed=5)
    assert abs(first.probability - joint_probability(10, KNOWN, SHOP).probability) < 4 * first.error


def test_a_large_session_stays_exact() -> None:
    """Three hundred pieces with several parts used at several stages are within the work allowed."""
    needs = [
        Need("blank", {0: 1}, free=420),
        Need("epoxy", {2: 1531, 6: 307}, per_session=2000, free=650_000),
        Need("adhesive", {3: 173, 5: 1301}, free=520_000),
        Need("abrasive", {4: 331, 5: 503}, free=301_000),
    ]
    found = joint_probability(300, KNOWN, needs)
    assert found.how == "exact"
    simulated = simulated_probability(300, KNOWN, needs, runs=5_000)
    assert abs(found.probability - simulated.probability) < 4 * simulated.error


def test_the_weakest_part_is_named() -> None:
    """The part least likely to suffice is named; a part that cannot run out has a probability of 1 and is never it."""
    found = joint_probability(10, KNOWN, SHOP)
    assert found.weakest == min(found.by_part, key=lambda part: found.by_part[part]) == "blank"
    assert found.by_part["tap water"] == 1.0
    assert list(found.by_part) == [need.part for need in SHOP]


@pytest.mark.parametrize("needs", [[], [Need("tap water", {0: 3})]], ids=["nothing used", "cannot run out"])
def test_nothing_that_can_run_out(needs: list[Need]) -> None:
    """Without a part that can run out the probability are 1 and no part is weakest."""
    found = joint_probability(5, KNOWN, needs)
    assert found == JointProbability(1.0, "exact", found.error, None, {need.part: 1.0 for need in needs})
    assert simulated_probability(5, KNOWN, needs, runs=10).probability == 1.0


@pytest.mark.parametrize(
    ("need", "probability"),
    [
        (Need("pot", {}, per_session=5, free=5), 1.0),
        (Need("pot", {}, per_session=5, free=4), 0.0),
        (Need("kit", {1: 1}, free=9), 0.0),
        (Need("kit", {1: 1}, free=10), 1.0),
        (Need("kit", {1: 0}, free=0), 1.0),
    ],
    ids=["pot just covered", "pot not covered", "one kit short", "kits just enough", "none used"],
)
def test_certain_cases(need: Need, probability: float) -> None:
    """Where chance has no say the probability are 0 or 1, exact and simulated alike."""
    assert joint_probability(10, known((0.9, 1.0)), [need]).probability == probability
    assert simulated_probability(10, known((0.9, 1.0)), [need], runs=50).probability == probability


def test_starts_are_the_smallest_stock_that_is_enough() -> None:
    """The starts for a confidence are the fewest blanks with which the probability reach it."""
    starts = evening(12, known((0.7,)), 0.95).starts
    assert joint_probability(12, known((0.7,)), [Need("blank", {0: 1}, free=starts)]).probability >= 0.95
    assert joint_probability(12, known((0.7,)), [Need("blank", {0: 1}, free=starts - 1)]).probability < 0.95


NEEDS = st.lists(
    st.tuples(
        st.dictionaries(st.integers(0, 2), st.integers(0, 4), max_size=3),
        st.integers(0, 5),
        st.integers(0, 60),
    ),
    min_size=1,
    max_size=4,
).map(lambda rows: [Need(i, used, fixed, free) for i, (used, fixed, free) in enumerate(rows)])


@given(st.integers(1, 6), st.tuples(*[st.floats(0.5, 1.0)] * 3), NEEDS, st.data())
@examples(50)
def test_laws_of_the_odds(
    good: int, stages: tuple[float, ...], needs: list[Need], data: st.DataObject
) -> None:
    """Never above the weakest part's, never below what Bonferroni allows; more stock never makes them worse."""
    found = joint_probability(good, known(stages), needs)
    alone = list(found.by_part.values())
    assert found.how == "exact"
    assert 0.0 <= found.probability <= min(alone)
    assert found.probability >= 1 - sum(1 - probability for probability in alone) - 1e-9
    which = data.draw(st.integers(0, len(needs) - 1))
    more = [
        Need(n.part, n.by_stage, n.per_session, (n.free or 0) + 3 * (i == which)) for i, n in enumerate(needs)
    ]
    assert joint_probability(good, known(stages), more).probability >= found.probability - 1e-12
    endless = [Need(n.part, n.by_stage, n.per_session, None) for n in needs]
    assert joint_probability(good, known(stages), endless).probability == 1.0


@pytest.mark.parametrize(
    ("needs", "says"),
    [
        ([Need("kit", {3: 1}, free=1)], "kit is used at a stage that is not there"),
        ([Need("kit", {-1: 1}, free=1)], "kit is used at a stage that is not there"),
        ([Need("kit", {0: -1}, free=1)], "kit cannot be used by less than nothing"),
        ([Need("kit", {0: 1}, per_session=-1, free=1)], "kit cannot be used by less than nothing"),
        ([Need("kit", {0: 1}, free=1), Need("kit", {1: 1}, free=1)], "kit has two needs"),
    ],
)
def test_refused_needs(needs: list[Need], says: str) -> None:
    """A need that makes no sense is refused with the part's name and a remedy."""
    with pytest.raises(BadInput, match=says) as refusal:
        joint_probability(5, known((0.9, 0.9)), needs)
    assert refusal.value.hint


def test_refused_numbers() -> None:
    """No pieces, a stage nobody survives and no runs are refused."""
    with pytest.raises(BadInput, match="0 good pieces"):
        joint_probability(0, known((0.9,)), [])
    with pytest.raises(BadInput, match="success of 0 "):
        joint_probability(1, known((0.0,)), [])
    with pytest.raises(BadInput, match="0 runs"):
        simulated_probability(1, known((0.9,)), [], runs=0)


def test_looking_loads_no_number_library() -> None:
    """Probabilities, cut plans and volumes start without numpy or scipy."""
    code = (
        "import sys; from fractions import Fraction as F\n"
        "from inventory.making import evening, geometry, joint_probability\n"
        "from inventory.making.blanks import model, planning\n"
        "from inventory.making.losses import starts as losses\n"
        "stages = (losses.Survival(0.9, 20), losses.Survival(0.8))\n"
        "evening.evening(10, stages, 0.9).finished\n"
        "joint_probability.joint_probability(10, stages, [joint_probability.Need('kit', {0: 1}, 0, 14)])\n"
        "wanted = model.Wanted('w', (model.Segment(F(55), F(12)),))\n"
        "planning.cutting_plan([model.BlankStock('b', F(127), 5)], [wanted], F(2))\n"
        "planning.cutting_plan([model.one_off('m', F(20), F(90))], [wanted], F(2))\n"
        "geometry.glue_volume_ml(F(7), F(27, 4), F(53))\n"
        "sys.exit(bool({'numpy', 'scipy'} & set(sys.modules)))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_no_chance_is_over_one() -> None:
    """Of a budget that nearly always holds, though these sums of the machine's numbers are a hair more."""
    assert probability_within(8, known((0.9, 0.7)), [Budget((3, 3), 2000)], 10**6) == 1.0


@pytest.mark.parametrize(("free", "share"), [(5, 1.0), (0, 0.0)])
def test_what_never_failed_in_some_runs_is_not_certain(free: int, share: float) -> None:
    """Nor is what never went well impossible: one of each more is counted (Laplace's rule of succession)."""
    found = simulated_probability(1, known((1.0,)), [Need("kit", {0: 1}, free=free)], runs=100)
    assert found.probability == share
    assert found.error == pytest.approx(sqrt(101 / 102 * (1 / 102) / 100))
    assert simulated_probability(1, known((1.0,)), [], runs=1).probability == 1.0
    just = simulated_probability(3, known((1.0,)), [Need("kit", {0: 2}, per_session=1, free=7)], runs=1)
    assert just.probability == 1.0
