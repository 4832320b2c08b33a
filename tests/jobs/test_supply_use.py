"""One law of a supply's use for probabilities, set-asides and lay-out: against simulations, and against each other."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from inventory.catalogue import STAGES, fold
from inventory.jobs.learning.supply_use import by_rate, doubt_of, enough_for, known_use
from inventory.jobs.orders.needs import needs_for, requirements, shared
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.order_probability import order_probability
from inventory.jobs.orders.requests import resolve
from inventory.jobs.sessions.plan_rows import PlanRow
from inventory.jobs.sessions.session_needs import together
from inventory.ledger.learned import LearnedFigures, LearnedRate
from inventory.ledger.shop import Shop
from inventory.making.bom import Use
from inventory.making.rates.priors import BELIEFS, HANDS_DIFFER, NINE_IN_TEN, USUAL_HAND
from inventory.making.supply_use import POINTS
from jobs import goods
from jobs.shop import exactly, order, plenty, request, shop

AREA = "barrel area"
RUNS = 20_000
"""Evenings simulated: a share is known to 0.004."""
KNOWN = goods.catalogue().with_losses("olive wood", drill="0.1", turn="0.15", assemble="0.05")


def times_the_bill(dice: np.random.Generator, runs: int) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """How many times the bills an evening really uses of a supply never weighed, from the words of `beliefs`."""
    which = dice.choice(len(BELIEFS), size=runs, p=[each for _, _, each in BELIEFS])
    width, centre, _ = np.array(BELIEFS)[which].T
    drawn = np.full(runs, -1.0)
    while (below := drawn < 0).any():
        drawn[below] = dice.normal(centre[below], width[below] * 0.5 / NINE_IN_TEN)
    spread = np.sqrt(np.log1p((USUAL_HAND * np.exp(HANDS_DIFFER * dice.normal(size=runs))) ** 2))
    return np.asarray(drawn * np.exp(spread * dice.normal(size=runs) - spread**2 / 2))


def finish_used(here: Shop, count: int, runs: int = RUNS) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Thousandths of finish in simulated evenings: pieces lost with shares that are not known, bills not kept to."""
    dice = np.random.default_rng(17)
    plan = check(here, request(count)).plan
    each = next(float(use.per_piece) for use in plan.uses if use.part == goods.FINISH)
    alive = np.full(runs, plan.reach[0])
    for at, stage in enumerate(STAGES):
        alive = np.minimum(alive, plan.reach[at])
        if stage == "finish":
            break
        survival = plan.survivals[at]
        alive = dice.binomial(alive, 1.0 if survival.sure else dice.beta(*survival.beta, size=runs))
    return np.asarray(each * alive * times_the_bill(dice, runs))


def finish_until(here: Shop, count: int, runs: int = RUNS) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """The same of evenings that end as soon as so many are good: pieces that reach the finish, one after another."""
    dice = np.random.default_rng(18)
    plan = check(here, request(count)).plan
    each = next(float(use.per_piece) for use in plan.uses if use.part == goods.FINISH)
    reaching = np.full(runs, count)
    for survival in reversed(plan.survivals[STAGES.index("finish") :]):
        if not survival.sure:
            reaching = reaching + dice.negative_binomial(reaching, dice.beta(*survival.beta, size=runs))
    return np.asarray(each * reaching * times_the_bill(dice, runs))


@pytest.mark.cross_check
@pytest.mark.parametrize("there", [4000, 12_000, pytest.param(7000, marks=pytest.mark.soak)])
def test_can_take_and_plan_say_the_truth(there: int) -> None:
    """The chance that a first guess of finish suffices, for six good ones or for the whole batch, to 0.03."""
    here = shop(plenty().with_only(goods.FINISH, there), KNOWN)
    report = check(here, request(6))
    (row,) = [PlanRow(order(count=6), report, report.starts, 6, 0)]
    planned = next(one for one in together(here, [row], LearnedFigures()) if one.part.name == goods.FINISH)
    batch, six = (float(np.mean(used <= there)) for used in (finish_used(here, 6), finish_until(here, 6)))
    assert 0.1 < batch < six < 0.95
    assert planned.enough == pytest.approx(batch, abs=0.03)
    assert report.joint.by_part[fold(goods.FINISH)] == pytest.approx(six, abs=0.03)


@pytest.mark.cross_check
def test_what_is_set_aside_and_laid_out_suffices_nine_times_in_ten() -> None:
    """Of simulated evenings 90 in 100 use no more finish than is set aside for an order, or laid out for a session."""
    here = shop(plenty(), KNOWN)
    report = check(here, request(6))
    aside = sum(need.need for need in report.plan.parts if need.part.name == goods.FINISH)
    (row,) = [PlanRow(order(count=6), report, report.starts, 6, 0)]
    laid_out = next(one for one in together(here, [row], LearnedFigures()) if one.part.name == goods.FINISH)
    used = finish_used(here, 6)
    assert np.mean(used <= aside) == pytest.approx(0.9, abs=0.015)
    assert laid_out.total == pytest.approx(aside, rel=0.02)
    assert sum(laid_out.need.values()) == laid_out.total


def test_exact_rates_are_as_before() -> None:
    """Where rates are known exactly and the hand never differs, what the bills write is enough and no less is."""
    here = exactly(shop(plenty().with_only(goods.EPOXY, 2000), goods.catalogue()))
    plan = requirements(
        here,
        resolve(here.catalogue, request(2), here.today),
        *resolve(here.catalogue, request(2), here.today).kits[0],
        0.9,
    )
    assert {need.part.name: need.need for need in plan.parts}[goods.EPOXY] == 2000
    assert order_probability(plan, 2).by_part[fold(goods.EPOXY)] == 1.0
    assert order_probability(plan, 2, {fold(goods.EPOXY): 1999}).by_part[fold(goods.EPOXY)] == 0.0


def test_needs_of_several_stages_add_up() -> None:
    """A part's need is shared over its stages as the bills do; a higher level asks for more."""
    assert list(shared(1001, [("glue", 1.0), ("finish", 1.0), ("pack", 0.0)])) == [
        ("glue", 500),
        ("finish", 501),
        ("pack", 0),
    ]
    assert list(shared(0, [("glue", 0.0)])) == [("glue", 0)]
    here = shop(plenty(), KNOWN)
    resolved = resolve(here.catalogue, request(6), here.today)
    plan = requirements(here, resolved, *resolved.kits[0], 0.9)
    usual, surer = (needs_for(plan, plan.evening, level) for level in (0.9, 0.99))
    for part in (goods.FINISH, goods.GLUE, goods.STRIP, goods.EPOXY):
        assert sum(n for (key, _), n in surer.items() if key == fold(part)) > sum(
            n for (key, _), n in usual.items() if key == fold(part)
        )
    assert usual[fold(goods.CHROME_KIT), "assemble"] == 1000 * plan.reach[STAGES.index("assemble")]


def test_what_is_ample_is_hardly_a_doubt() -> None:
    """A supply of which there is fifty times the need is multiplied in, not asked of every number of pieces."""
    here = shop(plenty().with_only(goods.FINISH, 900_000), KNOWN)
    report = check(here, request(6))
    assert 0.999 < report.joint.by_part[fold(goods.FINISH)] < 1.0
    assert report.joint.error < 0.005


def test_kept_points_are_what_is_known() -> None:
    """Points and hands of the book, one below 0 for a steady hand; of a `per` not learned the first guess."""
    rate = LearnedRate(
        goods.FINISH,
        AREA,
        1_200_000,
        1_000_000,
        1_500_000,
        3,
        points=tuple(range(1_000_000, 1_000_000 + POINTS)),
        hands=(-100_000, *(200_000,) * (POINTS - 1)),
        ordinary=5000,
    )
    known = known_use(LearnedFigures((rate,)), goods.FINISH.upper(), (AREA, "piece"))
    assert known.ordinary == 5000
    assert known.points[0].steady
    assert (known.points[0].hand, known.points[1].hand) == (0.1, 0.2)
    assert known.points[1].factors[AREA] == 1.000001
    assert len({point.factors["piece"] for point in known.points}) == POINTS


def test_a_book_of_an_earlier_version_goes_by_its_intervals() -> None:
    """Where only the ends are kept they are what is known of the factor."""
    rate = LearnedRate(goods.FINISH, AREA, 1_200_000, 1_100_000, 1_300_000, 9)
    known = known_use(LearnedFigures((rate,)), goods.FINISH, (AREA,))
    factors = sorted(point.factors[AREA] for point in known.points)
    assert 1.05 < factors[0] < 1.2 < factors[-1] < 1.35


def test_counted_parts_have_no_law() -> None:
    """Kits are used as the bills say; of a supply that the pieces take nothing of, the pot is left."""
    here = shop()
    kit, epoxy = (here.catalogue.part(name) for name in (goods.CHROME_KIT, goods.EPOXY))
    assert not by_rate(kit)
    assert doubt_of(LearnedFigures(), kit, []) is None
    pot = Use(goods.EPOXY, "glue", Fraction(0), 2000, "", (("session", Fraction(2000)),))
    law = doubt_of(LearnedFigures(), epoxy, [(pot, 3.0), (pot, 5.0)])
    assert law is not None
    assert law.within(2000, 0.0) < 0.6
    assert law.enough([(0.0, 1.0)], 0.9) > 2000


@pytest.mark.cross_check
def test_what_lasts_until_the_horizon() -> None:
    """Never weighed: the simulated share of first guesses; weighed: a hand over its sessions; counted: as expected."""
    here = shop()
    kit, finish = (here.catalogue.part(name) for name in (goods.CHROME_KIT, goods.FINISH))
    assert enough_for(LearnedFigures(), kit, 7000) == 7000
    assert enough_for(LearnedFigures(), finish, 0) == 0
    guess = enough_for(LearnedFigures(), finish, 10_000)
    used = 10_000 * times_the_bill(np.random.default_rng(3), 60_000)
    assert np.mean(used <= guess) == pytest.approx(0.9, abs=0.015)
    one = (1_500_000,) * POINTS
    rate = LearnedRate(goods.FINISH, AREA, *one[:3], 9, points=one, hands=(300_000,) * POINTS, ordinary=1000)
    few, many = (enough_for(LearnedFigures((rate,)), finish, 1500 * sessions) for sessions in (1, 16))
    spread = np.sqrt(np.log1p(0.3**2))
    assert few == pytest.approx(1500 * np.exp(1.2816 * spread - spread**2 / 2), rel=1e-3)
    assert 16 * 1500 < many < 16 * few
    assert many / (16 * 1500) == pytest.approx(1 + 1.2816 * 0.3 / 4, abs=0.01)
