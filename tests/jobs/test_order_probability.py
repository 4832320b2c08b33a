"""Needs, starts and probabilities against the negative binomial of a statistics library and against simulation."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from math import ceil, prod
from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from searching import examples

from inventory.catalogue import STAGES, Catalogue, Kit, Part, Pattern, fold
from inventory.jobs.orders.needs import Requirements, raised, requirements, survivals
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.order_probability import (
    _ample,
    _covers,
    after_buying,
    free_now,
    needs_at,
    order_probability,
)
from inventory.jobs.orders.requests import resolve
from inventory.ledger.learned import LearnedFigures, LearnedLoss
from inventory.making.joint_probability import Need, simulated_probability
from inventory.making.losses.reaching import LEFT_OUT, reach_laws
from inventory.making.losses.starts import Survival
from inventory.making.supply_use import Doubt
from jobs import goods
from jobs.shop import Stock, exactly, plenty, request, shop

LOSSY = {"cut": "0.03", "drill": "0.05", "glue": "0.02", "trim": "0.04", "turn": "0.07", "assemble": "0.02"}


def lossy() -> goods.Goods:
    """Olive that fails at most stages."""
    return goods.catalogue().with_losses("olive wood", **LOSSY)


def plan(stock: Stock, known: Catalogue, count: int, level: float = 0.9) -> Requirements:
    """Needs of so many Turnstones at a level, nothing raised; the losses are known exactly."""
    here = exactly(shop(stock, known))
    resolved = resolve(known, request(count), here.today)
    return requirements(here, resolved, *resolved.kits[0], level)


def onward(stage: str) -> float:
    """The chance that a piece reaching a stage comes out good, from the losses above."""
    return prod(1 - float(LOSSY.get(one, "0")) for one in STAGES[STAGES.index(stage) :])


@pytest.mark.outside
@pytest.mark.parametrize(
    ("good", "success", "confidence", "starts"),
    [(10, "0.1", 0.95, 13), (20, "0.15", 0.9, 26), (12, "0.3", 0.95, 22)],
    ids=["10 of 90 %", "20 of 85 %", "12 of 70 %"],
)
def test_starts_for_workshop_like_orders(good: int, success: str, confidence: float, starts: int) -> None:
    """Smallest n with P(Binomial(n, p) ≥ N) ≥ c: scipy.stats.binom says the same and no fewer."""
    known = goods.catalogue().with_losses("olive wood", turn=success)
    report = check(exactly(shop(plenty(), known)), request(good, confidence=confidence))
    share = 1 - float(success)
    assert report.starts == starts
    assert stats.binom.sf(good - 1, starts, share) >= confidence
    assert stats.binom.sf(good - 1, starts - 1, share) < confidence


@pytest.mark.outside
@pytest.mark.parametrize("count", [1, 4, 15])
@pytest.mark.parametrize("level", [0.5, 0.9, 0.99])
def test_needs_by_stage_are_enough_together(count: int, level: float) -> None:
    """No stage's part is below its own quantile (scipy.stats.nbinom), and all together are enough at the level."""
    here = plan(plenty(), lossy(), count, level)
    got = {one.part.name: one.need for one in here.parts if not one.tool}
    reach = dict(zip(STAGES, here.reach, strict=True))
    for stage in STAGES:
        alone = count + int(stats.nbinom.ppf(level, count, onward(stage)))
        assert alone <= reach[stage] <= alone + 2
    assert got[goods.CHROME_KIT] == got[goods.REFILL] == 1000 * reach["assemble"]
    assert got[goods.TUBE] == 1000 * reach["glue"]
    assert got[goods.STRIP] <= 500 * reach["finish"]  # a supply: what suffices for those that get so far
    assert got[goods.STRIP] >= 490 * count or level < 0.9
    assert got[goods.OLIVE] == 1000 * ceil(reach["cut"] / 2)
    assert got[goods.EPOXY] == 2000
    finish = 40 * Fraction("12.2") * Fraction("55.8") / 100
    assert got[goods.FINISH] == pytest.approx(
        float(finish) * 3.14159265 / 500 * got[goods.STRIP], rel=1e-3, abs=1
    )
    dice, batch = np.random.default_rng(5), np.full(20_000, reach["cut"])
    for stage in STAGES:
        batch = dice.binomial(np.minimum(batch, reach[stage]), 1 - float(LOSSY.get(stage, "0")))
    assert here.evening.probability >= level
    assert np.mean(batch >= count) == pytest.approx(here.evening.probability, abs=0.012)


@pytest.mark.outside
@pytest.mark.parametrize(("count", "level"), [(1, 0.9), (4, 0.8), (15, 0.95), (60, 0.9)])
def test_starts_where_little_is_known(count: int, level: float) -> None:
    """One lossy stage never seen: scipy.stats.betanbinom gives the same starts, more than its mean would."""
    known = goods.catalogue().with_losses("olive wood", turn="0.08")
    report = check(shop(plenty(), known), request(count, confidence=level))
    (loss,) = [one for one in report.plan.survivals if not one.sure]
    law = stats.betanbinom(count, *loss.beta)
    assert report.starts == count + law.ppf(level)
    assert report.plan.evening.probability == pytest.approx(law.cdf(report.starts - count), abs=1e-8)
    assert report.starts >= check(exactly(shop(plenty(), known)), request(count, confidence=level)).starts


def test_what_survives_a_stage() -> None:
    """1 − loss a stage, worth what a first guess is until sessions have taught it; 1 where no loss is stated."""
    here = shop(known=lossy())
    got = survivals(here, resolve(here.catalogue, request(), here.today))
    assert [one.share for one in got] == pytest.approx([1 - float(LOSSY.get(stage, "0")) for stage in STAGES])
    assert {one.worth for one in got if one.sure} == {math.inf}
    assert all(5 < one.worth < 60 for one in got if not one.sure)
    taught = LearnedLoss("olive wood", "drill", 50_000, 200, 9, worth=260_500)
    here = replace(here, learned=LearnedFigures(losses=(taught,)))
    got = survivals(here, resolve(here.catalogue, request(), here.today))
    assert got[STAGES.index("drill")] == Survival(0.95, 260.5)


def test_nothing_is_lost_at_stages_a_pattern_does_not_go_through() -> None:
    """What is turned without a tube is neither glued nor trimmed, and starts no spare pieces for it."""
    known = goods.catalogue().with_losses("olive wood", glue="0.2", trim="0.2")
    here = shop(known=known)
    resolved = resolve(here.catalogue, request(pattern="Godwit plain", platings=("chrome",)), here.today)
    assert all(one.sure for one in survivals(here, resolved))
    assert not all(one.sure for one in survivals(here, resolve(here.catalogue, request(), here.today)))
    swap = Pattern("swap", "Turnstone", bill=(goods.line("assemble", "the refill", 1000),))
    here = shop(known=known.with_pattern(swap))
    assert all(
        one.sure for one in survivals(here, resolve(here.catalogue, request(pattern="swap"), here.today))
    )


@pytest.mark.outside
@pytest.mark.parametrize(("kits", "count"), [(4, 4), (5, 4), (12, 10), (10, 10)])
def test_where_only_kits_can_run_out(kits: int, count: int) -> None:
    """P(all good with so many kits) is the binomial survival function of the kits (scipy.stats.binom)."""
    here = plan(plenty().with_only(goods.CHROME_KIT, 1000 * kits), lossy(), count)
    got = order_probability(here, count)
    assert got.probability == pytest.approx(stats.binom.sf(count - 1, kits, onward("assemble")), abs=1e-7)
    assert got.weakest == fold(goods.CHROME_KIT)


def scarce() -> Stock:
    """A shelf on which nearly everything is tight for ten Turnstones."""
    stock = plenty()
    for part, quantity in (
        (goods.CHROME_KIT, 10_000),
        (goods.TUBE, 12_000),
        (goods.OLIVE, 7000),
        (goods.STRIP, 5500),
        (goods.GLUE, 7500),
    ):
        stock.with_only(part, quantity)
    return stock


def test_joint_odds_against_simulation() -> None:
    """Five tight parts together: the exact probability lies within four standard errors of 40,000 simulated runs."""
    here = plan(scarce(), lossy(), 10)
    exact = order_probability(here, 10)
    glue = next(ceil(use.per_piece) for use in here.uses if use.part == goods.GLUE)
    needs = [
        Need("kit", {6: 1}, free=10),
        Need("tube", {2: 1}, free=12),
        Need("blank", {0: 1}, free=14),
        Need("strip", {5: 500}, free=5500),
        Need("glue", {2: glue}, free=7500),
    ]
    runs = simulated_probability(10, here.survivals, needs)
    assert exact.how == "exact"
    assert 0.05 < exact.probability < 0.95
    assert abs(exact.probability - runs.probability) < 4 * runs.error
    assert exact.probability <= min(exact.by_part.values())


def test_joint_odds_against_the_bench() -> None:
    """Pieces made one after another until ten are good, drawing every part as they go."""
    here = plan(scarce(), lossy(), 10)
    free = {use.part: 1000 * here.blanks.capacity if use.role == "the blank" else 0 for use in here.uses}
    free |= {one.part.name: one.free for one in here.parts if one.role != "the blank"}
    coin, hits, runs = Random(11), 0, 4000
    for _ in range(runs):
        left = {**free, **{use.part: free[use.part] - use.per_session for use in here.uses}}
        good = 0
        while good < 10:
            for at, stage in enumerate(STAGES):
                for use in here.uses:
                    if use.stage == stage:
                        left[use.part] -= ceil(use.per_piece)
                if coin.random() >= here.survivals[at].share:
                    break
            else:
                good += 1
        hits += all(rest >= 0 for rest in left.values())
    got = order_probability(here, 10).probability
    assert abs(got - hits / runs) < 4 * (got * (1 - got) / runs) ** 0.5


def test_tools_and_what_a_session_takes_count_too() -> None:
    """Without bushings, or with less epoxy than stays in the pot, there is no chance."""
    assert order_probability(plan(plenty().without(goods.BUSHINGS), lossy(), 2), 2).probability == 0
    assert order_probability(plan(plenty().with_only(goods.EPOXY, 1999), lossy(), 2), 2).probability == 0
    assert order_probability(plan(plenty().with_only(goods.EPOXY, 2000), lossy(), 2), 2).probability > 0.9


def test_tubes_in_the_kits_serve_the_order_probability() -> None:
    """Twelve kits with their tubes and three spare tubes are fifteen tubes."""
    kit = Part(goods.CHROME_KIT, Kit("Turnstone", "chrome", tubes_inside=True))
    stock = plenty().with_only(goods.CHROME_KIT, 12_000).with_only(goods.TUBE, 3000)
    got = order_probability(plan(stock, lossy().with_parts(kit), 10), 10)
    apart = order_probability(plan(stock.with_only(goods.TUBE, 15_000), lossy(), 10), 10)
    assert got.probability == apart.probability


def test_free_before_and_after_buying() -> None:
    """Buying adds what is short to what is free, and other shelves may be asked about by what would be free."""
    here = plan(plenty().with_only(goods.CHROME_KIT, 2000), lossy(), 4)
    kit = next(one for one in here.parts if one.part.name == goods.CHROME_KIT)
    assert free_now(here)[fold(goods.CHROME_KIT)] == 2000
    assert after_buying(here)[fold(goods.CHROME_KIT)] == kit.need
    assert order_probability(here, 4).probability == 0
    assert order_probability(here, 4, {fold(goods.CHROME_KIT): 40_000}).probability > 0.99


def test_blanks_bought_count_by_the_pieces_they_give() -> None:
    """One blank there and the missing ones bought give two pieces each."""
    here = plan(plenty().with_only(goods.OLIVE, 1000), lossy(), 6)
    assert order_probability(here, 6).probability == 0
    bought = sum(one.short for one in here.parts if one.part.name == goods.OLIVE) // 1000
    give = 2 + 2 * bought
    reached = stats.binom.sf(5, give, onward("cut"))
    assert order_probability(here, 6, after_buying(here)).probability == pytest.approx(reached, abs=1e-6)


def test_a_bill_without_a_blank_never_waits_for_one() -> None:
    """A refill swap takes a refill and no blank: blanks are no part of its probability."""
    known = lossy().with_pattern(
        Pattern("swap", "Turnstone", bill=(goods.line("assemble", "the refill", 1000),))
    )
    here = shop(plenty().without(goods.OLIVE), known)
    resolved = resolve(known, request(2, pattern="swap"), here.today)
    got = order_probability(requirements(here, resolved, *resolved.kits[0], 0.9), 2)
    assert got.probability == pytest.approx(1, abs=1e-4)
    assert fold(goods.OLIVE) not in got.by_part


def test_needs_that_are_covered_are_not_raised() -> None:
    """Only a part that would fall short at the higher level is raised to it; the blank is left to its plan."""
    here = plan(plenty().with_only(goods.CHROME_KIT, 10_000), lossy(), 10)
    higher = needs_at(here, 10, 0.999)
    got = {one.part.name: one.need for one in raised(here.parts, higher)}
    before = {one.part.name: one.need for one in here.parts}
    assert got[goods.CHROME_KIT] == higher[fold(goods.CHROME_KIT), "assemble"] > before[goods.CHROME_KIT]
    assert {name: need for name, need in got.items() if name != goods.CHROME_KIT} == {
        name: need for name, need in before.items() if name != goods.CHROME_KIT
    }
    assert (fold(goods.OLIVE), "cut") not in higher


@pytest.mark.parametrize(("known", "probability"), [(True, 1.0), (False, 1 - LEFT_OUT)])
def test_certain_only_where_every_share_is_known(known: bool, probability: float) -> None:
    """Far more of everything than two pieces take: with some losses only guessed it may run out all the same."""
    here = exactly(shop(known=goods.catalogue().with_losses("olive wood", turn="0.03")))
    here = here if known else replace(here, learned=replace(here.learned, losses=()))
    assert order_probability(check(here, request(2)).plan, 2).probability == probability


def test_several_tight_parts_are_enough_together() -> None:
    """Each there at 96 % alone, together less: the needs are those that suffice together, and buying them does."""
    stock, known = plenty(), lossy()
    for part, stage, each in (
        (goods.CHROME_KIT, "assemble", 1000),
        (goods.TUBE, "glue", 1000),
        (goods.STRIP, "finish", 500),
    ):
        alone = 10 + int(stats.nbinom.ppf(0.96, 10, onward(stage)))
        stock.with_only(part, each * alone)
    report = check(exactly(shop(stock, known)), request(10, confidence=0.96))
    assert report.joint.probability < 0.96 <= report.joint_after_buying.probability
    assert min(report.joint.by_part.values()) >= 0.96
    assert report.verdict != "from the shelf"


@pytest.mark.parametrize(
    ("count", "level", "raised"),
    [
        (6, 0.96, {goods.TUBE: 0.98, goods.GLUE: 0.98, goods.STRIP: 0.98}),
        (3, 0.9, {goods.TUBE: 0.9, goods.GLUE: 0.9, goods.STRIP: 0.95}),
    ],
)
def test_doubtful_parts_are_raised_by_half_their_doubt(
    count: int, level: float, raised: dict[str, float]
) -> None:
    """Nothing is there and rates are guesses: what is least likely to suffice is asked for at half the doubt, no more.

    Its need is then what an order at that confidence would have asked for.
    """
    here = shop(plenty().without(goods.CHROME_KIT, goods.TUBE, goods.STRIP, goods.GLUE))
    resolved = resolve(here.catalogue, request(count), here.today)
    for part, at in raised.items():
        of = requirements(here, resolved, *resolved.kits[0], at)
        wanted = sum(need.need for need in of.parts if need.part.name == part)
        report = check(here, replace(request(count), confidence=level))
        assert sum(need.need for need in report.plan.parts if need.part.name == part) == wanted > 0
        assert report.joint_after_buying.probability >= level


def test_a_large_order_of_a_new_material() -> None:
    """Where the chain is too long it is simulated, and what is to be bought still keeps the confidence."""
    report = check(shop(plenty(), lossy()), request(80))
    assert report.starts > 100
    assert report.joint.probability == 0
    assert report.joint_after_buying.probability >= 0.9 - 0.01


def test_just_what_is_needed_keeps_the_confidence() -> None:
    """A third of a strip a piece: what the needs ask for, and not a thousandth more, is as good as the confidence."""
    thirds = Pattern(
        "thirds",
        "Turnstone",
        bill=(
            goods.line("cut", "the blank", 1000),
            goods.line("turn", goods.STRIP, 333),
            goods.line("glue", goods.GLUE, 100, "tube glue volume"),
            goods.line("assemble", "the kit", 1000),
        ),
    )
    known = lossy().with_pattern(thirds)
    stock = plenty()
    here = shop(stock, known)
    asked = check(here, request(15, pattern="thirds"))
    for need in asked.plan.parts:
        if not need.tool and need.role != "the blank":
            stock.with_only(need.part.name, need.need)
    report = check(shop(stock, known), request(15, pattern="thirds"))
    assert report.verdict == "from the shelf"
    assert report.joint.probability >= 0.9
    assert {need.part.name: need.need for need in report.plan.parts} == {
        need.part.name: need.need for need in asked.plan.parts
    }


@examples(20)
@given(
    st.lists(st.integers(0, 14), min_size=4, max_size=4), st.integers(1, 8), st.sampled_from([0.6, 0.9, 0.97])
)
def test_buying_what_is_said_to_be_short_meets_the_confidence(
    there: list[int], count: int, level: float
) -> None:
    """Whatever is on the shelf, with the shorts bought the joint probability are the confidence or a hair less."""
    stock = plenty()
    for part, pieces in zip((goods.CHROME_KIT, goods.TUBE, goods.OLIVE, goods.REFILL), there, strict=True):
        stock.without(part)
        if pieces:
            stock.lot(part, 1000 * pieces)
    report = check(shop(stock, lossy()), replace(request(count), confidence=level))
    assert report.joint_after_buying.probability >= level - (1 - level) / 16
    if report.verdict == "from the shelf":
        assert report.joint.probability >= level - (1 - level) / 16


def test_no_chance_of_a_supply_is_worked_out_twice(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever looks for how many to start asks the same of one number after the other."""
    asked: list[tuple[Doubt, float, float]] = []
    within = Doubt.within

    def counted(doubt: Doubt, there: float, amount: float) -> float:
        asked.append((doubt, there, amount))
        return within(doubt, there, amount)

    _covers.cache_clear()  # as a command begins
    monkeypatch.setattr(Doubt, "within", counted)
    stock = plenty()
    first = [order_probability(plan(stock, lossy(), 3), count) for count in (3, 4, 5)]
    assert asked
    assert len(asked) == len(set(asked))
    assert [order_probability(plan(stock, lossy(), 3), count) for count in (3, 4, 5)] == first
    assert len(asked) == len(set(asked))


@pytest.mark.cross_check
def test_a_supply_that_hardly_runs_out_is_judged_by_what_is_usually_used() -> None:
    """By the mean of pieces that reach each stage, good · Π 1/(1 − loss) over the stages from there on."""
    turn = STAGES.index("turn")
    need = Need("glue", {turn: 1000}, 50, covers=lambda steps: 1 - steps * 1e-9)
    laws = reach_laws(3, plan(plenty(), lossy(), 3).survivals)
    ((probability, hangs),) = _ample([need], laws).values()
    assert probability == pytest.approx(1 - (50 + 1000 * 3 / onward("turn")) * 1e-9, abs=1.5e-9)
    most = 50 + 1000 * (3 + stats.nbinom.ppf(0.999, 3, onward("turn")))
    assert hangs == pytest.approx(most * 1e-9 - (1 - probability), abs=1e-9)
