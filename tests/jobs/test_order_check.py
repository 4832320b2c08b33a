"""Can I take this order: each verdict with its reasons, from one picture of the shop."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import Part, Pattern, Tool
from inventory.jobs.orders.order_check import VERDICTS, OrderReport, check
from inventory.jobs.orders.requests import OrderRequest
from inventory.jobs.sessions.safety import making_safety
from inventory.measures import read_length, show_amount
from jobs import goods
from jobs.shop import DUE, TODAY, Stock, plenty, request, shop


def need(report: OrderReport, part: str) -> tuple[int, int]:
    """Need of a part over its stages, and how much of it is short."""
    rows = [one for one in report.plan.parts if one.part.name == part]
    return sum(one.need for one in rows), sum(one.short for one in rows)


def avocet_stock() -> Stock:
    """Enough for a few Avocets in acrylic, of which a 130 mm blank gives one."""
    stock = Stock()
    for part in (goods.AVOCET_KIT, goods.CAP_TUBE, goods.ACRYLIC):
        stock.lot(part, 20_000)
    stock.lot(goods.BODY_TUBE, 2000)
    return stock


def test_from_the_shelf() -> None:
    """Everything is free: the day is today, nothing is bought, and it is said for how many starts."""
    report = check(shop(), request(4))
    assert report.verdict == "from the shelf"
    assert report.earliest == TODAY
    assert report.sourcing.buy == ()
    assert report.joint == report.joint_after_buying
    assert report.joint.probability > 0.999
    assert report.why == (f"Everything is free on the shelf for {report.starts} starts.",)


def test_one_piece_without_losses() -> None:
    """An antler loses nothing: one start for one piece, and that is said too."""
    stock = plenty()
    stock.measured("root", "20 mm", "70 mm")
    report = check(shop(stock), request(1, blank=goods.ANTLER))
    assert report.verdict == "from the shelf"
    assert report.why == ("Everything is free on the shelf for 1 start.",)
    assert "No losses are known for antler; every piece is taken to come out good." in report.cautions
    selling = making_safety(shop(stock), [(report.resolved, report.plan)], selling=True).at("selling")
    assert any("Cervus listed here" in one.says and "CITES" in one.says for one in selling)


def test_after_buying() -> None:
    """Two kits for four pieces: the rest comes from who has it in time, with day and sum, before the due day."""
    report = check(shop(plenty().with_only(goods.CHROME_KIT, 2000, 800)), request(4))
    (bought,) = report.sourcing.buy
    assert report.verdict == "after buying"
    assert report.earliest == TODAY + timedelta(days=5)
    assert (bought.part.name, bought.supplier) == (goods.CHROME_KIT, "Saltmarsh Turning")
    assert bought.quantity == need(report, goods.CHROME_KIT)[1] == need(report, goods.CHROME_KIT)[0] - 2000
    assert bought.cost == bought.packs * 450
    assert report.joint.probability < 0.01
    assert report.joint_after_buying.probability >= 0.9
    assert any(
        said.startswith(f"{goods.CHROME_KIT}: ") and "Saltmarsh Turning has it by" in said
        for said in report.why
    )


def test_hardly_an_evening_is_pointed_out() -> None:
    """Parts that arrive the day before it is due are a caution; three days before are none."""
    stock = plenty().with_only(goods.CHROME_KIT, 2000)
    for days, said in ((6, True), (8, False)):
        report = check(shop(stock), request(4, due=TODAY + timedelta(days=days)))
        assert report.verdict == "after buying"
        assert any("hardly an evening" in one for one in report.cautions) == said


def test_too_late() -> None:
    """Due in three days and five to come: too late, with the earliest day."""
    report = check(
        shop(plenty().with_only(goods.CHROME_KIT, 2000)), request(4, due=TODAY + timedelta(days=3))
    )
    assert report.verdict == "too late"
    assert report.earliest == TODAY + timedelta(days=5)
    assert any("(too late)" in said for said in report.why)


def test_cannot_because_nobody_offers_it() -> None:
    """A part that is short and that no supplier has cannot be made, and is named with what is short."""
    report = check(shop(plenty().with_only(goods.STRIP, 1000)), request(4))
    assert report.verdict == "cannot"
    assert report.earliest is None
    assert [part.name for part in report.sourcing.nowhere] == [goods.STRIP]
    assert need(report, goods.STRIP)[1] == need(report, goods.STRIP)[0] - 1000
    short = show_amount(need(report, goods.STRIP)[0] - 1000, "strip")
    assert f"{goods.STRIP}: {short} short, and no supplier offers it." in report.why


def test_cannot_because_the_blank_is_too_small() -> None:
    """A barrel grown beyond the blank's section cannot be made of it, however many could be bought."""
    report = check(shop(), request(4, extra_diameter=read_length("6 mm")))
    assert report.verdict == "cannot"
    assert report.why[0] == f"{goods.OLIVE} is too small: 19 mm thick, 20.4 mm wanted (40 there)."


def test_what_is_too_small_is_said_beside_what_does() -> None:
    """One antler fits, one is thin: the order is taken and the thin one named."""
    stock = plenty()
    stock.measured("good", "20 mm", "70 mm")
    stock.measured("thin", "10 mm", "70 mm")
    report = check(shop(stock), request(1, blank=goods.ANTLER))
    assert report.verdict == "from the shelf"
    assert "thin is left out: diameter short by 4.4 mm." in report.why


def test_losses_at_a_stage_before_the_blank_do_not_make_it_impossible() -> None:
    """The catalogue's blank is too short and two measured ones are not: pieces lost before the drill need none."""
    known = goods.catalogue().with_losses("olive wood", cut="0.5")
    bill = (goods.line("drill", "the blank", 1000), goods.line("assemble", "the kit", 1000))
    known = known.with_pattern(Pattern("late blank", "Avocet", bill=bill))
    stock = avocet_stock()
    for name in "ab":
        long = {"smallest_diameter": read_length("20 mm"), "length": read_length("120 mm")}
        stock.lot(goods.THICK, 1000, name=name, cost=0, **long)
    report = check(
        shop(stock, known), request(2, pattern="late blank", platings=("gunmetal",), blank=goods.THICK)
    )
    assert report.starts > 2
    assert report.plan.blanks.each == 0
    assert need(report, goods.THICK) == (2000, 0)
    assert report.verdict == "from the shelf"


def test_tools_that_are_not_there_are_bought_or_missed() -> None:
    """A drill is offered and bought; bushings nobody offers make it a no."""
    bought = check(shop(plenty().without(goods.DRILL)), request(4))
    assert bought.verdict == "after buying"
    assert [one.part.name for one in bought.sourcing.buy] == [goods.DRILL]
    missed = check(shop(plenty().without(goods.BUSHINGS)), request(4))
    assert missed.verdict == "cannot"
    assert [part.name for part in missed.sourcing.nowhere] == [goods.BUSHINGS]
    assert {(one.what, one.there) for one in missed.setup_list if one.what != "tubes"} == {
        ("drill 27/64", True),
        ("trimmer pilot", True),
        ("bushings", False),
    }


def test_a_drill_the_book_knows_nothing_of() -> None:
    """Where tools are kept in the book, a drill that is in nobody's list makes it a no, said before it is promised."""
    stock = plenty()
    stock.lot(goods.GODWIT_KIT, 20_000)
    stock.lot(goods.THICK, 20_000)
    asked = request(4, pattern="Godwit plain", platings=(), blank=goods.THICK)
    report = check(shop(stock), asked)
    assert (report.verdict, report.earliest) == ("cannot", None)
    assert report.why[0].startswith("drill 3/8 is wanted, and the book knows none: have one in hand first")
    assert (report.joint.probability, report.joint.weakest, report.joint_after_buying.probability) == (
        0.0,
        "drill 3/8",
        0.0,
    )
    known = goods.catalogue().with_parts(Part("bit 3/8", Tool("drill", "9.525 mm")))
    there = check(shop(stock, known), asked)
    assert there.verdict == "cannot"
    assert [part.name for part in there.sourcing.nowhere] == ["bit 3/8"]
    stock.lot("bit 3/8", 1000)
    assert check(shop(stock, known), asked).verdict == "from the shelf"


def test_bushings_nobody_named_are_to_be_looked_for() -> None:
    """A family with tubes and without bushings or pilot: a caution where tools are kept in the book, no refusal."""
    report = check(
        shop(avocet_stock()), request(1, pattern="Avocet gloss", platings=("gunmetal",), blank=goods.ACRYLIC)
    )
    assert not any("named for Avocet" in said for said in report.cautions)
    stock = avocet_stock()
    for tool in (goods.DRILL_CAP, goods.DRILL_BODY):
        stock.lot(tool, 1000)
    report = check(
        shop(stock), request(1, pattern="Avocet gloss", platings=("gunmetal",), blank=goods.ACRYLIC)
    )
    assert report.verdict == "from the shelf"
    for what in ("bushings", "trimmer pilot"):
        assert (
            f"No {what} named for Avocet: see that the right one is there before anything is drilled."
            in report.cautions
        )


def test_two_different_tubes_are_counted_apart() -> None:
    """Plenty of cap tubes and two body tubes: only the body tubes are short, and laid out as missing."""
    report = check(
        shop(avocet_stock()), request(4, pattern="Avocet gloss", platings=("gunmetal",), blank=goods.ACRYLIC)
    )
    assert report.verdict == "cannot"
    assert [part.name for part in report.sourcing.nowhere] == [goods.BODY_TUBE]
    tubes = [(one.part, one.there, one.note) for one in report.setup_list if one.what == "tubes"]
    assert tubes == [(goods.CAP_TUBE, True, "cap"), (goods.BODY_TUBE, False, "body; 2 on hand, 3 short")]
    assert "acrylic: chips; take light cuts." in report.cautions


def test_a_stopper_without_a_tube() -> None:
    """One piece a 70 mm blank, no tubes to lay out; the plating is known where there is only one."""
    stock = Stock()
    stock.lot(goods.GODWIT_KIT, 20_000)
    stock.lot(goods.THICK, 20_000)
    report = check(shop(stock), request(4, pattern="Godwit plain", platings=(), blank=goods.THICK))
    assert report.verdict == "from the shelf"
    assert report.plan.plating == "chrome"
    assert report.plan.blanks.each == 1
    assert [one.what for one in report.setup_list] == ["drill 3/8"]


def test_what_is_due_in_in_time_counts() -> None:
    """Kits already bought that arrive in time are not bought again; the day is theirs."""
    stock = plenty().with_only(goods.CHROME_KIT, 2000)
    stock.coming(goods.CHROME_KIT, 30_000, TODAY + timedelta(days=8))
    report = check(shop(stock), request(4))
    assert report.verdict == "after buying"
    assert report.sourcing.buy == ()
    assert report.earliest == TODAY + timedelta(days=8)
    assert any("already due in on 2026-12-03" in said for said in report.why)


def test_others_claims_are_not_free() -> None:
    """What is set aside for another order is not there for this one."""
    stock = plenty()
    stock.claim("Reed", goods.CHROME_KIT, 39_000)
    report = check(shop(stock), request(4))
    assert report.verdict == "after buying"
    assert next(one.free for one in report.plan.parts if one.part.name == goods.CHROME_KIT) == 1000


def test_a_part_at_two_stages_shares_what_is_free() -> None:
    """Strips at two stages: the later one has what the earlier one leaves."""
    bill = (*goods.catalogue().pattern("Turnstone gloss").bill, goods.line("turn", goods.STRIP, 1000))
    known = goods.catalogue().with_pattern(Pattern("sanded", "Turnstone", bill=bill))
    report = check(shop(plenty().with_only(goods.STRIP, 7000), known), request(4, pattern="sanded"))
    turn, finish = [one for one in report.plan.parts if one.part.name == goods.STRIP]
    assert (turn.stage, finish.stage) == ("turn", "finish")
    assert turn.free == 7000
    assert finish.free == max(7000 - turn.need, 0)


def test_confidence_raises_needs_and_starts() -> None:
    """From 50 to 99.9 % no need falls, and starts and kits rise."""
    reports = [check(shop(), request(10, confidence=level)) for level in (0.5, 0.8, 0.9, 0.99, 0.999)]
    for part in (
        goods.CHROME_KIT,
        goods.TUBE,
        goods.OLIVE,
        goods.GLUE,
        goods.FINISH,
        goods.STRIP,
        goods.REFILL,
    ):
        needs = [need(report, part)[0] for report in reports]
        assert needs == sorted(needs)
    assert reports[0].starts < reports[-1].starts
    assert need(reports[0], goods.CHROME_KIT)[0] < need(reports[-1], goods.CHROME_KIT)[0]


tight = (goods.CHROME_KIT, goods.TUBE, goods.OLIVE, goods.REFILL, goods.STRIP)


@examples(15)
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
        stock = plenty().without(*tight)
        for part, number in zip(tight, pieces, strict=True):
            if number:
                stock.lot(part, 1000 * number)
        return check(shop(stock), request(count, due=TODAY + timedelta(days=days)))

    before, after = answer(there), answer([a + b for a, b in zip(there, more, strict=True)])
    assert VERDICTS.index(after.verdict) <= VERDICTS.index(before.verdict)
    assert after.joint.probability >= before.joint.probability - 1e-9
    if before.earliest:
        assert after.earliest is not None
        assert after.earliest <= before.earliest


@pytest.mark.parametrize("confidence", [0.5, 0.9, 0.99])
def test_once_the_missing_is_bought_the_odds_meet_the_confidence(confidence: float) -> None:
    """Each part alone being enough is not all being enough: what is short is raised until all together are."""
    tightly = plenty().without(*tight)
    usual = OrderRequest("Turnstone gloss", ("chrome",), goods.OLIVE, 6, DUE, confidence=confidence)
    report = check(shop(tightly), usual)
    assert report.joint_after_buying.probability >= confidence - 1e-9
