"""Rates and losses as a person reads them: natural units, what the sheet says, pins by amount or factor, changes."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from statistics import NormalDist

import pytest

from inventory.catalogue import fold
from inventory.errors import BadInput, UnknownName
from inventory.jobs.learning.learned_figures import relearn
from inventory.jobs.learning.report import (
    changed_losses,
    changed_rates,
    loss_intervals,
    loss_lines,
    pinned_factor,
    rate_lines,
)
from inventory.ledger.learned import LearnedFigures, LearnedLoss, LearnedRate
from inventory.making.rates.priors import BELIEFS, NINE_IN_TEN
from jobs import goods
from jobs.learning_case import AVOCET, TURNSTONE, happened, off_by, outcome, shop

KNOWN = shop()
AREA, TUBES = "barrel area", "tube glue volume"
NOTHING = LearnedFigures()
LEARNED = LearnedFigures(
    (
        LearnedRate(goods.FINISH, AREA, 1_250_000, 1_000_000, 1_500_000, 3, (7,), scatter=120),
        LearnedRate(goods.EPOXY, "session", 2_000_000, 2_000_000, 2_000_000, 0, pinned=True),
    ),
    (
        LearnedLoss("olive wood", "turn", 50_000, 40, 3),
        LearnedLoss("antler", "cut", 10_000, 4, 1),
    ),
)


def test_a_rate_in_its_own_unit() -> None:
    """What is written times the factor: 0.04 ml a cm² times 1.25 is 0.05 ml."""
    (line_,) = rate_lines(KNOWN, LEARNED, goods.FINISH.upper())
    assert (line_.part.name, line_.per, line_.prior, line_.estimate) == (
        goods.FINISH,
        AREA,
        Fraction(1, 25),
        Fraction(1, 20),
    )
    assert (line_.low, line_.high) == (Fraction(1, 25), Fraction(3, 50))
    assert (line_.sessions, line_.outliers, line_.pinned, line_.alike) == (3, (7,), False, True)
    assert line_.scatter == Fraction(12, 100)


def test_never_observed_shows_the_first_guess() -> None:
    """The sheet's figure, between a half and three times of it; of what a session takes once less is known."""
    (glue,) = rate_lines(KNOWN, NOTHING, goods.GLUE)
    assert (glue.prior, glue.estimate) == (Fraction(3, 2), Fraction(3, 2))
    assert 0.4 < glue.low / glue.prior < 0.6
    assert 2.5 < glue.high / glue.prior < 3.7
    assert glue.sessions == 0
    pot = next(one for one in rate_lines(KNOWN, NOTHING, goods.EPOXY) if one.per == "session")
    assert pot.low / pot.prior < glue.low / glue.prior
    assert pot.high / pot.prior > glue.high / glue.prior


def test_nine_in_ten_first_guesses_lie_between_the_ends() -> None:
    """One in twenty below the one, as many above the other: normal laws about their centres, cut off below 0."""
    (glue,) = rate_lines(KNOWN, NOTHING, goods.GLUE)

    def below(factor: float) -> float:
        return sum(
            weight * (at(factor) - at(0)) / (1 - at(0))
            for width, centre, weight in BELIEFS
            for at in (NormalDist(centre, width * 0.5 / NINE_IN_TEN).cdf,)
        )

    ends = [below(float(end / glue.prior)) for end in (glue.low, glue.high)]
    assert ends == pytest.approx([0.05, 0.95], abs=1e-4)


def test_patterns_that_differ_show_their_mean() -> None:
    """2 ml in one bill and 3 in another: 2.5, and that they differ is told."""
    pot = next(one for one in rate_lines(KNOWN, LEARNED, goods.EPOXY) if one.per == "session")
    assert [pot.prior, pot.estimate] == [Fraction(5, 2), 5]
    assert pot.pinned
    assert not pot.alike


def test_learned_and_held_come_first() -> None:
    """Then the rest, in the order of the sheets; what is no supply is left out."""
    names = [(one.part.name, one.per) for one in rate_lines(KNOWN, LEARNED)]
    assert set(names[:2]) == {(goods.FINISH, AREA), (goods.EPOXY, "session")}
    assert set(names[2:]) == {(goods.GLUE, TUBES), (goods.EPOXY, "barrel"), (goods.STRIP, "piece")}
    assert rate_lines(KNOWN, LEARNED, goods.CHROME_KIT) == ()
    with pytest.raises(UnknownName):
        rate_lines(KNOWN, LEARNED, "nothing")


def test_pinned_by_amount_or_factor() -> None:
    """0.05 ml of 0.04 is 1.25 times; a factor is taken as it is, where patterns differ too."""
    assert pinned_factor(KNOWN, goods.FINISH, AREA, Fraction(1, 20), as_factor=False) == 1_250_000
    assert pinned_factor(KNOWN, goods.EPOXY, "session", Fraction(6, 5), as_factor=True) == 1_200_000
    assert pinned_factor(KNOWN, goods.GLUE, TUBES, Fraction(0), as_factor=False) == 0


@pytest.mark.parametrize(
    ("part", "per", "value", "as_factor", "told"),
    [
        (goods.EPOXY, "session", Fraction(2), False, "different quantities of epoxy per session: 2, 3."),
        (goods.EPOXY, "piece", Fraction(2), True, "no rate per piece. It is taken per session, per barrel."),
        (goods.CHROME_KIT, "piece", Fraction(2), True, "No pattern's bill names it."),
        (goods.GLUE, TUBES, Fraction(-1), False, "0 or more"),
        (goods.GLUE, TUBES, Fraction(1_001), True, "1001 times what the bills write. Check the unit"),
        (goods.GLUE, TUBES, Fraction(1_600), False, "Check the unit"),
    ],
)
def test_a_pin_that_cannot_be(part: str, per: str, value: Fraction, as_factor: bool, told: str) -> None:
    """What and why, and what is accepted."""
    with pytest.raises(BadInput) as refused:
        pinned_factor(KNOWN, part, per, value, as_factor=as_factor)
    assert told in f"{refused.value.message} {refused.value.hint}"


def test_nothing_written_cannot_be_multiplied() -> None:
    """A bill of 0 stays 0 whatever the factor: the sheet has to be changed."""
    none = replace(KNOWN.pattern("Godwit plain"), bill=(goods.line("finish", goods.GLUE, 0, "piece"),))
    with pytest.raises(BadInput, match="write 0 of thin CA per piece"):
        pinned_factor(KNOWN.with_pattern(none), goods.GLUE, "piece", Fraction(1), as_factor=False)


def test_losses_of_the_book_and_of_now() -> None:
    """By material and stage in working order; stages of which nobody says anything are left out."""
    lines = {(one.material, one.stage): one for one in loss_lines(KNOWN, LEARNED)}
    turn = lines["olive wood", "turn"]
    assert (turn.prior, turn.estimate) == (Fraction(3, 100), Fraction(1, 20))
    assert (turn.reached, turn.lost) == (40, 3)
    drill = lines["olive wood", "drill"]
    assert drill.prior == drill.estimate == Fraction(1, 50)
    assert lines["antler", "cut"].prior == 0
    assert ("antler", "turn") not in lines
    assert [one.stage for one in loss_lines(KNOWN, LEARNED, "OLIVE wood")] == ["drill", "turn"]
    with pytest.raises(UnknownName):
        loss_lines(KNOWN, LEARNED, "nothing")


def test_the_interval_of_a_loss_is_worked_out_from_the_counts() -> None:
    """It holds the kept share, narrows with what was counted, and is of learned losses alone."""
    known = loss_intervals(KNOWN, LEARNED)
    assert known.keys() == {("olive wood", "turn"), ("antler", "cut")}
    low, high = known["olive wood", "turn"]
    assert low < Fraction(1, 20) < high
    more = LearnedFigures((), (LearnedLoss("olive wood", "turn", 75_000, 4_000, 300),))
    narrow = loss_intervals(KNOWN, more)["olive wood", "turn"]
    assert narrow[1] - narrow[0] < (high - low) / 4
    assert loss_intervals(KNOWN, NOTHING) == {}


def test_changes_either_way() -> None:
    """Learning names old and new; forgetting the same names them turned round, stages that vanish too."""
    assert [(old.estimate, new.estimate) for old, new in changed_rates(KNOWN, NOTHING, LEARNED)] == [
        (Fraction(1, 25), Fraction(1, 20)),
        (Fraction(5, 2), Fraction(5)),
    ]
    assert {(new.part.name, new.estimate) for _, new in changed_rates(KNOWN, LEARNED, NOTHING)} == {
        (goods.FINISH, Fraction(1, 25)),
        (goods.EPOXY, Fraction(5, 2)),
    }
    for before, after in ((NOTHING, LEARNED), (LEARNED, NOTHING)):
        told = {
            (now.material, now.stage): (was.estimate, now.estimate)
            for was, now in changed_losses(KNOWN, before, after)
        }
        turned = slice(None, None, 1 if before is NOTHING else -1)
        assert told == {
            ("olive wood", "turn"): (Fraction(3, 100), Fraction(1, 20))[turned],
            ("antler", "cut"): (Fraction(0), Fraction(1, 100))[turned],
        }
    assert not changed_rates(KNOWN, LEARNED, LEARNED)
    assert not changed_losses(KNOWN, LEARNED, LEARNED)


def test_materials_nobody_worked_are_not_news() -> None:
    """What one material teaches the others is used, and not told line by line."""
    after = relearn(KNOWN, [happened(1, outcome(TURNSTONE, 20, turn=8))])
    told = {now.material for _, now in changed_losses(KNOWN, NOTHING, after)}
    assert told == {"olive wood"}
    assert any(one.material == "acrylic" for one in after.losses)


def test_figures_come_from_the_bills() -> None:
    """From a session to the shown rate: 1.2 times 1.5 ml between tubes and holes."""
    made = (outcome(TURNSTONE, 10), outcome(AVOCET, 6))
    seen = [happened(n, *made, glue=(1.2 * off_by(KNOWN, made, goods.GLUE), 0.01)) for n in range(1, 6)]
    (glue,) = rate_lines(KNOWN, relearn(KNOWN, seen), goods.GLUE)
    assert float(glue.estimate) == pytest.approx(1.8, rel=0.01)
    assert fold(glue.part.name) == fold(goods.GLUE)
