"""Does it go together: clearances, the tools to lay out, near twins; what a family takes."""

from __future__ import annotations

from fractions import Fraction

import pytest

from inventory.catalogue import Barrel, Part, Tool, fold
from inventory.errors import UnknownName
from inventory.jobs.stock.fits import fits
from inventory.making.fit import ToolNeed, barrel_fits, drill_tools, drills_needed, tools_needed
from inventory.measures import read_drill
from jobs import goods
from jobs.shop import Stock, plenty, shop


def tools(*there: str, family: str = "Turnstone") -> list[ToolNeed]:
    """What a family lays out where these tools are there."""
    known = goods.catalogue()
    return list(tools_needed(known, known.family(family), {fold(name): 1000 for name in there}))


@pytest.mark.parametrize(
    ("drill", "word"),
    [
        ("10.349 mm", "tight"),
        ("10.2 mm", "tight"),
        ("10.35 mm", ""),
        ("10.8 mm", ""),
        ("10.801 mm", "loose"),
    ],
    ids=["a hair", "no hole", "just", "widest", "rattles"],
)
def test_clearances(drill: str, word: str) -> None:
    """A 10.3 mm tube wants 0.05 to 0.5 mm (an assumption of the trade); outside that it is said."""
    known = goods.catalogue().with_family(
        "Turnstone", barrels=(Barrel("barrel", goods.TUBE, read_drill(drill)),)
    )
    (fit,) = barrel_fits(known, known.family("Turnstone"))
    assert fit.clearance == read_drill(drill).mm - Fraction("10.3")
    assert len(fit.warnings) == bool(word)
    assert all(word in warning and warning.startswith("barrel: ") for warning in fit.warnings)


def test_without_tube_or_drill_nothing_is_said_of_clearance() -> None:
    """A stopper has no clearance."""
    (fit,) = barrel_fits(goods.catalogue(), goods.catalogue().family("Godwit"))
    assert (fit.tube, fit.clearance, fit.warnings) == (None, None, ())


def test_every_different_drill_once() -> None:
    """Two barrels with two tubes want two drills; a barrel that is not bored wants none."""
    known = goods.catalogue()
    assert [d.designation for d in drills_needed(known, known.family("Avocet"))] == ["12.5 mm", "10.5 mm"]
    twice = known.with_family(
        "Avocet", barrels=(Barrel("a", goods.TUBE), Barrel("b", goods.TUBE), Barrel("c"))
    )
    assert len(drills_needed(twice, twice.family("Avocet"))) == 1


def test_everything_there() -> None:
    """Drill, pilot and bushings are named with their stage, and are there."""
    assert tools(goods.DRILL, goods.PILOT, goods.BUSHINGS) == [
        ToolNeed("drill 27/64", "drill", goods.DRILL, True),
        ToolNeed("trimmer pilot", "trim", goods.PILOT, True),
        ToolNeed("bushings", "turn", goods.BUSHINGS, True),
    ]


def test_a_near_twin_is_pointed_out() -> None:
    """The 10.5 mm drill is there and is not the 27/64 one (10.716 mm)."""
    drill = tools(goods.DRILL_BODY)[0]
    assert (drill.part, drill.there, drill.instead) == (goods.DRILL, False, (goods.DRILL_BODY,))
    assert not any(tool.there for tool in tools(goods.DRILL_BODY))


def test_a_drill_nobody_has_heard_of() -> None:
    """No tool of that size in the book: named by its designation alone."""
    assert tools(family="Godwit") == [ToolNeed("drill 3/8", "drill", None, False)]


def test_of_two_same_drills_the_one_that_is_there() -> None:
    """A second drill of the same hole stands in for one that is used up."""
    known = goods.catalogue().with_parts(Part("spare", Tool("Drill", "27/64 in")), Part("odd", Tool("drill")))
    need = tools_needed(known, known.family("Turnstone"), {"spare": 1000})[0]
    assert (need.part, need.there) == ("spare", True)
    assert "odd" not in [part.name for part, _ in drill_tools(known)]


def test_what_fits_a_family() -> None:
    """Kits with what is free, refill, tools, and the blanks on the shelf, the most pieces first."""
    stock = plenty()
    stock.measured("root", "20 mm", "70 mm")
    stock.measured("thin", "9 mm", "70 mm")
    stock.claim("A", goods.CHROME_KIT, 3000)
    got = fits(shop(stock), "turnstone")
    assert got.family.name == "Turnstone"
    assert [barrel.tube for barrel in got.barrels] == [goods.TUBE]
    assert {kit.name: free for kit, free in got.kits}[goods.CHROME_KIT] == 37_000
    assert got.refill is not None
    assert (got.refill.name, got.refill_free) == (goods.REFILL, 50_000)
    assert [(one.part.name, one.usable, one.each, one.pieces) for one in got.blanks] == [
        (goods.OLIVE, 40, 2, 80),
        (goods.ANTLER, 1, 1, 1),
    ]
    assert got.blanks[1].unfit == ("thin is left out: diameter short by 5.4 mm.",)
    assert got.kerf_mm == 1.2
    assert all(tool.there for tool in got.tools)


def test_what_fits_a_family_without_refill() -> None:
    """A stopper takes no refill; an empty shelf has no blanks for it."""
    got = fits(shop(Stock()), "Godwit")
    assert (got.refill, got.refill_free, got.blanks) == (None, 0, ())
    with pytest.raises(UnknownName):
        fits(shop(), "Heron")


def test_the_last_of_a_blank_is_listed() -> None:
    """Rows of a session share blanks by the thousandth: what is left of one is in the book, and gives no piece."""
    stock = Stock()
    stock.lot(goods.OLIVE, 1)
    (left,) = fits(shop(stock), "Turnstone").blanks
    assert (left.part.name, left.usable, left.pieces) == (goods.OLIVE, 0, 0)


def test_the_narrowest_saw_that_is_there() -> None:
    """A saw on hand goes before a narrower one that is not; without any saw the kerf is 2 mm."""
    known = goods.catalogue().with_parts(Part("fret saw", Tool("saw", "0.5 mm")), Part("blunt", Tool("saw")))
    assert shop(plenty(), known).kerf == Fraction("1.2")
    assert shop(plenty().without(goods.SAW), known).kerf == Fraction("0.5")
    bare = known.with_parts(*(Part(name, Tool("file")) for name in (goods.SAW, "fret saw", "blunt")))
    assert shop(plenty(), bare).kerf == 2
