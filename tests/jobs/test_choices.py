"""What is chosen for an order: plating and substitutes, refill, a fatter barrel, tubes inside the kit; what is said."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any

from inventory.catalogue import Blank, Kit, Part, fold
from inventory.jobs.orders.order_check import OrderReport, check, parts_involved
from inventory.jobs.sessions.safety import making_safety
from inventory.measures import read_length
from jobs import goods
from jobs.shop import DUE, TODAY, plenty, request, shop


def need(report: OrderReport, part: str) -> tuple[int, int]:
    """Need of a part over its stages, and how much of it is short."""
    rows = [one for one in report.plan.parts if one.part.name == part]
    return sum(one.need for one in rows), sum(one.short for one in rows)


def test_a_book_without_tools_asks_to_look() -> None:
    """Where no tool is kept in the book none is short, and the bench list leaves it open."""
    report = check(shop(plenty().without(goods.DRILL, goods.SAW, goods.BUSHINGS, goods.PILOT)), request(4))
    assert report.verdict == "from the shelf"
    assert [(one.what, one.part, one.there) for one in report.setup_list] == [
        ("drill 27/64", goods.DRILL, None),
        ("tubes", goods.TUBE, True),
        ("trimmer pilot", goods.PILOT, None),
        ("bushings", goods.BUSHINGS, None),
    ]


def test_near_twins_are_warned_of() -> None:
    """The 10.5 mm drill is there: not to be taken for 27/64, least of all where that is missing."""
    stock = plenty().without(goods.DRILL)
    stock.lot(goods.DRILL_BODY, 1000)
    report = check(shop(stock), request(4))
    assert report.setup_list[0].note == f"{goods.DRILL_BODY} is there: not the same hole"
    assert f"Do not take {goods.DRILL_BODY} for drill 27/64." in report.cautions


def test_substitutes_are_named_and_never_taken() -> None:
    """Rhodium may stand in for chrome: it is offered for the customer's word; gunmetal is not."""
    stock = plenty().without(goods.CHROME_KIT)
    stock.lot(goods.RHODIUM_KIT, 20_000)
    stock.lot(goods.GUN_KIT, 20_000)
    report = check(shop(stock), request(4))
    assert report.plan.plating == "chrome"
    assert report.why[-1] == (
        f'{goods.RHODIUM_KIT} is free; with the customer\'s word rhodium may stand in (--or-plating "rhodium").'
    )
    assert not any("gunmetal" in said for said in report.why)
    few = stock.with_only(goods.RHODIUM_KIT, 1000)
    assert not any("stand in" in said for said in check(shop(few), request(4)).why)


def test_no_substitute_is_named_where_the_kit_is_not_what_is_short() -> None:
    """Strips are short, kits are not: no other plating would help."""
    stock = plenty().with_only(goods.STRIP, 0)
    stock.lot(goods.RHODIUM_KIT, 20_000)
    assert not any("stand in" in said for said in check(shop(stock.without(goods.STRIP)), request(4)).why)


def test_an_accepted_substitute_is_taken() -> None:
    """With the customer's word the plating that is there is used, all in one, and the caution says so."""
    stock = plenty().without(goods.CHROME_KIT)
    stock.lot(goods.RHODIUM_KIT, 20_000)
    report = check(shop(stock), request(4, platings=("chrome", "Rhodium")))
    assert (report.verdict, report.plan.plating) == ("from the shelf", "rhodium")
    assert "All pieces in rhodium: platings are never mixed inside a set." in report.cautions


def test_the_wished_plating_goes_first_and_sets_are_never_mixed() -> None:
    """Where both would do the first is taken; three chrome and three rhodium do not make six."""
    both = plenty()
    both.lot(goods.RHODIUM_KIT, 20_000)
    assert check(shop(both), request(4, platings=("chrome", "rhodium"))).plan.plating == "chrome"
    few = plenty().with_only(goods.CHROME_KIT, 3000)
    few.lot(goods.RHODIUM_KIT, 3000)
    report = check(shop(few), request(4, platings=("chrome", "rhodium")))
    assert (report.verdict, report.plan.plating) == ("after buying", "chrome")
    kits = [one.part.name for one in report.plan.parts if one.role == "the kit"]
    assert kits == [goods.CHROME_KIT]


def test_a_substitute_already_accepted_is_not_offered_again() -> None:
    """Neither plating is there: the accepted one is no news."""
    report = check(shop(plenty().without(goods.CHROME_KIT)), request(4, platings=("chrome", "rhodium")))
    assert not any("stand in" in said for said in report.why)


def test_a_refill_swap_changes_what_is_needed() -> None:
    """The slim refill is needed and the usual one not; the note of the part is the caution."""
    stock = plenty()
    stock.lot(goods.SLIM, 20_000)
    report = check(shop(stock), request(4, refill=goods.SLIM))
    assert need(report, goods.SLIM)[0] > 0
    assert need(report, goods.REFILL) == (0, 0)
    assert f"{goods.SLIM} in place of {goods.REFILL}: the spring sits lower." in report.cautions
    plain = goods.catalogue().with_parts(replace(goods.catalogue().part(goods.SLIM), note=""))
    swapped = check(shop(stock, plain), request(4, refill=goods.SLIM))
    assert f"{goods.SLIM} in place of {goods.REFILL}; try one first." in swapped.cautions
    assert not any("in place of" in said for said in check(shop(), request(4, refill=goods.REFILL)).cautions)


def test_a_fatter_barrel_takes_more_finish_and_says_so() -> None:
    """2 mm more needs more finish, and tapers back at both ends."""
    usual, fat = check(shop(), request(4)), check(shop(), request(4, extra_diameter=read_length("2 mm")))
    assert need(fat, goods.FINISH)[0] > need(usual, goods.FINISH)[0]
    assert any(said.startswith("Barrel 2 mm thicker: taper both ends") for said in fat.cautions)


def test_glue_that_went_off_is_not_counted() -> None:
    """A bottle past its day is no glue, and is said; one that goes off before the due day is a caution."""
    stock = plenty().without(goods.GLUE)
    stock.lot(goods.GLUE, 50_000, 600, use_by=TODAY - timedelta(days=1))
    report = check(shop(stock), request(4))
    assert report.verdict == "after buying"
    assert [one.part.name for one in report.sourcing.buy] == [goods.GLUE]
    assert f"{goods.GLUE}: a lot is out of date since 2026-11-24, not counted on." in report.cautions
    stock.lot(goods.GLUE, 50_000, 600, use_by=TODAY + timedelta(days=9))
    upcoming_needs = check(shop(stock), request(4))
    assert upcoming_needs.verdict == "from the shelf"
    assert (
        f"{goods.GLUE}: a lot is out of date after 2026-12-04, before the order is due."
        in upcoming_needs.cautions
    )
    stock.lot(goods.GLUE, 50_000, 600, use_by=DUE)
    assert not any("2026-12-16" in said for said in check(shop(stock), request(4)).cautions)


def test_hazards_are_said_once_for_all_products_with_the_same() -> None:
    """Products are named with their statements, flammable ones are pointed to; the wood's dust always."""

    def said(**which: Any) -> tuple[str, ...]:
        report = check(shop(), request(4, **which))
        return making_safety(shop(), [(report.resolved, report.plan)]).sentences

    glued = said()
    assert any(
        one.startswith(f"{goods.GLUE}: H315 Causes skin irritation. H319 Causes serious eye") for one in glued
    )
    assert any(one.startswith("No flame") for one in glued)
    assert any("safety data sheet" in one for one in glued)
    plain = said(pattern="Godwit plain", platings=(), blank=goods.THICK)
    assert any(one.startswith("Wood dust") for one in plain)
    assert not any(one.startswith(("No flame", goods.GLUE)) for one in plain)


def test_a_blank_of_unknown_length_is_pointed_out() -> None:
    """One piece a blank is assumed, and that is said."""
    known = goods.catalogue().with_parts(
        Part(goods.OLIVE, Blank("olive wood", "square", read_length("19 mm")))
    )
    said = check(shop(plenty(), known), request(4)).cautions
    assert f"{goods.OLIVE} has no length in the book: one piece a blank is assumed." in said


def test_tubes_inside_the_kit_are_not_needed_apart() -> None:
    """With tubes in the kits only the spare ones for pieces lost before assembly are needed."""
    kit = Part(goods.CHROME_KIT, Kit("Turnstone", "chrome", tubes_inside=True))
    report = check(shop(plenty(), goods.catalogue().with_parts(kit)), request(10))
    glue, assemble = report.plan.reach[2], report.plan.reach[6]
    assert need(report, goods.TUBE)[0] == 1000 * (glue - assemble)
    assert [one.note for one in report.setup_list if one.what == "tubes"] == ["barrel, in the kit"]
    assert need(check(shop(), request(10)), goods.TUBE)[0] == 1000 * glue
    bare = plenty().without(goods.TUBE)
    bare.lot(goods.ACRYLIC, 20_000)
    inside = check(shop(bare, goods.catalogue().with_parts(kit)), request(1, blank=goods.ACRYLIC))
    assert inside.joint.probability > 0.9
    assert check(shop(bare), request(1, blank=goods.ACRYLIC)).joint.probability == 0


def test_of_two_kits_in_one_plating_the_fuller_drawer() -> None:
    """Two kit parts of one family and plating: the one most of which is free."""
    known = goods.catalogue().with_parts(Part("Turnstone kit chrome, old", Kit("Turnstone", "chrome")))
    stock = plenty().with_only(goods.CHROME_KIT, 2000)
    stock.lot("Turnstone kit chrome, old", 30_000)
    report = check(shop(stock, known), request(4))
    assert report.plan.kit.name == "Turnstone kit chrome, old"
    assert report.verdict == "from the shelf"


def test_cautions_about_money() -> None:
    """A price under the lowest sensible one is pointed out, and parts without a cost are named."""
    assert any("under the lowest sensible" in one for one in check(shop(), request(4, price=100)).cautions)
    assert not any("lowest sensible" in one for one in check(shop(), request(4, price=99_900)).cautions)
    report = check(shop(plenty().without(goods.STRIP, goods.EPOXY)), request(4))
    assert any(f"nobody knows what {goods.EPOXY} and {goods.STRIP} cost" in said for said in report.cautions)


def test_every_part_the_answer_looks_at_is_named_beforehand() -> None:
    """Kits of every plating (they may stand in), tubes, bill lines, tools, both refills; nothing else."""
    names = parts_involved(
        goods.catalogue(), request(4, platings=("chrome", "rhodium"), refill=goods.SLIM), TODAY
    )
    wanted = {
        goods.CHROME_KIT,
        goods.RHODIUM_KIT,
        goods.GUN_KIT,
        goods.TUBE,
        goods.OLIVE,
        goods.GLUE,
        goods.FINISH,
        goods.EPOXY,
        goods.STRIP,
        goods.REFILL,
        goods.SLIM,
        goods.DRILL,
        goods.BUSHINGS,
        goods.PILOT,
    }
    assert names == {fold(name) for name in wanted}
