"""Likely reasons that look at other parts: neighbours, robbed kits, pieces nobody booked."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest

from inventory.catalogue import Kit, Part, Supply, Tool, Tube
from inventory.jobs.differences.reasons import NOTHING_FOUND, explain
from inventory.jobs.sessions.reconciling.measured import Checked
from inventory.measures import read_drill, read_length
from jobs import goods
from jobs.differences_case import checked, told
from jobs.shop import plenty, shop


@pytest.mark.parametrize(
    ("short", "over", "how"),
    [
        (goods.CHROME_KIT, goods.RHODIUM_KIT, "the same family in chrome and rhodium"),
        (goods.GODWIT_KIT, "Curlew kit chrome", "kits for the same thing"),
        (goods.TUBE, goods.BODY_TUBE, "tubes of 10.3 mm and 10.15 mm"),
        (goods.DRILL_BODY, "bit Z", "near twins: drills 10.5 mm and Z"),
        (goods.OLIVE, goods.THICK, "both olive wood"),
        (goods.REFILL, goods.SLIM, "both refills"),
        (goods.STRIP, "strip P600", "names that are easily taken for each other"),
        (goods.CHROME_KIT, f"{goods.CHROME_KIT} in part", "a kit robbed of something is no longer whole"),
    ],
)
def test_a_neighbour_has_what_is_missing(short: str, over: str, how: str) -> None:
    """Opposite differences of parts that are easily taken for each other name each other."""
    base = goods.catalogue()
    curlew = replace(base.family("Godwit"), name="Curlew")
    base = replace(base, families={**base.families, "curlew": curlew})
    kit = Part("Curlew kit chrome", Kit("Curlew", "chrome"))
    extra = (
        kit,
        Part("bit Z", Tool("drill", "Z")),
        Part("strip P600", Supply("abrasive"), "strip"),
        Part(f"{goods.CHROME_KIT} in part", Supply("spare fitting")),
    )
    reasons = told([checked(short, 20, 17), checked(over, 4, 7)], shop(known=base.with_parts(*extra)))
    assert reasons[short][0].startswith(f"mixed up with its neighbour: {over} has 3 ")
    assert reasons[short][0].endswith(f" too many ({how})")
    assert reasons[over][0].startswith(f"mixed up with its neighbour: {short} has 3 ")


@pytest.mark.parametrize(("other", "alike"), [("oilb", True), ("oilbc", False)])
def test_names_three_quarters_alike(other: str, alike: bool) -> None:
    """`oil` is common to `oila` and `oilb`, 6 of 8 signs, and to `oila` and `oilbc`, 6 of 9."""
    named = [Part(name, Supply("finish"), "g") for name in ("oila", other)]
    rows = [checked("oila", 20, 17), checked(other, 4, 7)]
    reasons = told(rows, shop(known=goods.catalogue().with_parts(*named)))
    assert any("taken for each other" in reason for reason in reasons["oila"]) is alike


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (checked(goods.CHROME_KIT, 20, 17), checked(goods.RHODIUM_KIT, 9, 6)),
        (checked(goods.CHROME_KIT, 20, 17), checked(goods.RHODIUM_KIT, 4, 12)),
        (checked(goods.CHROME_KIT, 20, 17), checked(goods.AVOCET_KIT, 4, 7)),
        (checked(goods.TUBE, 30, 27), checked(goods.CAP_TUBE, 4, 7)),
        (checked(goods.DRILL_CAP, 5, 2), checked(goods.DRILL_BODY, 1, 4)),
        (checked(goods.STRIP, 30, 27), checked(goods.REFILL, 4, 7)),
        (checked(goods.CHROME_KIT, 20, 17), checked(goods.TUBE, 4, 7)),
        (checked(goods.OLIVE, 20, 17), checked("acrylic round", 4, 7)),
        (checked(goods.BUSHINGS, 5, 2), checked(goods.DRILL, 1, 4)),
        (checked(goods.REFILL, 30, 27), checked(goods.DRILL, 4, 7)),
    ],
    ids=[
        "same sign",
        "much more",
        "other family",
        "far tubes",
        "far drills",
        "other type",
        "other kind",
        "blanks",
        "other tool",
        "supply and tool",
    ],
)
def test_no_neighbour(one: Checked, other: Checked) -> None:
    """Same sign, another size, or nothing alike: not mixed up."""
    assert not any("neighbour" in reason for reasons in told([one, other]).values() for reason in reasons)


@pytest.mark.parametrize(("over", "belong"), [(4, True), (3, False)])
def test_neighbours_differ_by_about_as_much(over: int, belong: bool) -> None:
    """Five kits are missing, four of the other plating too many: a fifth more was miscounted. With three it is two."""
    reasons = told([checked(goods.CHROME_KIT, 20, 15), checked(goods.RHODIUM_KIT, 4, 4 + over)])
    assert any("neighbour" in reason for reason in reasons[goods.CHROME_KIT]) is belong


@pytest.mark.parametrize(("outside", "alike"), [("10.8 mm", True), ("10.9 mm", False)])
def test_tubes_half_a_millimetre_apart_are_taken_for_each_other(outside: str, alike: bool) -> None:
    """The usual ones measure 10.3 mm."""
    other = Part("other tube", Tube(read_length(outside), read_length("55 mm"), read_drill("11 mm")))
    rows = [checked(goods.TUBE, 30, 27), checked(other.name, 4, 7)]
    reasons = told(rows, shop(known=goods.catalogue().with_parts(other)))
    assert any("neighbour" in reason for reason in reasons[goods.TUBE]) is alike


def test_another_lot_of_the_same_part() -> None:
    """Two lots of one part that differ the other way round."""
    reasons = explain(shop(), [checked(goods.OLIVE, 6, 4), checked(goods.OLIVE, 3, 5)])
    assert "another lot of it has 2 too many (the same part)" in reasons[0].likely[0]


def test_a_robbed_kit() -> None:
    """As many fittings saved from it as kits are missing; none of another kit, and none for a kit too many."""
    spare = Part(f"{goods.GUN_KIT} without its tubes", Supply("spare fitting"))
    stock = plenty()
    stock.lot(spare.name, 2000)
    stock.lot(goods.CHROME_KIT, 2000)
    here = shop(stock, goods.catalogue().with_parts(spare))
    assert any(
        f"the book has 2 of “{spare.name}”" in one
        for one in told([checked(goods.GUN_KIT, 9, 7)], here)[goods.GUN_KIT]
    )
    for decoy in (checked(goods.GUN_KIT, 9, 11), checked(goods.CHROME_KIT, 9, 7)):
        assert not any("robbed" in one for one in told([decoy], here)[decoy.part])


# --- pieces ---------------------------------------------------------------------------------------------------------


def test_a_piece_made_and_not_booked() -> None:
    """Kit, tube, refill and half a strip are missing together: two Turnstones; each names the others."""
    rows = [
        checked(goods.CHROME_KIT, 40, 38),
        checked(goods.TUBE, 80, 78),
        checked(goods.REFILL, 50, 48),
        checked(goods.STRIP, 60, 59),
        checked(goods.OLIVE, 40, 39),
    ]
    reasons = told(rows)
    assert reasons[goods.CHROME_KIT][0] == (
        "not booked: two Turnstone gloss made would take 2; missing alike are "
        f"{goods.OLIVE}, {goods.REFILL}, {goods.TUBE} and 1 more"
    )
    assert all("two Turnstone gloss" in reasons[row.part][0] for row in rows)


@pytest.mark.parametrize(("each", "alike"), [(500, True), (499, False)])
def test_a_strip_counted_whole_may_be_half_a_strip(each: int, alike: bool) -> None:
    """Half a strip a piece: one is missing after the first. What is less than half would still be there."""
    gloss = goods.catalogue().pattern("Turnstone gloss")
    bill = tuple(replace(one, quantity=each) if one.part == goods.STRIP else one for one in gloss.bill)
    here = shop(known=goods.catalogue().with_pattern(replace(gloss, bill=bill)))
    rows = [checked(goods.CHROME_KIT, 40, 39), checked(goods.STRIP, 60, 59)]
    assert told(rows, here)[goods.CHROME_KIT][0].endswith(f"missing alike is {goods.STRIP}") is alike


def test_what_the_scale_cannot_tell_agrees_with_nothing() -> None:
    """A little glue is missing, no more than its scatter: that is no second witness of a forgotten piece."""
    rows = [checked(goods.CHROME_KIT, 40, 39), Checked(goods.FINISH, 90_000, 89_500, 400, "weighed")]
    assert goods.FINISH not in told(rows)[goods.CHROME_KIT][0]


def test_two_tubes_a_piece() -> None:
    """One Avocet takes one of each of its tubes: both missing by one agree."""
    reasons = told([checked(goods.CAP_TUBE, 9, 8), checked(goods.BODY_TUBE, 9, 8)])
    assert reasons[goods.CAP_TUBE][0].startswith(
        "not booked: one Avocet gloss made would take 1; missing alike is"
    )


def test_parts_that_are_all_there_speak_against_a_piece() -> None:
    """A kit is missing but tube, refill and strips are all there: a neighbour that fits worse still comes first."""
    rows = [
        checked(goods.CHROME_KIT, 40, 39),
        checked(goods.TUBE, 80, 80),
        checked(goods.REFILL, 50, 50),
        checked(goods.STRIP, 60, 60),
    ]
    (alone,) = told([rows[0]])[goods.CHROME_KIT]
    (against,) = told(rows)[goods.CHROME_KIT]
    assert alone == "not booked: one Turnstone gloss made would take 1"
    assert against == f"{alone}, but nothing else of its bill is missing so"
    spare = Part(f"{goods.CHROME_KIT} in part", Supply("spare fitting"))
    stock = plenty()
    stock.lot(spare.name, 2000)
    here = shop(stock, goods.catalogue().with_parts(spare))
    assert "robbed" in told(rows, here)[goods.CHROME_KIT][0]
    assert "robbed" in told([rows[0]], here)[goods.CHROME_KIT][1]


@pytest.mark.parametrize(
    "row", [checked(goods.CHROME_KIT, 40, 36), checked(goods.CHROME_KIT, 40, 41), checked(goods.DRILL, 3, 2)]
)
def test_no_forgotten_piece(row: Checked) -> None:
    """Four at once, one too many, and a tool no piece takes."""
    assert not any("not booked" in reason for reason in told([row])[row.part])


def test_a_swapped_refill() -> None:
    """The slim refill was put in: it is missing with the kit and the tube."""
    rows = [checked(goods.CHROME_KIT, 40, 39), checked(goods.SLIM, 9, 8), checked(goods.TUBE, 80, 79)]
    assert goods.SLIM in told(rows)[goods.CHROME_KIT][0]


def test_a_family_without_a_refill_of_its_own() -> None:
    """Its bill asks for the refill, and any may have been put in."""
    base = goods.catalogue().with_family("Turnstone", refill=None)
    rows = [checked(goods.CHROME_KIT, 40, 39), checked(goods.SLIM, 9, 8), checked(goods.REFILL, 50, 50)]
    assert told(rows, shop(known=base))[goods.CHROME_KIT][0].endswith(f"missing alike is {goods.SLIM}")


def test_tubes_that_lie_in_the_kits() -> None:
    """Tubes counted with their kits are not missed: that all loose ones are there says nothing against the piece."""
    inside = goods.catalogue().with_parts(
        Part(goods.CHROME_KIT, Kit("Turnstone", "chrome", tubes_inside=True))
    )
    rows = [checked(goods.CHROME_KIT, 40, 39), checked(goods.TUBE, 80, 80)]
    assert "but nothing" in told(rows)[goods.CHROME_KIT][0]
    assert "but nothing" not in told(rows, shop(known=inside))[goods.CHROME_KIT][0]


def test_each_kit_and_blank_has_its_turn() -> None:
    """One of two kits, one of two blanks: a piece has one of each, and each that is missing is explained."""
    rows = [checked(one, 9, 8) for one in (goods.CHROME_KIT, goods.GUN_KIT, goods.OLIVE, goods.THICK)]
    reasons = {part: next(one for one in said if "not booked" in one) for part, said in told(rows).items()}
    assert reasons[goods.CHROME_KIT].endswith(f"missing alike is {goods.OLIVE}")
    assert reasons[goods.GUN_KIT].endswith(f"missing alike is {goods.OLIVE}")
    assert reasons[goods.THICK].endswith(f"missing alike is {goods.CHROME_KIT}")


def test_a_shop_without_kits_or_blanks() -> None:
    """Nothing could be made, so nothing was forgotten."""
    base = goods.catalogue()
    bare = replace(
        base, parts={key: part for key, part in base.parts.items() if part.kind not in ("kit", "blank")}
    )
    assert told([checked(goods.TUBE, 80, 79)], shop(known=bare)) == {goods.TUBE: (NOTHING_FOUND,)}


def test_a_whole_shop_in_disorder_is_explained_at_once() -> None:
    """Two hundred blanks, kits and refills that are all one short take no longer than it takes to say so."""
    base = goods.catalogue()
    many = [
        Part(f"{part.name} {n}", part.detail, part.unit)
        for n in range(200)
        for part in (base.part(goods.CHROME_KIT), base.part(goods.OLIVE), base.part(goods.SLIM))
    ]
    start = time.perf_counter()
    told([checked(part.name, 9, 8) for part in many], shop(known=base.with_parts(*many)))
    assert time.perf_counter() - start < 20  # it took hours while every choice was tried with every other


@pytest.mark.parametrize("part", ["the lid", goods.STRIP])
def test_a_bill_that_makes_nothing_explains_nothing(part: str) -> None:
    """One that asks for what nobody knows, and a schedule without a kit that other bills take in."""
    base = goods.catalogue()
    odd = replace(base.pattern("Godwit plain"), name="Odd", bill=(goods.line("finish", part, 1000),))
    here = shop(known=base.with_pattern(odd))
    reasons = told([checked(goods.GODWIT_KIT, 9, 8), checked(goods.STRIP, 60, 59)], here)
    assert reasons[goods.GODWIT_KIT] == ("not booked: one Godwit plain made would take 1",)
    assert not any("Odd" in reason for reason in reasons[goods.STRIP])
