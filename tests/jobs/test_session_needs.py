"""What the pieces of a session need together: how probably it lasts, glue by the pot, what is laid out."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from inventory.catalogue import STAGES, Kit, Part, Supply, fold
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.requests import request_of
from inventory.jobs.sessions.bench_lines import bench_lines
from inventory.jobs.sessions.plan_rows import PlanRow
from inventory.jobs.sessions.planning import row_of
from inventory.jobs.sessions.session_needs import Together, mixes, rate_scatter, together
from inventory.jobs.sessions.sheet_contents import session_sheet, setup_lines
from inventory.ledger.learned import LearnedFigures, LearnedRate
from inventory.ledger.sessions import Planned, Session
from inventory.ledger.shop import Shop
from inventory.making.distributions import Distribution, both, mean, suffices, use_of
from inventory.making.evening import survivor_probabilities
from inventory.making.losses.starts import Survival
from inventory.making.rates.priors import BELIEFS, HANDS_DIFFER, NINE_IN_TEN, USUAL_HAND
from jobs import goods
from jobs.shop import TODAY, order, plenty, shop

NOTHING = LearnedFigures()


def rows_for(here: Shop, *counts: int, **more: object) -> list[PlanRow]:
    """One row for each count."""
    done = []
    for at, many in enumerate(counts):
        one = order(f"order {at}", many, **more)
        done.append(row_of(one, check(here, request_of(one))))
    return done


def of(needs: tuple[Together, ...], part: str) -> Together:
    """The need of one part."""
    return next(one for one in needs if one.part.name == part)


def test_once_a_session_is_once() -> None:
    """Two rows: the kits of both, one pot of epoxy; in working order."""
    here = shop(known=goods.catalogue().with_losses("olive wood"))
    needs = together(here, rows_for(here, 3, 4), NOTHING)
    assert of(needs, goods.CHROME_KIT).total == 7000
    assert (of(needs, goods.EPOXY).reckoned["glue"], of(needs, goods.EPOXY).session) == (2000, 2000)
    alone = together(here, rows_for(here, 3), NOTHING)
    assert (
        of(needs, goods.EPOXY).total == of(alone, goods.EPOXY).total > 2000
    )  # for nine in ten sessions, one pot each
    stages = [min(STAGES.index(stage) for stage in one.need) for one in needs]
    assert stages == sorted(stages)


def test_as_many_kits_as_starts_always_suffice() -> None:
    """What is taken whole cannot run out where there is one for each piece begun."""
    here = shop(
        plenty().with_only(goods.CHROME_KIT, 5000), goods.catalogue().with_losses("olive wood", turn="0.1")
    )
    (row,) = rows_for(here, 3)
    kits = of(together(here, [row], NOTHING), goods.CHROME_KIT)
    assert kits.there >= 1000 * row.starts
    assert kits.enough == pytest.approx(1, abs=1e-9)
    assert kits.mean < 1000 * row.starts


def believed(dice: np.random.Generator, rounds: int) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """How many times the bills a session really uses of a supply never weighed, drawn from the words of `beliefs`."""
    done = np.empty(0)
    while len(done) < rounds:
        which = dice.choice(len(BELIEFS), size=rounds, p=[weight for _, _, weight in BELIEFS])
        width, centre, _ = np.array(BELIEFS)[which].T
        drawn = dice.normal(centre, width * 0.5 / NINE_IN_TEN)
        while (bad := drawn < 0).any():
            drawn[bad] = dice.normal(centre[bad], width[bad] * 0.5 / NINE_IN_TEN)
        done = np.concatenate([done, drawn])
    spread = np.sqrt(np.log1p((USUAL_HAND * np.exp(HANDS_DIFFER * dice.normal(size=rounds))) ** 2))
    return np.asarray(done[:rounds] * np.exp(spread * dice.normal(size=rounds) - spread**2 / 2))


def test_probabilities_against_a_simulation() -> None:
    """Kits and finish of two rows, simulated piece by piece with the same losses and doubt: within 0.01 and 0.02."""
    known = goods.catalogue().with_losses("olive wood", drill="0.1", turn="0.15", assemble="0.05")
    stock = plenty().with_only(goods.CHROME_KIT, 9000).with_only(goods.FINISH, 9000)
    here = shop(stock, known)
    rows = rows_for(here, 4, 5)
    needs = together(here, rows, NOTHING)
    random, rounds = np.random.default_rng(20261128), 40_000
    taken = {name: np.zeros(rounds) for name in (goods.CHROME_KIT, goods.FINISH)}
    for row in rows:
        plan = row.report.plan
        alive = np.full(rounds, row.starts)
        made = plan.survivals
        for at, stage in enumerate(STAGES):
            for use in plan.uses:
                if use.stage == stage and use.part in taken:
                    taken[use.part] += float(use.per_piece) * np.minimum(alive, plan.reach[at])
            share = 1.0 if made[at].sure else random.beta(*made[at].beta, size=rounds)
            alive = random.binomial(np.minimum(alive, plan.reach[at]), share)
    doubt = believed(random, rounds)
    assert of(needs, goods.CHROME_KIT).enough == pytest.approx(
        np.mean(taken[goods.CHROME_KIT] <= 9000), abs=0.01
    )
    assert 0.01 < of(needs, goods.FINISH).enough < 0.99
    assert of(needs, goods.FINISH).enough == pytest.approx(
        np.mean(taken[goods.FINISH] * doubt <= 9000), abs=0.02
    )
    assert of(needs, goods.FINISH).mean == pytest.approx(np.mean(taken[goods.FINISH]), rel=0.01)


def test_many_rows_stay_on_a_grid() -> None:
    """Sums are kept in few steps, rounded up by less than a step each; whole pieces stay exact."""
    total: Distribution = {0: 1.0}
    exact = 0.0
    for at in range(12):
        one = {
            (401 + 7 * at) * many: weight
            for many, weight in enumerate(survivor_probabilities(9, Survival(0.8)))
        }
        total, exact = both(total, one), exact + mean(one)
    assert len(total) <= 401
    assert 0 <= mean(total) - exact < 0.02 * exact
    pieces: Distribution = {0: 1.0}
    nine_of_ten = dict(enumerate(survivor_probabilities(30, Survival(0.9))))
    for _ in range(60):
        pieces = both(pieces, use_of(nine_of_ten, lambda many: 1000 * many))
    assert all(use % 1000 == 0 for use in pieces)
    assert mean(pieces) == pytest.approx(60 * 27_000, rel=1e-6)


def test_sure_and_hopeless() -> None:
    """Without doubt the answer is yes or no; where pieces may be lost it is how likely so few are left."""
    assert suffices({3000: 1.0}, 500, 3500) == 1.0
    assert suffices({3000: 1.0}, 500, 3499) == 0.0
    assert suffices({3000: 0.5, 2000: 0.25}, 500, 2500) == pytest.approx(1 / 3)


def test_what_runs_out_and_after_how_many() -> None:
    """Five strips' worth of finish for eight pieces: the pieces it lasts for at the mean rate."""
    here = shop(known=goods.catalogue().with_losses("olive wood"))
    whole = of(together(here, rows_for(here, 8), NOTHING), goods.FINISH)
    half = shop(
        plenty().with_only(goods.FINISH, round(whole.mean / 2)), goods.catalogue().with_losses("olive wood")
    )
    short = of(together(half, rows_for(half, 8), NOTHING), goods.FINISH)
    assert short.runs_out_after == 4
    assert short.enough < 0.15 < 0.9 < whole.enough
    none = replace(short, pieces=0)
    assert none.runs_out_after == 0


def test_a_learned_rate_is_less_doubtful() -> None:
    """A first guess is right to half of itself nine times in ten; a learned one as far as its interval says."""
    here = shop(plenty().with_only(goods.FINISH, 9000), goods.catalogue().with_losses("olive wood"))
    rows = rows_for(here, 4)
    rate = LearnedRate(goods.FINISH, "barrel area", 10**6, 900_000, 1_100_000, 5, scatter=30)
    guess, known = (
        of(together(here, rows, told), goods.FINISH) for told in (NOTHING, LearnedFigures((rate,)))
    )
    there = guess.there > guess.mean
    assert (known.enough > guess.enough) is there
    scatter = rate_scatter({fold(goods.FINISH): 1000, fold(goods.GLUE): 1000}, LearnedFigures((rate,)))
    assert scatter[fold(goods.FINISH)] == round(math.hypot(100 / NINE_IN_TEN, 30))
    assert scatter[fold(goods.GLUE)] == round(500 / NINE_IN_TEN)
    assert rate_scatter({fold(goods.EPOXY): 0}, NOTHING) == {fold(goods.EPOXY): 0}


def test_what_others_hold_is_not_there() -> None:
    """Set aside for the rows' own orders counts, for anybody else it does not."""
    stock = plenty()
    stock.orders = [order("order 0", 3), order("Somebody", 3)]
    stock.claim("order 0", goods.CHROME_KIT, 3000)
    stock.claim("Somebody", goods.CHROME_KIT, 30_000)
    here = shop(stock)
    assert of(together(here, rows_for(here, 3), NOTHING), goods.CHROME_KIT).there == 10_000


def test_tubes_in_the_kits() -> None:
    """Only those beyond the kits are needed from the shelf."""
    known = (
        goods.catalogue()
        .with_losses("olive wood")
        .with_parts(Part(goods.AVOCET_KIT, Kit("Avocet", "gunmetal", tubes_inside=True)))
    )
    stock = plenty()
    stock.lot(goods.AVOCET_KIT, 9000, 900)
    stock.lot(goods.CAP_TUBE, 2000, 20)
    here = shop(stock, known)
    rows = rows_for(here, 4, pattern="Avocet gloss", platings=("gunmetal",))
    assert of(together(here, rows, NOTHING), goods.CAP_TUBE).total == 0


@pytest.mark.parametrize(
    ("works", "minutes", "pots", "tubes"),
    [(5, "", 2, 5), (5, "2.5", 4, 2), (60, "", 1, 8), (1, "3", 8, 1), (None, "", 0, 0)],
)
def test_pots_of_glue(works: int | None, minutes: str, pots: int, tubes: int) -> None:
    """Eight tubes: as many a pot as its working time allows at a minute a tube, or what the settings say."""
    known = (
        goods.catalogue()
        .with_losses("olive wood")
        .with_parts(Part(goods.EPOXY, Supply("adhesive", works=works), "ml"))
    )
    here = shop(known=known, settings={"minutes a tube": minutes} if minutes else {})
    rows = rows_for(here, 5, 3)
    found = mixes(here, rows, together(here, rows, NOTHING))
    assert [(one.mixes, one.tubes, one.each) for one in found] == ([(pots, tubes, 2000)] if pots else [])


def test_what_lies_on_the_bench_in_working_order() -> None:
    """Each tool at its stage, eight tubes, five of them a pot; 2.5 ml a pot by the bill is measured as 3."""
    known = goods.catalogue().with_parts(Part(goods.EPOXY, Supply("adhesive", works=5), "ml"))
    gloss = known.pattern("Turnstone gloss")
    pot = [replace(one, quantity=2500) if one.part == goods.EPOXY else one for one in gloss.bill]
    here = shop(known=known.with_losses("olive wood").with_pattern(replace(gloss, bill=tuple(pot))))
    rows = rows_for(here, 5, 3)
    assert list(bench_lines(here, rows, together(here, rows, NOTHING))) == [
        ("Drills", goods.DRILL),
        ("Tubes", f"8 of {goods.TUBE}"),
        ("Mixes", f"{goods.EPOXY}: 2 pots of 3 ml, up to 5 tubes each, use within 5 min"),
        ("Pilots", goods.PILOT),
        ("Bushings", goods.BUSHINGS),
    ]


def test_the_sheet_of_a_session() -> None:
    """Rows with their stages, bottles with a tare and a density, abrasives to note, what to lay out, cautions."""
    known = goods.catalogue()
    glue = Part(goods.GLUE, Supply("adhesive", 56_000, 12_000, density=None), "ml")
    stock = plenty()
    stock.orders = [order("Reed", 4, state="promised")]
    stock.claim("Reed", goods.CHROME_KIT, 4000)
    session = Session(
        "2026-11-28", TODAY + timedelta(days=3), (Planned("Reed", goods.CHROME_KIT, 5),), number=3
    )
    for part, bottles in ((glue, 0), (replace(glue, unit="g"), 1)):
        sheet = session_sheet(shop(stock, known.with_parts(part)), session, "mark", NOTHING)
        assert len(sheet.bottles) == bottles
    (row,) = sheet.pieces
    assert (row.row, row.starts, row.wanted) == (1, 5, 4)
    assert row.stages == ("cut", "drill", "glue", "trim", "turn", "finish", "assemble")
    assert [use.part for use in sheet.uses] == [goods.STRIP]
    assert ("cut", f"{goods.OLIVE}: 3") in sheet.setup_list
    assert any(stage == "glue" and what.startswith(goods.TUBE) for stage, what in sheet.setup_list)
    said = [one.says for one in sheet.safety.statements]
    assert len(said) == len(set(said)) > 8


def test_a_tool_that_is_not_there_is_shouted() -> None:
    """Where it is known and none is on the shelf."""
    stock = plenty()
    stock.lots = [lot for lot in stock.lots if lot.part != "bit 27/64"]
    here = shop(stock)
    rows = rows_for(here, 2)
    lines = [what for _, what in setup_lines(rows, together(here, rows, NOTHING))]
    assert [what for what in lines if "missing" in what] == ["bit 27/64 (missing)"]
