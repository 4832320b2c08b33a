"""Usual values: tables that hang together, and figures held against what is known of the trade."""

from __future__ import annotations

from fractions import Fraction

import pytest

from inventory.catalogue import PERS, STAGES, Supplier
from inventory.catalogue.hazards import statements
from inventory.catalogue.usual.finishes import GLUING, NONE, finish_for, finishes, schedule
from inventory.catalogue.usual.geometry import (
    drill_named,
    makes_of,
    mm_of,
    tube_length,
    tube_outside,
    usual_barrels,
    usual_drill,
)
from inventory.catalogue.usual.marks import shortened
from inventory.catalogue.usual.materials import usual_material
from inventory.catalogue.usual.supplies import usual_cells, usual_supply
from inventory.catalogue.usual.tables import rows
from inventory.catalogue.usual.times import UsualTime, usual_time
from inventory.making.geometry import barrel_area_cm2
from inventory.measures import read_fraction, read_length
from inventory.measures.drills import read_drill

TABLES = ("materials", "timbers", "tubes", "barrels", "supplies", "finishes")


def share(text: str) -> Fraction:
    return read_fraction(text)


@pytest.mark.parametrize("name", TABLES)
def test_every_row_says_where_it_is_from(name: str) -> None:
    """A source, or the words that there is none."""
    assert all(row["source"] for row in rows(name))


def test_hazard_codes_are_official_ones() -> None:
    """Each is a statement of Regulation (EC) No 1272/2008, annex III, as the table of hazards has it."""
    codes = {code for row in rows("supplies") for code in row["hazards"].split("; ") if code}
    assert codes
    assert codes <= set(statements())


def test_schedules_ask_for_supplies_that_are_known() -> None:
    """By stage, per and supply; a schedule that can be found has a main supply."""
    known = {row["supply"] for row in rows("supplies")}
    for finish in (GLUING, *finishes()):
        lines = schedule(finish)
        assert {line.supply for line in lines} <= known
        assert {line.stage for line in lines} <= set(STAGES)
        assert {line.per for line in lines} <= set(PERS)
        assert any(line.main for line in lines) is (finish != NONE)


@pytest.mark.practice
@pytest.mark.parametrize(
    ("material", "lost", "allowance"),
    [
        ("walnut", 4, "3.2 mm"),
        ("elm burl", 12, "6.4 mm"),
        ("stabilised maple", 4, "3.2 mm"),
        ("acrylic", 6, "6.4 mm"),
        ("polyester resin", 10, "9.5 mm"),
        ("red deer antler", 12, "6.4 mm"),
        ("buffalo horn", 12, "6.4 mm"),
        ("Nussbaum", 4, "3.2 mm"),
        ("loupe d'orme", 12, "6.4 mm"),
    ],
)
def test_losses_over_all_stages(material: str, lost: int, allowance: str) -> None:
    """Common practice, no source: percent lost over all stages, 1.5 of them when pressing."""
    usual = usual_material(material)
    assert sum(map(share, usual.losses.values())) == Fraction(lost, 100)
    assert share(usual.losses["assemble"]) == Fraction(15, 1000)
    assert usual.allowance == allowance


def test_what_a_timber_has_to_mind() -> None:
    """Listed species and dust that sensitises are said; of plain ash there is nothing."""
    rosewood = usual_material("rosewood blank")
    assert "may make allergic" in rosewood.caution
    assert "CITES" in rosewood.listed_species
    assert (usual_material("ash").caution, usual_material("ash").listed_species) == ("", "")
    assert usual_material("antler").natural


@pytest.mark.practice
@pytest.mark.parametrize(
    ("drill", "outside"),
    [
        ("7 mm", "6.85 mm"),
        ("8 mm", "7.85 mm"),
        ("10.5 mm", "10.15 mm"),
        ("12.5 mm", "12.25 mm"),
        ("27/64", "10.3 mm"),
    ],
)
def test_tubes_named_by_their_drills(drill: str, outside: str) -> None:
    """Common practice, no source."""
    assert tube_outside(drill) == outside


def test_every_usual_tube_goes_into_its_hole() -> None:
    """Whatever the drill: smaller than the hole, by no more than half a millimetre."""
    for drill in ("3/16", "#7", "letter O", "25/64", "33/64", "5/8", "9.9 mm"):
        gap = read_drill(drill).mm - read_length(tube_outside(drill)).mm
        assert 0 < gap <= Fraction(1, 2)


def test_barrels_leave_wood_around_the_tube() -> None:
    """Of all that is made, at small and large drills."""
    for makes in ("pen", "pencil", "seam ripper", "key ring", "stopper", "letter opener"):
        for drill in (usual_drill(makes), "7 mm", "27/64", "12.5 mm"):
            for barrel in usual_barrels(makes, drill):
                assert read_length(barrel.finished).mm > mm_of(drill)
    assert [barrel.name for barrel in usual_barrels("pen", "7 mm")] == ["upper", "lower"]
    assert [barrel.length for barrel in usual_barrels("pen", "27/64")] == ["55.8 mm"]
    assert tube_length("7 mm", "pencil") != tube_length("7 mm")


@pytest.mark.parametrize(
    ("tube", "drill"),
    [
        ("7 mm tube", "7 mm"),
        ("tube 7 x 53", "7 mm"),
        ("tube 27/64", "27/64"),
        ("10,5 mm brass", "10,5 mm"),
        ("brass tube", ""),
        ("tube no. 3b", ""),
    ],
)
def test_a_drill_in_a_tubes_name(tube: str, drill: str) -> None:
    """Read where the name says one."""
    assert drill_named(tube) == drill


def test_what_a_kit_makes() -> None:
    """By the words of its names; a pen where none tells."""
    assert makes_of("Turnstone", "Turnstone pencil kit gold") == "pencil"
    assert makes_of("Godwit seam ripper") == "seam ripper"
    assert makes_of("Dunlin") == "pen"


@pytest.mark.practice
def test_ca_on_a_barrel() -> None:
    """0.7 to 1.9 ml finish one barrel of 53 mm at 8.4 mm, or a larger one: common practice, no source."""
    each = sum(Fraction(line.quantity) for line in schedule("CA") if line.per == "barrel area")
    for diameter, length in ((Fraction("8.4"), Fraction(53)), (Fraction("12.4"), Fraction("55.8"))):
        assert Fraction("0.7") <= each * barrel_area_cm2(diameter, length) <= Fraction("2")


def test_marks_are_said_shortly() -> None:
    """Seven stages are losses, two ends finished diameters, two shelf lives one."""
    marks = (
        "allowance",
        "lost at cut",
        "lost at turn",
        "finished a",
        "finished b",
        "keeps sealed",
        "keeps opened",
    )
    assert shortened(marks) == ("allowance", "losses", "finished diameters", "shelf life")


def test_a_supply_is_known_by_its_words() -> None:
    """In any order, with others between; what no word tells is not guessed."""
    assert usual_supply("CA glue, thin 20 g") == "thin CA"
    assert usual_cells("epoxy 5-minute")["working time"] == "5 min"
    assert usual_cells("tuning fork") == {}
    assert finish_for({"thin CA", "medium CA"}) == "CA"
    assert finish_for({"thin CA"}) == NONE


def test_a_finishing_schedule_goes_before_what_holds_for_all() -> None:
    """Minutes of finishing in CA, and of a finish nobody has times for."""
    assert usual_time("finish", "CA") == UsualTime(25, 5)
    assert usual_time("finish", "beeswax") == usual_time("finish") == UsualTime(20, 5)
    assert usual_time("turn", "CA") == UsualTime(15, 5)


def test_what_a_supplier_does_not_say_costs_nothing() -> None:
    """No postage, no smallest order."""
    assert Supplier("Harbour Pen Kits", 5).postage == 0
