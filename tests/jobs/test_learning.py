"""Learning from sessions: factors, the maker's words, losses."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import Pattern
from inventory.jobs.learning.beliefs import SESSION_SPREAD, SPREAD, prior_of
from inventory.jobs.learning.learned_figures import learn_on, relearn, standing
from inventory.jobs.learning.report import loss_intervals
from inventory.ledger.learned import MILLION, LearnedFigures, LearnedLoss, LearnedRate
from inventory.ledger.sessions import Happened, Observed, RateWord, Way
from jobs import goods
from jobs.learning_case import AVOCET, OILED, TURNSTONE, happened, off_by, outcome, shop

KNOWN = shop()
TUBES = "tube glue volume"
AREA = "barrel area"
WEEKENDS = (
    (outcome(TURNSTONE, 10, drill=1), outcome(AVOCET, 4, goods.ACRYLIC)),
    (outcome(OILED, 6, turn=2), outcome(TURNSTONE, 5)),
    (outcome(AVOCET, 8, goods.ACRYLIC, drill=2, turn=1),),
    (outcome(TURNSTONE, 12), outcome(AVOCET, 3, goods.ACRYLIC), outcome(OILED, 4)),
)


def sessions(factor: float = 1.0) -> tuple[Happened, ...]:
    """Four weekends that used so many times what the bills ask of every bottle, weighed to a tenth."""
    parts = {"glue": goods.GLUE, "epoxy": goods.EPOXY, "finish": goods.FINISH, "strip": goods.STRIP}
    return tuple(
        happened(
            number,
            *made,
            **{key: (factor * off_by(KNOWN, made, part), 0.1) for key, part in parts.items()},
        )
        for number, made in enumerate(WEEKENDS, start=11)
    )


def rate(figures: LearnedFigures, part: str, per: str) -> LearnedRate:
    """The one rate of a part and `per`."""
    (found,) = [one for one in figures.rates if (one.part, one.per) == (part, per)]
    return found


def loss(figures: LearnedFigures, material: str, stage: str) -> LearnedLoss:
    """The one loss of a material at a stage."""
    (found,) = [one for one in figures.losses if (one.material, one.stage) == (material, stage)]
    return found


@pytest.mark.parametrize("way", ["by the bill", "not learned", "weighed", "weighed twice", "counted", "used"])
def test_a_session_is_learned_on_as_if_all_were_learned_anew(way: Way) -> None:
    """Whether it read a bottle or only drew it: the figures are those of all sessions together."""
    before, made = list(sessions(1.3)), (outcome(TURNSTONE, 9, turn=1), outcome(AVOCET, 2, goods.ACRYLIC))
    drawn = Observed(goods.FINISH, 4_000, 100, way)
    new = replace(happened(20, *made), observed=(drawn,))
    words = (RateWord(goods.GLUE, TUBES, "pin", 1_500_000, 15),)
    kept = relearn(KNOWN, before, words)
    assert learn_on(kept, KNOWN, before, new, words) == relearn(KNOWN, [*before, new], words)
    later = happened(21, *WEEKENDS[0], finish=(5.0, 0.1))
    then = relearn(KNOWN, [*before, new], words)
    assert learn_on(then, KNOWN, [*before, new], later, words) == relearn(KNOWN, [*before, new, later], words)


# --- rates ----------------------------------------------------------------------------------------------------------


def test_nothing_happened_nothing_learned() -> None:
    """No session and no word: no figures, and no numpy is loaded to find that out."""
    assert relearn(KNOWN, []) == LearnedFigures()
    code = (
        "import sys; from inventory.catalogue import Catalogue;"
        "from inventory.jobs.learning.learned_figures import relearn;"
        "from inventory.ledger.learned import LearnedFigures;"
        "assert relearn(Catalogue(), []) == LearnedFigures();"
        "sys.exit(bool({'numpy', 'scipy', 'pandas'} & set(sys.modules)))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_use_as_written_leaves_factor_one() -> None:
    """Bottles that lose just what the bills ask: every factor stays 1, and its interval closes in on it."""
    figures = relearn(KNOWN, sessions())
    expected = {
        (goods.GLUE, TUBES),
        (goods.EPOXY, "session"),
        (goods.EPOXY, "barrel"),
        (goods.FINISH, AREA),
        (goods.STRIP, "piece"),
    }
    assert {(one.part, one.per) for one in figures.rates} == expected
    for one in figures.rates:
        spread = prior_of(one.per).spread
        assert one.factor == pytest.approx(MILLION, abs=2000), one
        assert (1 - spread) * MILLION < one.low <= one.factor <= one.high < (1 + spread) * MILLION, one
        assert one.outliers == ()
    assert rate(figures, goods.EPOXY, "barrel").sessions == 3  # one weekend made no Avocet
    assert rate(figures, goods.EPOXY, "session").sessions == 4


def test_a_fifth_more_is_learned() -> None:
    """Four weekends that used 1.2 times the bills: the factor goes there, the interval holds it, not 1."""
    one = rate(relearn(KNOWN, sessions(1.2)), goods.GLUE, TUBES)
    assert one.factor == pytest.approx(1_200_000, abs=20_000)
    assert MILLION < one.low < 1_200_000 < one.high


def test_first_guesses() -> None:
    """A factor of 1, within half of it; for what a session takes once within three quarters."""
    assert (prior_of("piece").value, prior_of("piece").spread) == (1.0, SPREAD)
    assert (prior_of("session").value, prior_of("session").spread) == (1.0, SESSION_SPREAD)


def test_a_session_unlike_the_others_is_named_and_left_out() -> None:
    """A bottle read in ounces: its document is named, the others decide."""
    *good, last = sessions()
    wild = happened(99, *WEEKENDS[0], glue=(28.35 * off_by(KNOWN, WEEKENDS[0], goods.GLUE), 0.1))
    one = rate(relearn(KNOWN, [*good, last, wild]), goods.GLUE, TUBES)
    assert (one.outliers, one.sessions) == ((99,), 4)
    assert one.factor == pytest.approx(MILLION, abs=20_000)


def test_weighed_though_nothing_was_made_with_it() -> None:
    """A bottle weighed in a session whose pieces never took of it says nothing of its rates."""
    idle = happened(50, outcome(TURNSTONE, 0, drill=3), glue=(4.0, 0.1))
    assert relearn(KNOWN, [idle]).rates == ()
    assert relearn(KNOWN, [*sessions(), idle]).rates == relearn(KNOWN, sessions()).rates


def test_a_weighed_part_no_bill_names() -> None:
    """A part that has left the bills since teaches nothing."""
    bare = KNOWN.with_pattern(Pattern(AVOCET, "Avocet", bill=(goods.line("cut", "the blank", 1000),)))
    bare = bare.with_pattern(Pattern(TURNSTONE, "Turnstone", bill=(goods.line("cut", "the blank", 1000),)))
    assert {one.part for one in relearn(bare, sessions()).rates} == {goods.STRIP}


def test_a_pattern_without_a_bill_stops_nobody() -> None:
    """It teaches nothing of supplies; its pieces still teach what is lost."""
    bare = KNOWN.with_pattern(Pattern(OILED, "Turnstone", bill=()))
    seen = [happened(1, outcome(OILED, 3, turn=1), glue=(9.0, 0.1))]
    assert relearn(bare, seen).rates == ()
    assert loss(relearn(bare, seen), "olive wood", "turn").lost == 1


def test_scatter_is_in_the_parts_unit() -> None:
    """What sessions differ by is kept in thousandths of the unit: about what was put in."""
    wobble = (1.25, 0.8, 1.2, 0.75)
    seen = [
        happened(at, *made, glue=(by * off_by(KNOWN, made, goods.GLUE), 0.01))
        for at, (made, by) in enumerate(zip(WEEKENDS, wobble, strict=True), start=1)
    ]
    usual = np.mean([off_by(KNOWN, made, goods.GLUE) for made in WEEKENDS])
    assert 0.1 * usual < rate(relearn(KNOWN, seen), goods.GLUE, TUBES).scatter / 1000 < 0.6 * usual


@examples(5)
@given(st.permutations(range(4)))
def test_order_of_sessions_does_not_matter(order: list[int]) -> None:
    """Figures are of what happened, not of when it was booked."""
    every = sessions(1.3)
    assert relearn(KNOWN, [every[at] for at in order]) == relearn(KNOWN, every)


def test_an_undone_session_was_never() -> None:
    """Without it the figures are exactly those of before it, to the millionth."""
    every = sessions(0.8)
    before = relearn(KNOWN, every[:3])
    assert relearn(KNOWN, every) != before
    assert relearn(KNOWN, [one for one in every if one.document != 14]) == before


# --- the maker's words ----------------------------------------------------------------------------------------------


def test_pinned_without_a_session() -> None:
    """A pin holds from the first day; nothing else of the part is touched."""
    figures = relearn(KNOWN, [], [RateWord(goods.EPOXY.upper(), "session", "pin", 1_500_000, 3)])
    assert figures.rates == (
        LearnedRate(goods.EPOXY, "session", 1_500_000, 1_500_000, 1_500_000, 0, pinned=True),
    )
    assert figures.losses == ()


def test_a_pinned_rate_is_subtracted_from_what_was_used() -> None:
    """With the pot held at double, what is left for the barrels is less."""
    free = relearn(KNOWN, sessions())
    held = relearn(KNOWN, sessions(), [RateWord(goods.EPOXY, "session", "pin", 1_400_000, 3)])
    assert rate(held, goods.EPOXY, "session").factor == 1_400_000
    assert rate(held, goods.EPOXY, "session").pinned
    assert rate(held, goods.EPOXY, "barrel").factor < rate(free, goods.EPOXY, "barrel").factor
    assert rate(held, goods.GLUE, TUBES) == rate(free, goods.GLUE, TUBES)


def test_freed_is_as_if_never_pinned() -> None:
    """Pin and free: exactly what the sessions say; without any, nothing."""
    words = [
        RateWord(goods.GLUE, TUBES, "pin", 2_000_000, 3),
        RateWord(goods.GLUE, TUBES, "free", document=4),
    ]
    assert relearn(KNOWN, sessions(), words) == relearn(KNOWN, sessions())
    assert relearn(KNOWN, [], words) == LearnedFigures()


def test_reset_forgets_what_was_before_it() -> None:
    """Sessions up to the word's document are forgotten for this part alone; later ones count."""
    every = sessions(1.4)
    figures = relearn(KNOWN, every, [RateWord(goods.GLUE, TUBES, "reset", document=12)])
    assert rate(figures, goods.GLUE, TUBES) == rate(relearn(KNOWN, every[2:]), goods.GLUE, TUBES)
    assert rate(figures, goods.STRIP, "piece") == rate(relearn(KNOWN, every), goods.STRIP, "piece")
    assert figures.losses == relearn(KNOWN, every).losses
    assert relearn(KNOWN, every, [RateWord(goods.STRIP, "piece", "reset", document=14)]).rates == tuple(
        one for one in relearn(KNOWN, every).rates if one.part != goods.STRIP
    )


def test_a_reset_is_of_the_whole_part() -> None:
    """Its rates come from the same bottles: one of them begun anew is all begun anew."""
    every = sessions(1.4)
    by_pot = relearn(KNOWN, every, [RateWord(goods.EPOXY, "session", "reset", document=12)])
    assert rate(by_pot, goods.EPOXY, "barrel") == rate(relearn(KNOWN, every[2:]), goods.EPOXY, "barrel")


def test_the_last_word_stands() -> None:
    """A reset lets go of a pin; a later pin holds again; an earlier reset stays."""
    words = [
        RateWord(goods.GLUE, TUBES, "reset", document=2),
        RateWord(goods.GLUE, TUBES, "pin", 2_000_000, 3),
        RateWord(goods.EPOXY, "session", "pin", 1_100_000, 3),
        RateWord(goods.EPOXY, "session", "reset", document=4),
        RateWord(goods.GLUE, TUBES, "pin", 900_000, 5),
    ]
    said = standing(words)
    assert said.pinned == {"thin ca": {TUBES: 900_000}}
    assert said.since == {"thin ca": 2, "epoxy": 4}


def test_a_pin_the_bills_no_longer_know() -> None:
    """A pinned `per` that no bill uses any more does nothing."""
    assert relearn(KNOWN, [], [RateWord(goods.GLUE, "piece", "pin", 2_000_000, 3)]) == LearnedFigures()


# --- losses ---------------------------------------------------------------------------------------------------------


def test_losses_count_who_reached_the_stage() -> None:
    """10 begun, 2 lost at drill, 1 at turn: 10 reached the drill, 8 the lathe; rows and sessions add up."""
    figures = relearn(
        KNOWN, [happened(1, outcome(TURNSTONE, 7, drill=2, turn=1)), happened(2, outcome(OILED, 5))]
    )
    drill, turn = loss(figures, "olive wood", "drill"), loss(figures, "olive wood", "turn")
    assert (drill.reached, drill.lost) == (15, 2)
    assert (turn.reached, turn.lost) == (13, 1)
    low, high = loss_intervals(KNOWN, figures)["olive wood", "drill"]
    assert low * MILLION <= drill.share <= high * MILLION
    assert drill.share > 20_000


def test_materials_share_what_one_taught() -> None:
    """Many lost of olive at the drill: acrylic, never worked, is trusted less there too; the lathe is untouched."""
    bad = relearn(KNOWN, [happened(1, outcome(TURNSTONE, 20, drill=10))])
    acrylic = loss(bad, "acrylic", "drill")
    assert (acrylic.reached, acrylic.lost) == (0, 0)
    assert acrylic.share > 60_000  # the sheet says 4 %
    good = relearn(KNOWN, [happened(1, outcome(TURNSTONE, 200))])
    assert loss(good, "acrylic", "drill").share < 40_000


def test_a_material_without_losses_in_the_sheets_learns_them() -> None:
    """Antler's sheet says nothing: what is lost is learned all the same."""
    figures = relearn(KNOWN, [happened(1, outcome(TURNSTONE, 6, goods.ANTLER, turn=2))])
    assert loss(figures, "antler", "turn").share > 10_000
    assert loss(figures, "antler", "drill").share == 0


def test_losses_need_no_weighing_and_no_pin_touches_them() -> None:
    """A session of which only good and lost pieces are known teaches losses, whatever is pinned."""
    seen = [happened(1, outcome(TURNSTONE, 6, turn=2))]
    figures = relearn(KNOWN, seen)
    assert figures.rates == ()
    pinned = relearn(KNOWN, seen, [RateWord(goods.GLUE, TUBES, "pin", 2_000_000, 3)])
    assert pinned.losses == figures.losses


def test_nobody_reached_anything() -> None:
    """A session booked with no piece begun teaches nothing."""
    assert relearn(KNOWN, [happened(1, outcome(TURNSTONE, 0))]) == LearnedFigures()


def test_stages_of_tubes_count_though_they_take_no_part() -> None:
    """Tubed barrels are drilled and trimmed; nothing is ever lost when packing, and none is kept for it."""
    stages = {one.stage for one in relearn(KNOWN, [happened(1, outcome(TURNSTONE, 6))]).losses}
    assert {"cut", "drill", "glue", "trim", "turn", "finish", "assemble"} == stages
    stopper = relearn(KNOWN, [happened(1, outcome("Godwit plain", 6))])
    assert {one.stage for one in stopper.losses} == {"cut", "drill", "turn", "assemble"}
