"""Can I take this order: each verdict with its reasons, from one picture of the shop."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inventory.catalogue import Blank, Kit, Part, Pattern, fold
from inventory.jobs.order_check import VERDICTS, OrderReport, check, parts_involved
from inventory.jobs.wishes import Wish
from inventory.measures import read_length
from jobs.shop import (
    ACRYLIC,
    ANTLER,
    AVOCET_KIT,
    BODY_TUBE,
    BUSHINGS,
    CAP_TUBE,
    CHROME_KIT,
    DRILL,
    DRILL_BODY,
    DUE,
    EPOXY,
    FINISH,
    GLUE,
    GODWIT_KIT,
    GUN_KIT,
    OLIVE,
    PILOT,
    REFILL,
    RHODIUM_KIT,
    SAW,
    SLIM,
    STRIP,
    THICK,
    TODAY,
    TUBE,
    Stock,
    catalogue,
    line,
    plenty,
    shop,
    wish,
    with_losses,
    with_only,
    with_parts,
    with_pattern,
    without,
)


def need(report: OrderReport, part: str) -> tuple[int, int]:
    """Need of a part over its stages, and how much of it is short."""
    rows = [one for one in report.plan.parts if one.part.name == part]
    return sum(one.need for one in rows), sum(one.short for one in rows)


def test_from_the_shelf() -> None:
    """Everything is free: the day is today, nothing is bought, and it is said for how many starts."""
    report = check(shop(), wish(4))
    assert report.verdict == "from the shelf"
    assert report.earliest == TODAY
    assert report.sourcing.buy == ()
    assert report.odds == report.odds_then
    assert report.odds.probability > 0.999
    assert report.why == (f"Everything is free on the shelf for {report.starts} starts.",)


def test_one_piece_without_losses() -> None:
    """An antler loses nothing: one start for one piece, and that is said too."""
    stock = plenty()
    stock.measured("root", "20 mm", "70 mm")
    report = check(shop(stock), wish(1, blank=ANTLER))
    assert report.verdict == "from the shelf"
    assert report.why == ("Everything is free on the shelf for 1 start.",)
    assert "No losses are known for antler; every piece is taken to come out good." in report.cautions
    assert any("Cervus listed here" in said and "CITES" in said for said in report.cautions)


def test_after_buying() -> None:
    """Two kits for four pieces: the rest comes from who has it in time, with day and sum, before the due day."""
    report = check(shop(with_only(plenty(), CHROME_KIT, 2000, 800)), wish(4))
    (bought,) = report.sourcing.buy
    assert report.verdict == "after buying"
    assert report.earliest == TODAY + timedelta(days=5)
    assert (bought.part.name, bought.supplier) == (CHROME_KIT, "Saltmarsh Turning")
    assert bought.quantity == need(report, CHROME_KIT)[1] == need(report, CHROME_KIT)[0] - 2000
    assert bought.cost == bought.packs * 450
    assert report.odds.probability < 0.01
    assert report.odds_then.probability >= 0.9
    assert any(
        said.startswith(f"{CHROME_KIT}: ") and "Saltmarsh Turning has it by" in said for said in report.why
    )


def test_hardly_an_evening_is_pointed_out() -> None:
    """Parts that arrive the day before it is due are a caution; three days before are none."""
    stock = with_only(plenty(), CHROME_KIT, 2000)
    for days, said in ((6, True), (8, False)):
        report = check(shop(stock), wish(4, due=TODAY + timedelta(days=days)))
        assert report.verdict == "after buying"
        assert any("hardly an evening" in one for one in report.cautions) == said


def test_too_late() -> None:
    """Due in three days and five to come: too late, with the earliest day."""
    report = check(shop(with_only(plenty(), CHROME_KIT, 2000)), wish(4, due=TODAY + timedelta(days=3)))
    assert report.verdict == "too late"
    assert report.earliest == TODAY + timedelta(days=5)
    assert any("(too late)" in said for said in report.why)


def test_cannot_because_nobody_offers_it() -> None:
    """A part that is short and that no supplier has cannot be made, and is named with what is short."""
    report = check(shop(with_only(plenty(), STRIP, 1000)), wish(4))
    assert report.verdict == "cannot"
    assert report.earliest is None
    assert [part.name for part in report.sourcing.nowhere] == [STRIP]
    assert need(report, STRIP)[1] == need(report, STRIP)[0] - 1000
    assert f"{STRIP}: 1 strip short, and no supplier offers it." in report.why


def test_cannot_because_the_blank_is_too_small() -> None:
    """A barrel grown beyond the blank's section cannot be made of it, however many could be bought."""
    report = check(shop(), wish(4, extra_diameter=read_length("6 mm")))
    assert report.verdict == "cannot"
    assert report.why[0] == f"{OLIVE} is too small: 19 mm thick, 20.4 mm wanted (40 there)."


def test_what_is_too_small_is_said_beside_what_does() -> None:
    """One antler fits, one is thin: the order is taken and the thin one named."""
    stock = plenty()
    stock.measured("good", "20 mm", "70 mm")
    stock.measured("thin", "10 mm", "70 mm")
    report = check(shop(stock), wish(1, blank=ANTLER))
    assert report.verdict == "from the shelf"
    assert "thin is left out: diameter short by 4.4 mm." in report.why


def test_losses_at_a_stage_before_the_blank_do_not_make_it_impossible() -> None:
    """Where the bill takes the blank at the drill, pieces lost before it need none."""
    known = with_losses(catalogue(), "antler", cut="0.5")
    bill = (line("drill", "the blank", 1000), line("assemble", "the kit", 1000))
    known = with_pattern(known, Pattern("late blank", "Turnstone", bill=bill))
    stock = plenty()
    for name in "abc":
        stock.measured(name, "20 mm", "70 mm")
    report = check(shop(stock, known), wish(2, pattern="late blank", blank=ANTLER))
    assert report.starts > 3
    assert need(report, ANTLER) == (2000, 0)
    assert report.verdict == "from the shelf"


def test_tools_that_are_not_there_are_bought_or_missed() -> None:
    """A drill is offered and bought; bushings nobody offers make it a no."""
    bought = check(shop(without(plenty(), DRILL)), wish(4))
    assert bought.verdict == "after buying"
    assert [one.part.name for one in bought.sourcing.buy] == [DRILL]
    missed = check(shop(without(plenty(), BUSHINGS)), wish(4))
    assert missed.verdict == "cannot"
    assert [part.name for part in missed.sourcing.nowhere] == [BUSHINGS]
    assert {(one.what, one.there) for one in missed.lay_out if one.what != "tubes"} == {
        ("drill 27/64", True),
        ("trimmer pilot", True),
        ("bushings", False),
    }


def test_a_book_without_tools_asks_to_look() -> None:
    """Where no tool is kept in the book none is short, and the bench list leaves it open."""
    report = check(shop(without(plenty(), DRILL, SAW, BUSHINGS, PILOT)), wish(4))
    assert report.verdict == "from the shelf"
    assert [(one.what, one.part, one.there) for one in report.lay_out] == [
        ("drill 27/64", DRILL, None),
        ("tubes", TUBE, True),
        ("trimmer pilot", PILOT, None),
        ("bushings", BUSHINGS, None),
    ]


def test_near_twins_are_warned_of() -> None:
    """The 10.5 mm drill is there: not to be taken for 27/64, least of all where that is missing."""
    stock = without(plenty(), DRILL)
    stock.lot(DRILL_BODY, 1000)
    report = check(shop(stock), wish(4))
    assert report.lay_out[0].note == f"{DRILL_BODY} (10.5 mm) is there: not the same hole"
    assert f"Do not take {DRILL_BODY} (10.5 mm) for drill 27/64." in report.cautions


def avocet_stock() -> Stock:
    """Enough for a few Avocets in acrylic, of which a 130 mm blank gives one."""
    stock = Stock()
    for part in (AVOCET_KIT, CAP_TUBE, ACRYLIC):
        stock.lot(part, 20_000)
    stock.lot(BODY_TUBE, 2000)
    return stock


def test_two_different_tubes_are_counted_apart() -> None:
    """Plenty of cap tubes and two body tubes: only the body tubes are short, and laid out as missing."""
    report = check(
        shop(avocet_stock()), wish(4, pattern="Avocet gloss", platings=("gunmetal",), blank=ACRYLIC)
    )
    assert report.verdict == "cannot"
    assert [part.name for part in report.sourcing.nowhere] == [BODY_TUBE]
    tubes = [(one.part, one.there, one.note) for one in report.lay_out if one.what == "tubes"]
    assert tubes == [(CAP_TUBE, True, "cap"), (BODY_TUBE, False, "body")]
    assert "acrylic: chips; take light cuts." in report.cautions


def test_a_stopper_without_a_tube() -> None:
    """One piece a 70 mm blank, no tubes to lay out; the plating is known where there is only one."""
    stock = Stock()
    stock.lot(GODWIT_KIT, 20_000)
    stock.lot(THICK, 20_000)
    report = check(shop(stock), wish(4, pattern="Godwit plain", platings=(), blank=THICK))
    assert report.verdict == "from the shelf"
    assert report.plan.plating == "chrome"
    assert report.plan.blanks.each == 1
    assert [one.what for one in report.lay_out] == ["drill 3/8"]


def test_stand_ins_are_named_and_never_taken() -> None:
    """Rhodium may stand in for chrome: it is offered for the customer's word; gunmetal is not."""
    stock = without(plenty(), CHROME_KIT)
    stock.lot(RHODIUM_KIT, 20_000)
    stock.lot(GUN_KIT, 20_000)
    report = check(shop(stock), wish(4))
    assert report.plan.plating == "chrome"
    assert report.why[-1] == (
        f'{RHODIUM_KIT} is free; with the customer\'s word rhodium may stand in (--or-plating "rhodium").'
    )
    assert not any("gunmetal" in said for said in report.why)
    few = with_only(stock, RHODIUM_KIT, 1000)
    assert not any("stand in" in said for said in check(shop(few), wish(4)).why)


def test_no_stand_in_is_named_where_the_kit_is_not_what_is_short() -> None:
    """Strips are short, kits are not: no other plating would help."""
    stock = with_only(plenty(), STRIP, 0)
    stock.lot(RHODIUM_KIT, 20_000)
    assert not any("stand in" in said for said in check(shop(without(stock, STRIP)), wish(4)).why)


def test_an_accepted_stand_in_is_taken() -> None:
    """With the customer's word the plating that is there is used, all in one, and the caution says so."""
    stock = without(plenty(), CHROME_KIT)
    stock.lot(RHODIUM_KIT, 20_000)
    report = check(shop(stock), wish(4, platings=("chrome", "Rhodium")))
    assert (report.verdict, report.plan.plating) == ("from the shelf", "rhodium")
    assert "All pieces in rhodium: platings are never mixed inside a set." in report.cautions


def test_the_wished_plating_goes_first_and_sets_are_never_mixed() -> None:
    """Where both would do the first is taken; three chrome and three rhodium do not make six."""
    both = plenty()
    both.lot(RHODIUM_KIT, 20_000)
    assert check(shop(both), wish(4, platings=("chrome", "rhodium"))).plan.plating == "chrome"
    few = with_only(plenty(), CHROME_KIT, 3000)
    few.lot(RHODIUM_KIT, 3000)
    report = check(shop(few), wish(4, platings=("chrome", "rhodium")))
    assert (report.verdict, report.plan.plating) == ("after buying", "chrome")
    kits = [one.part.name for one in report.plan.parts if one.role == "the kit"]
    assert kits == [CHROME_KIT]


def test_a_stand_in_already_accepted_is_not_offered_again() -> None:
    """Neither plating is there: the accepted one is no news."""
    report = check(shop(without(plenty(), CHROME_KIT)), wish(4, platings=("chrome", "rhodium")))
    assert not any("stand in" in said for said in report.why)


def test_a_refill_swap_changes_what_is_needed() -> None:
    """The slim refill is needed and the usual one not; the note of the part is the caution."""
    stock = plenty()
    stock.lot(SLIM, 20_000)
    report = check(shop(stock), wish(4, refill=SLIM))
    assert need(report, SLIM)[0] > 0
    assert need(report, REFILL) == (0, 0)
    assert f"Refill {SLIM} in place of {REFILL}: the spring sits lower." in report.cautions
    plain = with_parts(catalogue(), replace(catalogue().part(SLIM), note=""))
    swapped = check(shop(stock, plain), wish(4, refill=SLIM))
    assert f"Refill {SLIM} in place of {REFILL}; try one before promising." in swapped.cautions
    assert not any("in place of" in said for said in check(shop(), wish(4, refill=REFILL)).cautions)


def test_a_fatter_barrel_takes_more_finish_and_says_so() -> None:
    """2 mm more needs more finish, and tapers back at both ends."""
    usual, fat = check(shop(), wish(4)), check(shop(), wish(4, extra_diameter=read_length("2 mm")))
    assert need(fat, FINISH)[0] > need(usual, FINISH)[0]
    assert any(said.startswith("Barrel 2 mm fatter: taper both ends") for said in fat.cautions)


def test_glue_that_went_off_is_not_counted() -> None:
    """A bottle past its day is no glue, and is said; one that goes off before the due day is a caution."""
    stock = without(plenty(), GLUE)
    stock.lot(GLUE, 50_000, 600, use_by=TODAY - timedelta(days=1))
    report = check(shop(stock), wish(4))
    assert report.verdict == "after buying"
    assert [one.part.name for one in report.sourcing.buy] == [GLUE]
    assert f"{GLUE}: a lot went off on 2026-11-24 and is not counted on." in report.cautions
    stock.lot(GLUE, 50_000, 600, use_by=TODAY + timedelta(days=9))
    soon = check(shop(stock), wish(4))
    assert soon.verdict == "from the shelf"
    assert f"{GLUE}: a lot goes off on 2026-12-04, before the order is due." in soon.cautions
    stock.lot(GLUE, 50_000, 600, use_by=DUE)
    assert not any("2026-12-16" in said for said in check(shop(stock), wish(4)).cautions)


def test_hazards_are_said_once_for_all_products_with_the_same() -> None:
    """Products are named with their statements; flammable ones and the data sheet are pointed to; dust always."""
    said = check(shop(), wish(4)).cautions
    assert any(one.startswith(f"{GLUE}: causes skin irritation (H315)") for one in said)
    assert any(one.startswith("Keep flames") for one in said)
    assert any("safety data sheet" in one for one in said)
    assert any(one.startswith("Dust of wood") for one in said)
    plain = check(shop(), wish(4, pattern="Godwit plain", platings=(), blank=THICK)).cautions
    assert not any("data sheet" in one or one.startswith("Keep flames") for one in plain)


def test_a_blank_of_unknown_length_is_pointed_out() -> None:
    """One piece a blank is assumed, and that is said."""
    known = with_parts(catalogue(), Part(OLIVE, Blank("olive wood", "square", read_length("19 mm"))))
    said = check(shop(plenty(), known), wish(4)).cautions
    assert f"{OLIVE} has no length in the book: one piece a blank is assumed." in said


def test_tubes_inside_the_kit_are_not_needed_apart() -> None:
    """With tubes in the kits only the spare ones for pieces lost before assembly are needed."""
    kit = Part(CHROME_KIT, Kit("Turnstone", "chrome", tubes_inside=True))
    report = check(shop(plenty(), with_parts(catalogue(), kit)), wish(10))
    glue, assemble = report.plan.reach[2], report.plan.reach[6]
    assert need(report, TUBE)[0] == 1000 * (glue - assemble)
    assert [one.note for one in report.lay_out if one.what == "tubes"] == ["barrel, in the kit"]
    assert need(check(shop(), wish(10)), TUBE)[0] == 1000 * glue
    bare = without(plenty(), TUBE)
    bare.lot(ACRYLIC, 20_000)
    inside = check(shop(bare, with_parts(catalogue(), kit)), wish(1, blank=ACRYLIC))
    assert inside.odds.probability > 0.9
    assert check(shop(bare), wish(1, blank=ACRYLIC)).odds.probability == 0


def test_of_two_kits_in_one_plating_the_fuller_drawer() -> None:
    """Two kit parts of one family and plating: the one most of which is free."""
    known = with_parts(catalogue(), Part("Turnstone kit chrome, old", Kit("Turnstone", "chrome")))
    stock = with_only(plenty(), CHROME_KIT, 2000)
    stock.lot("Turnstone kit chrome, old", 30_000)
    report = check(shop(stock, known), wish(4))
    assert report.plan.kit.name == "Turnstone kit chrome, old"
    assert report.verdict == "from the shelf"


def test_what_is_due_in_in_time_counts() -> None:
    """Kits already bought that arrive in time are not bought again; the day is theirs."""
    stock = with_only(plenty(), CHROME_KIT, 2000)
    stock.coming(CHROME_KIT, 30_000, TODAY + timedelta(days=8))
    report = check(shop(stock), wish(4))
    assert report.verdict == "after buying"
    assert report.sourcing.buy == ()
    assert report.earliest == TODAY + timedelta(days=8)
    assert any("already due in on 2026-12-03" in said for said in report.why)


def test_others_claims_are_not_free() -> None:
    """What is set aside for another order is not there for this one."""
    stock = plenty()
    stock.claim("Reed", CHROME_KIT, 39_000)
    report = check(shop(stock), wish(4))
    assert report.verdict == "after buying"
    assert next(one.free for one in report.plan.parts if one.part.name == CHROME_KIT) == 1000


def test_a_part_at_two_stages_shares_what_is_free() -> None:
    """Strips at two stages: the later one has what the earlier one leaves."""
    bill = (*catalogue().pattern("Turnstone gloss").bill, line("turn", STRIP, 1000))
    known = with_pattern(catalogue(), Pattern("sanded", "Turnstone", bill=bill))
    report = check(shop(with_only(plenty(), STRIP, 7000), known), wish(4, pattern="sanded"))
    turn, finish = [one for one in report.plan.parts if one.part.name == STRIP]
    assert (turn.stage, finish.stage) == ("turn", "finish")
    assert turn.free == 7000
    assert finish.free == max(7000 - turn.need, 0)


def test_cautions_about_money() -> None:
    """A price under the lowest sensible one is pointed out, and parts without a cost are named."""
    assert any("under the lowest sensible" in one for one in check(shop(), wish(4, price=100)).cautions)
    assert not any("lowest sensible" in one for one in check(shop(), wish(4, price=99_900)).cautions)
    report = check(shop(without(plenty(), STRIP, EPOXY)), wish(4))
    assert f"No cost is known of {EPOXY}, {STRIP}; the price leaves it out." in report.cautions


def test_every_part_the_answer_looks_at_is_named_beforehand() -> None:
    """Kits of every plating (they may stand in), tubes, bill lines, tools, both refills; nothing else."""
    names = parts_involved(catalogue(), wish(4, platings=("chrome", "rhodium"), refill=SLIM), TODAY)
    wanted = {
        CHROME_KIT,
        RHODIUM_KIT,
        GUN_KIT,
        TUBE,
        OLIVE,
        GLUE,
        FINISH,
        EPOXY,
        STRIP,
        REFILL,
        SLIM,
        DRILL,
        BUSHINGS,
        PILOT,
    }
    assert names == {fold(name) for name in wanted}


def test_confidence_raises_needs_and_starts() -> None:
    """From 50 to 99.9 % no need falls, and starts and kits rise."""
    reports = [check(shop(), wish(10, confidence=level)) for level in (0.5, 0.8, 0.9, 0.99, 0.999)]
    for part in (CHROME_KIT, TUBE, OLIVE, GLUE, FINISH, STRIP, REFILL):
        needs = [need(report, part)[0] for report in reports]
        assert needs == sorted(needs)
    assert reports[0].starts < reports[-1].starts
    assert need(reports[0], CHROME_KIT)[0] < need(reports[-1], CHROME_KIT)[0]


tight = (CHROME_KIT, TUBE, OLIVE, REFILL, STRIP)


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.integers(0, 8), min_size=5, max_size=5),
    st.lists(st.integers(0, 4), min_size=5, max_size=5),
    st.integers(1, 5),
    st.integers(0, 9),
)
def test_more_stock_never_worsens_the_answer(
    there: list[int], more: list[int], count: int, days: int
) -> None:
    """With more of anything the verdict is no later in the list and the day no later."""

    def answer(pieces: list[int]) -> OrderReport:
        stock = without(plenty(), *tight)
        for part, number in zip(tight, pieces, strict=True):
            if number:
                stock.lot(part, 1000 * number)
        return check(shop(stock), wish(count, due=TODAY + timedelta(days=days)))

    before, after = answer(there), answer([a + b for a, b in zip(there, more, strict=True)])
    assert VERDICTS.index(after.verdict) <= VERDICTS.index(before.verdict)
    assert after.odds.probability >= before.odds.probability - 1e-9
    if before.earliest:
        assert after.earliest is not None
        assert after.earliest <= before.earliest


@pytest.mark.parametrize("confidence", [0.5, 0.9, 0.99])
def test_once_the_missing_is_bought_the_odds_meet_the_confidence(confidence: float) -> None:
    """Each part alone being enough is not all being enough: what is short is raised until all together are."""
    tightly = without(plenty(), *tight)
    usual = Wish("Turnstone gloss", ("chrome",), OLIVE, 6, DUE, confidence=confidence)
    report = check(shop(tightly), usual)
    assert report.odds_then.probability >= confidence - 1e-9
