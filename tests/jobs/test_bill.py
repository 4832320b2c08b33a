"""Bills of materials: roles, `per`, patterns taken in, and quantities that follow from geometry."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import pi

import pytest
import registry

from inventory.catalogue import Barrel, BillLine, Catalogue, Pattern
from inventory.errors import BadInput, UnknownName
from inventory.making.bom import (
    RoleChoice,
    Use,
    drill_of,
    finished_diameter,
    length_of,
    mean_diameter,
    tube_of,
    uses,
    whole_bill,
)
from inventory.making.consumption import by_piece
from inventory.measures import read_drill, read_length
from jobs import goods

CHOICE = RoleChoice(goods.CHROME_KIT, goods.OLIVE)


def bill(known: Catalogue, family: str, *lines: BillLine, choice: RoleChoice = CHOICE) -> tuple[Use, ...]:
    """The uses of a made-up bill."""
    return uses(known, Pattern("made up", family, bill=lines), choice)


def whole(exact: Fraction | None) -> int | None:
    """A fraction that must be a whole number, as one."""
    assert exact is None or exact.denominator == 1
    return None if exact is None else int(exact)


def quantity(family: str, per: str, each: int = 1000, choice: RoleChoice = CHOICE) -> Fraction:
    """What one piece takes of a part at so much a `per`."""
    (use,) = bill(goods.catalogue(), family, goods.line("glue", goods.GLUE, each, per), choice=choice)
    return use.per_piece


def test_roles_become_the_parts_chosen() -> None:
    """The kit, the blank, the tubes and the refill are those of the choice and the family."""
    got = {
        use.role: use.part
        for use in uses(goods.catalogue(), goods.catalogue().pattern("turnstone gloss"), CHOICE)
    }
    assert got == {
        "the blank": goods.OLIVE,
        "the tubes": goods.TUBE,
        "the kit": goods.CHROME_KIT,
        "the refill": goods.REFILL,
        "": goods.STRIP,
    }


def test_a_refill_chosen_takes_the_family_s_place() -> None:
    """A swapped refill is on the bill and the usual one is not."""
    parts = [
        use.part
        for use in uses(
            goods.catalogue(),
            goods.catalogue().pattern("Turnstone gloss"),
            replace(CHOICE, refill=goods.SLIM),
        )
    ]
    assert goods.SLIM in parts
    assert goods.REFILL not in parts


def test_a_family_without_refill_says_so() -> None:
    """A bill that asks for the refill where the family names none is refused with the remedy."""
    with pytest.raises(BadInput, match="names none") as caught:
        bill(goods.catalogue(), "Godwit", goods.line("assemble", "The Refill", 1000))
    assert "--refill" in caught.value.hint
    (use,) = bill(
        goods.catalogue(),
        "Godwit",
        goods.line("assemble", "the refill", 1000),
        choice=replace(CHOICE, refill=goods.SLIM),
    )
    assert use.part == goods.SLIM


def test_an_unknown_role_names_the_roles() -> None:
    """`the clip` is no role; `the …` that is a part's name is that part."""
    with pytest.raises(BadInput, match="the clip") as caught:
        bill(goods.catalogue(), "Turnstone", goods.line("pack", "the clip", 1000))
    assert "the kit, the tubes, the blank, the refill" in caught.value.hint
    box = replace(goods.catalogue().part(goods.STRIP), name="the box")
    known = replace(goods.catalogue(), parts={**goods.catalogue().parts, "the box": box})
    assert bill(known, "Turnstone", goods.line("pack", "the box", 1000))[0].part == "the box"


def test_an_unknown_part_is_named() -> None:
    """A bill line whose part nobody knows is refused."""
    with pytest.raises(UnknownName, match="gold leaf"):
        bill(goods.catalogue(), "Turnstone", goods.line("finish", "gold leaf", 1000))


def test_per_piece_barrel_and_session() -> None:
    """A piece counts once, its barrels by number, and a session's share is apart."""
    assert quantity("Avocet", "piece", 700) == 700
    assert quantity("Avocet", "barrel", 700) == 1400
    (use,) = bill(goods.catalogue(), "Avocet", goods.line("glue", goods.EPOXY, 2000, "session"))
    assert use.per_piece == 0
    assert use.per_session == 2000


def test_glue_volume_by_hand() -> None:
    """π/4 · ((27/64 in)² − 10.3²) · 55.8 mm = 382.8 mm³; 1.5 ml a ml of it is 574 thousandths, to the last digit."""
    drill = 27 / 64 * 25.4
    volume = pi / 4 * (drill**2 - 10.3**2) * 55.8 / 1000
    assert volume == pytest.approx(0.383, abs=0.001)
    assert float(quantity("Turnstone", "tube glue volume", 1500)) == pytest.approx(1500 * volume, rel=1e-12)


def test_barrel_area_by_hand() -> None:
    """π · mean of 12 and 12.4 mm · 55.8 mm = 21.39 cm²."""
    assert float(quantity("Turnstone", "barrel area")) == pytest.approx(
        1000 * pi * 12.2 * 55.8 / 100, rel=1e-12
    )


@pytest.mark.outside
def test_geometry_against_pint() -> None:
    """Glue volume and area of both Avocet barrels, with the units carried by the library pint."""
    unit = registry.plain()
    glue, area = 0 * unit.ml, 0 * unit.cm**2
    for drill, tube, length, mean in ((12.5, 12.25, 48, 14.5), (10.5, 10.15, 53, 12.5)):
        glue += pi / 4 * ((drill * unit.mm) ** 2 - (tube * unit.mm) ** 2) * length * unit.mm
        area += pi * mean * unit.mm * length * unit.mm
    assert float(quantity("Avocet", "tube glue volume")) == pytest.approx(1000 * glue.to("ml").magnitude)
    assert float(quantity("Avocet", "barrel area")) == pytest.approx(1000 * area.to("cm**2").magnitude)


@pytest.mark.outside
def test_an_inch_drill_against_pint() -> None:
    """27/64 in and the glue around its tube in US fluid ounces, by the library pint."""
    unit = registry.plain()
    drill = 27 / 64 * unit.inch
    glue = pi / 4 * (drill**2 - (10.3 * unit.mm) ** 2) * 55.8 * unit.mm
    ounces = float(quantity("Turnstone", "tube glue volume")) / 1000 / 29.5735295625
    assert ounces == pytest.approx(glue.to("fluid_ounce").magnitude)


def test_no_tube_takes_no_glue_and_no_diameter_no_finish() -> None:
    """A stopper without a tube has no glue volume; a barrel of unknown diameter no area."""
    assert quantity("Godwit", "tube glue volume") == 0
    assert float(quantity("Godwit", "barrel area")) == pytest.approx(1000 * pi * 30 * 60 / 100)
    known = goods.catalogue().with_family("Godwit", barrels=(Barrel("stopper"),))
    assert bill(known, "Godwit", goods.line("finish", goods.FINISH, 40, "barrel area"))[0].per_piece == 0


def test_a_fatter_barrel_takes_more_finish() -> None:
    """2 mm more in the middle, tapering back at both ends, is 1 mm on the mean diameter."""
    fat = quantity("Turnstone", "barrel area", choice=replace(CHOICE, extra_diameter=read_length("2 mm")))
    assert float(fat) == pytest.approx(1000 * pi * 13.2 * 55.8 / 100)


@pytest.mark.parametrize(
    ("per", "each", "cap", "body"),
    [
        ("barrel", 1000, 1000, 1000),
        ("piece", 2000, 1000, 1000),
        ("piece", 1000, 1000, 1000),
        ("barrel", 2000, 2000, 2000),
    ],
    ids=["one a barrel", "two a piece", "one a piece", "two a barrel"],
)
def test_tubes_by_piece_or_barrel(per: str, each: int, cap: int, body: int) -> None:
    """`2 a piece` of two different tubes is one of each, as `1 a barrel` is."""
    got = {
        use.part: use.per_piece
        for use in bill(goods.catalogue(), "Avocet", goods.line("glue", "the tubes", each, per))
    }
    assert got == {goods.CAP_TUBE: cap, goods.BODY_TUBE: body}


def test_two_barrels_of_one_tube_take_two() -> None:
    """The same tube in both barrels, however spelled, is one line of two."""
    barrels = (Barrel("upper", goods.TUBE.upper()), Barrel("lower", goods.TUBE))
    known = goods.catalogue().with_family("Avocet", barrels=barrels)
    got = bill(known, "Avocet", goods.line("glue", "the tubes", 2000), goods.line("turn", goods.TUBE, 100))
    assert [(use.part, use.stage, whole(use.per_piece)) for use in got] == [
        (goods.TUBE, "glue", 2000),
        (goods.TUBE, "turn", 100),
    ]


def test_a_stopper_has_no_tubes() -> None:
    """The tubes of a family without tubes are none."""
    assert bill(goods.catalogue(), "Godwit", goods.line("glue", "the tubes", 1000)) == ()


def test_lines_of_one_part_and_stage_are_one() -> None:
    """Piece and session shares add up; another stage stays apart; a role is not lost."""
    got = bill(
        goods.catalogue(),
        "Turnstone",
        goods.line("glue", goods.GLUE, 100),
        goods.line("glue", goods.GLUE.upper(), 50, "session"),
        goods.line("finish", goods.GLUE, 7),
        goods.line("assemble", goods.REFILL, 1000),
        goods.line("assemble", "the refill", 1000),
    )
    assert [(use.stage, whole(use.per_piece), use.per_session, use.role) for use in got] == [
        ("glue", 100, 50, ""),
        ("finish", 7, 0, ""),
        ("assemble", 2000, 0, "the refill"),
    ]


def test_patterns_are_taken_in_as_often_as_said() -> None:
    """Two coats of a schedule of 1.5 ml each are 3 ml, through two levels."""
    coat = Pattern(
        "coat",
        "Turnstone",
        bill=(goods.line("finish", goods.FINISH, 1500), goods.line("finish", goods.STRIP, 250, "barrel")),
    )
    gloss = Pattern(
        "gloss", "Turnstone", bill=(goods.line("finish", "Coat", 2000), goods.line("pack", goods.STRIP, 1000))
    )
    known = goods.catalogue().with_pattern(coat).with_pattern(gloss)
    top = Pattern(
        "top",
        "Turnstone",
        bill=(goods.line("finish", "gloss", 1000), goods.line("assemble", "the kit", 1000)),
    )
    assert [(one.stage, one.part, one.quantity, one.per) for one in whole_bill(known, top)] == [
        ("finish", goods.FINISH, 3000, "piece"),
        ("finish", goods.STRIP, 500, "barrel"),
        ("pack", goods.STRIP, 1000, "piece"),
        ("assemble", "the kit", 1000, "piece"),
    ]


def test_a_circle_is_named() -> None:
    """a → b → a cannot be made, and the way round is said."""
    a = Pattern("a", "Turnstone", bill=(goods.line("finish", "b", 1000),))
    b = Pattern("b", "Turnstone", bill=(goods.line("finish", "A", 1000),))
    known = goods.catalogue().with_pattern(a).with_pattern(b)
    with pytest.raises(BadInput, match="a → b → a"):
        whole_bill(known, a)


def test_a_part_of_the_same_name_is_the_part() -> None:
    """Where a part and a pattern share a name, the line means the part."""
    known = goods.catalogue().with_pattern(
        Pattern(goods.STRIP, "Turnstone", bill=(goods.line("finish", goods.GLUE, 1),))
    )
    top = Pattern("top", "Turnstone", bill=(goods.line("finish", goods.STRIP, 1000),))
    assert whole_bill(known, top) == top.bill


def test_an_empty_bill_is_refused() -> None:
    """A pattern without lines cannot be planned."""
    with pytest.raises(BadInput, match="no bill"):
        whole_bill(goods.catalogue(), Pattern("bare", "Turnstone"))


def test_a_trace_is_never_nothing() -> None:
    """Parts of a thousandth are rounded up for a piece."""
    assert by_piece(Use(goods.GLUE, "glue", Fraction(1, 3)), 1) == 1


def test_a_barrel_s_own_figures_go_before_its_tube_s() -> None:
    """Its own drill counts; without a tube its own length; without either, none is known."""
    known, tubed = goods.catalogue(), Barrel("x", goods.TUBE, read_drill("11 mm"))
    assert drill_of(known, tubed) == read_drill("11 mm")
    assert length_of(known, tubed) == read_length("55.8 mm").mm
    bare = Barrel("y")
    assert (tube_of(known, bare), drill_of(known, bare), whole(length_of(known, bare))) == (None, None, 0)
    assert tube_of(known, Barrel("z", goods.THICK)) is None


def test_the_thickest_place_counts_for_the_blank() -> None:
    """The larger end plus the extra diameter; half of the extra on the mean; nothing where no end is known."""
    barrel = Barrel("x", None, None, read_length("12 mm"), read_length("13 mm"))
    extra = read_length("2 mm")
    assert (whole(finished_diameter(barrel, None)), whole(finished_diameter(barrel, extra))) == (13, 15)
    assert (mean_diameter(barrel, None), mean_diameter(barrel, extra)) == (Fraction(25, 2), Fraction(27, 2))
    assert (finished_diameter(Barrel("y"), extra), mean_diameter(Barrel("y"), extra)) == (None, None)


def test_the_avocet_as_a_whole() -> None:
    """A two-tube piece: one blank, one of each tube, one kit."""
    got = uses(
        goods.catalogue(),
        goods.catalogue().pattern("Avocet gloss"),
        RoleChoice(goods.AVOCET_KIT, goods.OLIVE),
    )
    assert [(use.part, whole(use.per_piece)) for use in got] == [
        (goods.OLIVE, 1000),
        (goods.CAP_TUBE, 1000),
        (goods.BODY_TUBE, 1000),
        (goods.AVOCET_KIT, 1000),
    ]
