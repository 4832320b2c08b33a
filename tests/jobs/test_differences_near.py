"""Likely reasons that look at other parts: neighbours, robbed kits, pieces nobody booked."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest

from inventory.catalogue import Kit, Part, Supply, Tool
from inventory.jobs.differences.reasons import NOTHING_FOUND, explain
from inventory.jobs.sessions.reconciling.measured import Checked
from jobs.differences_case import checked, told
from jobs.goods import (
    AVOCET_KIT,
    BODY_TUBE,
    BUSHINGS,
    CAP_TUBE,
    CHROME_KIT,
    DRILL,
    DRILL_BODY,
    DRILL_CAP,
    FINISH,
    GODWIT_KIT,
    GUN_KIT,
    OLIVE,
    REFILL,
    RHODIUM_KIT,
    SLIM,
    STRIP,
    THICK,
    TUBE,
    catalogue,
    line,
    with_family,
    with_parts,
    with_pattern,
)
from jobs.shop import plenty, shop


@pytest.mark.parametrize(
    ("short", "over", "how"),
    [
        (CHROME_KIT, RHODIUM_KIT, "the same family in chrome and rhodium"),
        (GODWIT_KIT, "Curlew kit chrome", "kits for the same thing"),
        (TUBE, BODY_TUBE, "tubes of 10.3 mm and 10.15 mm"),
        (DRILL_BODY, "bit Z", "near twins: drills 10.5 mm and Z"),
        (OLIVE, THICK, "both olive wood"),
        (REFILL, SLIM, "both refills"),
        (STRIP, "strip P600", "names that are easily taken for each other"),
        (CHROME_KIT, f"{CHROME_KIT} in part", "a kit robbed of something is no longer whole"),
    ],
)
def test_a_neighbour_has_what_is_missing(short: str, over: str, how: str) -> None:
    """Opposite differences of parts that are easily taken for each other name each other."""
    base = catalogue()
    curlew = replace(base.family("Godwit"), name="Curlew")
    base = replace(base, families={**base.families, "curlew": curlew})
    kit = Part("Curlew kit chrome", Kit("Curlew", "chrome"))
    extra = (
        kit,
        Part("bit Z", Tool("drill", "Z")),
        Part("strip P600", Supply("abrasive"), "strip"),
        Part(f"{CHROME_KIT} in part", Supply("spare fitting")),
    )
    reasons = told([checked(short, 20, 17), checked(over, 4, 7)], shop(known=with_parts(base, *extra)))
    assert reasons[short][0].startswith(f"mixed up with its neighbour: {over} has 3 ")
    assert reasons[short][0].endswith(f" too many ({how})")
    assert reasons[over][0].startswith(f"mixed up with its neighbour: {short} has 3 ")


@pytest.mark.parametrize(("other", "alike"), [("oilb", True), ("oilbc", False)])
def test_names_three_quarters_alike(other: str, alike: bool) -> None:
    """`oil` is common to `oila` and `oilb`, 6 of 8 signs, and to `oila` and `oilbc`, 6 of 9."""
    named = [Part(name, Supply("finish"), "g") for name in ("oila", other)]
    rows = [checked("oila", 20, 17), checked(other, 4, 7)]
    reasons = told(rows, shop(known=with_parts(catalogue(), *named)))
    assert any("taken for each other" in reason for reason in reasons["oila"]) is alike


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (checked(CHROME_KIT, 20, 17), checked(RHODIUM_KIT, 9, 6)),
        (checked(CHROME_KIT, 20, 17), checked(RHODIUM_KIT, 4, 12)),
        (checked(CHROME_KIT, 20, 17), checked(AVOCET_KIT, 4, 7)),
        (checked(TUBE, 30, 27), checked(CAP_TUBE, 4, 7)),
        (checked(DRILL_CAP, 5, 2), checked(DRILL_BODY, 1, 4)),
        (checked(STRIP, 30, 27), checked(REFILL, 4, 7)),
        (checked(CHROME_KIT, 20, 17), checked(TUBE, 4, 7)),
        (checked(OLIVE, 20, 17), checked("acrylic round", 4, 7)),
        (checked(BUSHINGS, 5, 2), checked(DRILL, 1, 4)),
        (checked(REFILL, 30, 27), checked(DRILL, 4, 7)),
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


def test_another_lot_of_the_same_part() -> None:
    """Two lots of one part that differ the other way round."""
    reasons = explain(shop(), [checked(OLIVE, 6, 4), checked(OLIVE, 3, 5)])
    assert "another lot of it has 2 too many (the same part)" in reasons[0].likely[0]


def test_a_robbed_kit() -> None:
    """As many fittings saved from it as kits are missing; none of another kit, and none for a kit too many."""
    spare = Part(f"{GUN_KIT} without its tubes", Supply("spare fitting"))
    stock = plenty()
    stock.lot(spare.name, 2000)
    stock.lot(CHROME_KIT, 2000)
    here = shop(stock, with_parts(catalogue(), spare))
    assert any(
        f"the book has 2 of “{spare.name}”" in one for one in told([checked(GUN_KIT, 9, 7)], here)[GUN_KIT]
    )
    for decoy in (checked(GUN_KIT, 9, 11), checked(CHROME_KIT, 9, 7)):
        assert not any("robbed" in one for one in told([decoy], here)[decoy.part])


# --- pieces ---------------------------------------------------------------------------------------------------------


def test_a_piece_made_and_not_booked() -> None:
    """Kit, tube, refill and half a strip are missing together: two Turnstones; each names the others."""
    rows = [
        checked(CHROME_KIT, 40, 38),
        checked(TUBE, 80, 78),
        checked(REFILL, 50, 48),
        checked(STRIP, 60, 59),
        checked(OLIVE, 40, 39),
    ]
    reasons = told(rows)
    assert reasons[CHROME_KIT][0] == (
        "not booked: two Turnstone gloss made would take 2; missing alike are "
        f"{OLIVE}, {REFILL}, {TUBE} and 1 more"
    )
    assert all("two Turnstone gloss" in reasons[row.part][0] for row in rows)


@pytest.mark.parametrize(("each", "alike"), [(500, True), (499, False)])
def test_a_strip_counted_whole_may_be_half_a_strip(each: int, alike: bool) -> None:
    """Half a strip a piece: one is missing after the first. What is less than half would still be there."""
    gloss = catalogue().pattern("Turnstone gloss")
    bill = tuple(replace(one, quantity=each) if one.part == STRIP else one for one in gloss.bill)
    here = shop(known=with_pattern(catalogue(), replace(gloss, bill=bill)))
    rows = [checked(CHROME_KIT, 40, 39), checked(STRIP, 60, 59)]
    assert told(rows, here)[CHROME_KIT][0].endswith(f"missing alike is {STRIP}") is alike


def test_what_the_scale_cannot_tell_agrees_with_nothing() -> None:
    """A little glue is missing, no more than its scatter: that is no second witness of a forgotten piece."""
    rows = [checked(CHROME_KIT, 40, 39), Checked(FINISH, 90_000, 89_500, 400, "weighed")]
    assert FINISH not in told(rows)[CHROME_KIT][0]


def test_two_tubes_a_piece() -> None:
    """One Avocet takes one of each of its tubes: both missing by one agree."""
    reasons = told([checked(CAP_TUBE, 9, 8), checked(BODY_TUBE, 9, 8)])
    assert reasons[CAP_TUBE][0].startswith("not booked: one Avocet gloss made would take 1; missing alike is")


def test_parts_that_are_all_there_speak_against_a_piece() -> None:
    """A kit is missing but tube, refill and strips are all there: a neighbour that fits worse still comes first."""
    rows = [
        checked(CHROME_KIT, 40, 39),
        checked(TUBE, 80, 80),
        checked(REFILL, 50, 50),
        checked(STRIP, 60, 60),
    ]
    (alone,) = told([rows[0]])[CHROME_KIT]
    (against,) = told(rows)[CHROME_KIT]
    assert alone == "not booked: one Turnstone gloss made would take 1"
    assert against == f"{alone}, but nothing else of its bill is missing so"
    spare = Part(f"{CHROME_KIT} in part", Supply("spare fitting"))
    stock = plenty()
    stock.lot(spare.name, 2000)
    here = shop(stock, with_parts(catalogue(), spare))
    assert "robbed" in told(rows, here)[CHROME_KIT][0]
    assert "robbed" in told([rows[0]], here)[CHROME_KIT][1]


@pytest.mark.parametrize(
    "row", [checked(CHROME_KIT, 40, 36), checked(CHROME_KIT, 40, 41), checked(DRILL, 3, 2)]
)
def test_no_forgotten_piece(row: Checked) -> None:
    """Four at once, one too many, and a tool no piece takes."""
    assert not any("not booked" in reason for reason in told([row])[row.part])


def test_a_swapped_refill() -> None:
    """The slim refill was put in: it is missing with the kit and the tube."""
    rows = [checked(CHROME_KIT, 40, 39), checked(SLIM, 9, 8), checked(TUBE, 80, 79)]
    assert SLIM in told(rows)[CHROME_KIT][0]


def test_a_family_without_a_refill_of_its_own() -> None:
    """Its bill asks for the refill, and any may have been put in."""
    base = with_family(catalogue(), "Turnstone", refill=None)
    rows = [checked(CHROME_KIT, 40, 39), checked(SLIM, 9, 8), checked(REFILL, 50, 50)]
    assert told(rows, shop(known=base))[CHROME_KIT][0].endswith(f"missing alike is {SLIM}")


def test_tubes_that_lie_in_the_kits() -> None:
    """Tubes counted with their kits are not missed: that all loose ones are there says nothing against the piece."""
    inside = with_parts(catalogue(), Part(CHROME_KIT, Kit("Turnstone", "chrome", tubes_inside=True)))
    rows = [checked(CHROME_KIT, 40, 39), checked(TUBE, 80, 80)]
    assert "but nothing" in told(rows)[CHROME_KIT][0]
    assert "but nothing" not in told(rows, shop(known=inside))[CHROME_KIT][0]


def test_each_kit_and_blank_has_its_turn() -> None:
    """One of two kits, one of two blanks: a piece has one of each, and each that is missing is explained."""
    rows = [checked(one, 9, 8) for one in (CHROME_KIT, GUN_KIT, OLIVE, THICK)]
    reasons = {part: next(one for one in said if "not booked" in one) for part, said in told(rows).items()}
    assert reasons[CHROME_KIT].endswith(f"missing alike is {OLIVE}")
    assert reasons[GUN_KIT].endswith(f"missing alike is {OLIVE}")
    assert reasons[THICK].endswith(f"missing alike is {CHROME_KIT}")


def test_a_shop_without_kits_or_blanks() -> None:
    """Nothing could be made, so nothing was forgotten."""
    base = catalogue()
    bare = replace(
        base, parts={key: part for key, part in base.parts.items() if part.kind not in ("kit", "blank")}
    )
    assert told([checked(TUBE, 80, 79)], shop(known=bare)) == {TUBE: (NOTHING_FOUND,)}


def test_a_whole_shop_in_disorder_is_explained_at_once() -> None:
    """Two hundred blanks, kits and refills that are all one short take no longer than it takes to say so."""
    base = catalogue()
    many = [
        Part(f"{part.name} {n}", part.detail, part.unit)
        for n in range(200)
        for part in (base.part(CHROME_KIT), base.part(OLIVE), base.part(SLIM))
    ]
    start = time.perf_counter()
    told([checked(part.name, 9, 8) for part in many], shop(known=with_parts(base, *many)))
    assert time.perf_counter() - start < 20  # it took hours while every choice was tried with every other


@pytest.mark.parametrize("part", ["the lid", STRIP])
def test_a_bill_that_makes_nothing_explains_nothing(part: str) -> None:
    """One that asks for what nobody knows, and a schedule without a kit that other bills take in."""
    base = catalogue()
    odd = replace(base.pattern("Godwit plain"), name="Odd", bill=(line("finish", part, 1000),))
    here = shop(known=with_pattern(base, odd))
    reasons = told([checked(GODWIT_KIT, 9, 8), checked(STRIP, 60, 59)], here)
    assert reasons[GODWIT_KIT] == ("not booked: one Godwit plain made would take 1",)
    assert not any("Odd" in reason for reason in reasons[STRIP])
