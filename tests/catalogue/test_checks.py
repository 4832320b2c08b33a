"""A catalogue that disagrees with itself says where and why; a sound one says nothing."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from inventory.catalogue import (
    Barrel,
    BillLine,
    Blank,
    Catalogue,
    Family,
    Kit,
    Material,
    Offer,
    Part,
    Pattern,
    Plating,
    PriceStep,
    Supply,
    Tool,
    Tube,
    fold,
)
from inventory.catalogue.checks.whole import troubles
from inventory.catalogue.merging import merged, merged_offers
from inventory.measures import read_drill, read_length

TUBE = Part("7 mm tube", Tube(read_length("6.85 mm"), read_length("53 mm"), read_drill("7 mm")))
FAMILY = Family(
    "Dunlin",
    "pen",
    refill="slim refill",
    bushings=("Dunlin bushings",),
    barrels=(Barrel("body", "7 mm tube", None, read_length("8.4 mm"), read_length("8.4 mm")),),
)
BILL = (
    BillLine("cut", "the blank", 1000, "piece"),
    BillLine("glue", "the tubes", 1000, "piece"),
    BillLine("assemble", "the kit", 1000, "piece"),
    BillLine("assemble", "the refill", 1000, "piece"),
)
SLIM = Pattern("Dunlin slim", "Dunlin", bill=BILL)


def _keyed(*things: Part | Plating | Material | Family | Pattern) -> dict[str, object]:
    return {fold(thing.name): thing for thing in things}


def _sound(**changed: object) -> Catalogue:
    parts = (
        TUBE,
        Part("Dunlin kit", Kit("Dunlin", "chrome")),
        Part("olive blank", Blank("olive", "square")),
        Part("slim refill", Supply("refill")),
        Part("Dunlin bushings", Tool("bushings")),
    )
    base = Catalogue(
        parts=_keyed(*parts),  # type: ignore[arg-type] # parts only
        platings=_keyed(Plating("chrome", ("rhodium",)), Plating("rhodium")),  # type: ignore[arg-type] # platings only
        materials=_keyed(Material("olive", read_length("3 mm"))),  # type: ignore[arg-type] # materials only
        families={"dunlin": FAMILY},
        patterns={"dunlin slim": SLIM},
    )
    return replace(base, **changed)  # type: ignore[arg-type] # fields by name


def _with_barrel(barrel: Barrel) -> Catalogue:
    return _sound(families={"dunlin": replace(FAMILY, barrels=(barrel,))})


def _with_line(line: BillLine) -> Catalogue:
    return _sound(patterns={"dunlin slim": replace(SLIM, bill=(*BILL, line))})


def _with_family(**changed: object) -> Catalogue:
    return _sound(families={"dunlin": replace(FAMILY, **changed)})  # type: ignore[arg-type] # fields by name


def test_a_sound_catalogue_has_no_trouble() -> None:
    """Nothing to say; nor about an empty one."""
    assert troubles(_sound()) == ()
    assert troubles(Catalogue()) == ()


CASES = [
    (
        "self-substitute",
        _sound(platings={"chrome": Plating("chrome", ("Chrome",))}),
        "platings",
        "substitutes",
        "itself",
    ),
    (
        "substitute",
        _sound(platings={"chrome": Plating("chrome", ("crome",))}),
        "platings",
        "substitutes",
        "“chrome”",
    ),
    (
        "loss",
        _sound(materials={"olive": Material("olive", read_length("3 mm"), {"turn": Fraction(1)})}),
        "materials",
        "lost at turn",
        "not including, 100 %",
    ),
    ("no-family", _sound(families={}), "kits", "family", "no family called “Dunlin”"),
    ("no-plating", _sound(platings={}), "kits", "plating", "no plating called “chrome”"),
    ("no-material", _sound(materials={}), "blanks", "material", "no material called “olive”"),
    ("refill", _with_family(refill="thick refill"), "families", "refill", "Did you mean “slim refill”"),
    ("refill-kind", _with_family(refill="7 mm tube"), "families", "refill", "is a tube"),
    ("bushings", _with_family(bushings=("x",)), "families", "bushings", "no tool called “x”"),
    ("pilot", _with_family(trimmer_pilots=("slim refill",)), "families", "trimmer pilot", "is a supply"),
    ("no-barrels", _with_family(barrels=()), "patterns", "family", "no barrels"),
    ("tube", _with_barrel(Barrel("body", "8 mm tube")), "barrels", "tube", "Did you mean “7 mm tube”"),
    ("tube-kind", _with_barrel(Barrel("body", "olive blank")), "barrels", "tube", "is a blank"),
    ("length", _with_barrel(Barrel("body")), "barrels", "length", "needs its length"),
    (
        "drill",
        _with_barrel(Barrel("body", "7 mm tube", read_drill("6.85 mm"))),
        "barrels",
        "drill",
        "would not go in",
    ),
    (
        "finished",
        _with_barrel(Barrel("body", "7 mm tube", None, read_length("7 mm"))),
        "barrels",
        "finished a",
        "nothing would be left",
    ),
    (
        "role",
        _with_line(BillLine("assemble", "the clip", 1000, "piece")),
        "bills",
        "part",
        "no role “the clip”",
    ),
    ("part", _with_line(BillLine("glue", "slim refil", 1000, "piece")), "bills", "part", "“slim refill”"),
    (
        "stage",
        _with_line(BillLine("sand", "slim refill", 1000, "piece")),
        "bills",
        "stage",
        "no stage “sand”",
    ),
    ("per", _with_line(BillLine("glue", "slim refill", 1000, "pair")), "bills", "per", "multiplies nothing"),  # type: ignore[arg-type] # on purpose
    ("no-refill", _with_family(refill=None), "bills", "part", "has no refill"),
]


@pytest.mark.parametrize(
    ("catalogue", "tab", "column", "words"), [case[1:] for case in CASES], ids=[case[0] for case in CASES]
)
def test_each_trouble_is_told_at_its_place(catalogue: Catalogue, tab: str, column: str, words: str) -> None:
    """With its tab, its column and a sentence."""
    found = [trouble for trouble in troubles(catalogue) if (trouble.tab, trouble.column) == (tab, column)]
    assert len(found) == 1, troubles(catalogue)
    assert words in found[0].problem


def test_a_tube_that_does_not_go_into_its_own_hole() -> None:
    """Equal is too tight; told once, at the tube, not at each barrel."""
    tight = replace(TUBE, detail=Tube(read_length("7 mm"), read_length("53 mm"), read_drill("7 mm")))
    catalogue = _sound(parts={**_sound().parts, "7 mm tube": tight})
    assert [(trouble.tab, trouble.key, trouble.column) for trouble in troubles(catalogue)] == [
        ("tubes", ("7 mm tube",), "drill")
    ]


def test_barrels_without_tubes() -> None:
    """A solid one needs only its length; a bored one keeps wood around its hole; no tubes, no glue around them."""
    solid = Barrel("stopper", length=read_length("58 mm"), finished_a=read_length("14 mm"))
    family = replace(FAMILY, barrels=(solid,))
    without = replace(SLIM, bill=tuple(line for line in BILL if line.part != "the tubes"))
    assert troubles(_sound(families={"dunlin": family}, patterns={"dunlin slim": without})) == ()
    bored = replace(solid, drill=read_drill("15 mm"))
    found = troubles(
        _sound(families={"dunlin": replace(FAMILY, barrels=(bored,))}, patterns={"dunlin slim": without})
    )
    assert [trouble.column for trouble in found] == ["finished a"]
    glued = replace(SLIM, bill=(*BILL, BillLine("glue", "slim refill", 1000, "tube glue volume")))
    found = troubles(_sound(families={"dunlin": family}, patterns={"dunlin slim": glued}))
    assert [(trouble.key, trouble.column) for trouble in found] == [
        (("dunlin slim", "1"), "part"),
        (("dunlin slim", "4"), "per"),
    ]


@pytest.mark.parametrize("role", ["the kit", "the blank"])
def test_a_missing_role_is_an_absence(role: str) -> None:
    """Told at the pattern; a pattern with no bill at all is not blamed, nor one that others take in."""
    bill = tuple(line for line in BILL if line.part != role)
    lacking = replace(SLIM, bill=bill)
    (found,) = troubles(_sound(patterns={"dunlin slim": lacking}))
    assert (found.tab, found.key, found.absence) == ("patterns", ("dunlin slim",), True)
    assert role in found.problem
    assert troubles(_sound(patterns={"dunlin slim": replace(SLIM, bill=())})) == ()
    outer = Pattern(
        "whole",
        "Dunlin",
        bill=(BillLine("pack", "dunlin SLIM", 1000, "piece"), BillLine("cut", role, 1000, "piece")),
    )
    assert troubles(_sound(patterns={"dunlin slim": lacking, "whole": outer})) == ()


def test_a_pattern_of_another_family_cannot_be_taken_in() -> None:
    """Its kit would be another."""
    other = Pattern("Avocet plain", "Avocet", bill=BILL[:1] + BILL[2:3])
    avocet = Family("Avocet", "pen", barrels=FAMILY.barrels)
    outer = replace(SLIM, bill=(*BILL, BillLine("finish", "Avocet plain", 1000, "piece")))
    catalogue = _sound(
        families={"dunlin": FAMILY, "avocet": avocet}, patterns={"avocet plain": other, "dunlin slim": outer}
    )
    (found,) = troubles(catalogue)
    assert (found.key, found.column) == (("dunlin slim", "4"), "part")
    assert "only a pattern of the same family" in found.problem


def _chain(*links: tuple[str, str]) -> dict[str, Pattern]:
    names = dict.fromkeys(name for link in links for name in link)
    return {
        name: Pattern(
            name,
            "Dunlin",
            bill=(*BILL, *(BillLine("pack", to, 1000, "piece") for at, to in links if at == name)),
        )
        for name in names
    }


@pytest.mark.parametrize(
    ("links", "loops"),
    [
        ([("a", "a")], ["a → a"]),
        ([("a", "b"), ("b", "a")], ["a → b → a"]),
        ([("a", "b"), ("b", "c"), ("c", "b")], ["b → c → b"]),
        ([("a", "b"), ("b", "c"), ("c", "d"), ("d", "a")], ["a → b → c → d → a"]),
        ([("a", "b"), ("a", "c"), ("b", "d"), ("c", "d")], []),
        ([("a", "b"), ("b", "a"), ("c", "d"), ("d", "c")], ["a → b → a", "c → d → c"]),
    ],
    ids=["itself", "each-other", "further-in", "four-round", "diamond", "two-loops"],
)
def test_bills_that_run_in_circles(links: list[tuple[str, str]], loops: list[str]) -> None:
    """The loop is written out; a pattern taken in by two ways is no loop."""
    found = troubles(_sound(patterns=_chain(*links)))
    assert [trouble.problem.split(": ")[1].split(".")[0] for trouble in found] == loops
    assert all(trouble.tab == "bills" for trouble in found)
    # the cell that closes the loop is the one that is shown, with what it says
    assert [trouble.said for trouble in found] == [loop.split(" → ")[-1] for loop in loops]


def test_a_chain_of_thousands_is_no_loop_and_no_crash() -> None:
    """Depth is no limit."""
    links = [(f"p{number}", f"p{number + 1}") for number in range(3000)]
    patterns = {at: Pattern(at, "Dunlin", bill=(BillLine("pack", to, 1000, "piece"),)) for at, to in links}
    patterns["p3000"] = Pattern("p3000", "Dunlin", bill=BILL)
    assert troubles(_sound(patterns=patterns)) == ()


def test_a_part_and_a_pattern_of_one_name() -> None:
    """The part is meant, so there is no loop."""
    patterns = {
        "slim refill": Pattern(
            "slim refill", "Dunlin", bill=(*BILL, BillLine("pack", "slim refill", 1, "piece"))
        )
    }
    assert troubles(_sound(patterns=patterns)) == ()


def test_merging() -> None:
    """New entries come in or take the place of old ones; offers are the same by supplier, part, pack and code."""
    old = Offer("S", "7 mm tube", 10_000, (PriceStep(1, 500),), "T7")
    new = replace(old, supplier="s", steps=(PriceStep(1, 450),))
    other = replace(old, pack=20_000)
    assert merged_offers([old, other], [new]) == (new, other)
    both = merged(
        _sound(offers={"7 mm tube": (old,)}),
        Catalogue(offers={"7 mm tube": (other,)}, families={"x": FAMILY}),
    )
    assert both.offers["7 mm tube"] == (old, other)
    assert set(both.families) == {"dunlin", "x"}
