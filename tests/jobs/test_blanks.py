"""Blanks for a family: the worked examples of the trade, measured one-offs, and what keeps one out."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import Barrel, Blank, Material, Part, Tube
from inventory.making.blanks.fitting import BlankPlan, PieceSize, piece_size, pieces_each, plan_blanks
from inventory.making.blanks.model import Segment, Wanted
from inventory.measures import Length, millimetres, read_drill, read_length
from jobs import goods
from jobs.shop import Stock

KERF = Fraction(2)


def size(family: str, material: str, extra: Length | None = None) -> PieceSize:
    """What a piece of a family asks of a blank of a material."""
    return piece_size(
        goods.catalogue(), goods.catalogue().family(family), goods.catalogue().material(material), extra
    )


def plan(part: str, wanted: PieceSize, stock: Stock, pieces: int, free: int | None = None) -> BlankPlan:
    """The plan from all the stock of a part, or from so many free of it."""
    lots = stock.book.lots_of(part)
    there = sum(lot.quantity for lot in lots) if free is None else free
    return plan_blanks(goods.catalogue().part(part), wanted, lots, there, KERF, pieces)


@pytest.mark.practice
@pytest.mark.parametrize(
    ("tubes", "allowance", "kerf", "pieces"),
    [
        (("53", "53"), "3.2", "2", 1),
        (("53", "53"), "9.5", "2", 1),
        (("57.15",), "3.2", "3.2", 2),
        (("57.15",), "6.35", "3.2", 1),
    ],
    ids=["two tubes in wood", "two tubes, nothing to spare", "single tube twice", "the same, chip-prone"],
)
def test_worked_blanks_of_127_mm(tubes: tuple[str, ...], allowance: str, kerf: str, pieces: int) -> None:
    """Pieces from a 127 mm blank (the trade's worked examples; common practice, no source)."""
    tube = Tube(read_length("6.8 mm"), read_length("53 mm"), read_drill("7 mm"))
    parts = {
        f"t{i}": Part(f"t{i}", replace(tube, length=read_length(f"{one} mm"))) for i, one in enumerate(tubes)
    }
    known = replace(goods.catalogue(), parts={**goods.catalogue().parts, **parts})
    known = known.with_family("Avocet", barrels=tuple(Barrel(name, name) for name in parts))
    material = Material("wood", read_length(f"{allowance} mm"))
    wanted = piece_size(known, known.family("Avocet"), material, None)
    blank = Blank("wood", "square", read_length("19 mm"), read_length("127 mm"))
    assert pieces_each(blank, wanted, Fraction(kerf)) == pieces


def test_what_a_piece_asks() -> None:
    """Tube + allowance a segment; the fatter of finish and drill + 2 mm; the fattest barrel counts."""
    avocet = size("Avocet", "olive wood")
    assert avocet.wanted is not None
    assert [one.length for one in avocet.wanted.segments] == [goods.mm("51.2 mm"), goods.mm("56.2 mm")]
    assert avocet.diameter == goods.mm("17 mm")
    assert size("Godwit", "olive wood").diameter == goods.mm("32 mm")


def test_a_barrel_of_unknown_finish_is_as_thick_as_its_drill() -> None:
    """Without finished diameters the hole and the margin are what is asked."""
    known = goods.catalogue().with_family("Turnstone", barrels=(Barrel("barrel", "tube 27/64"),))
    asked = piece_size(known, known.family("Turnstone"), known.material("antler"), None)
    assert asked.diameter == goods.mm("27/64") + 2


def test_unknown_lengths_and_families_without_barrels_ask_nothing() -> None:
    """Where one barrel's length is unknown no cut can be planned; no barrels ask no diameter."""
    known = goods.catalogue().with_family("Godwit", barrels=(Barrel("stopper"), Barrel("x", "tube 27/64")))
    asked = piece_size(known, known.family("Godwit"), known.material("antler"), None)
    assert asked.wanted is None
    bare = goods.catalogue().with_family("Godwit", barrels=())
    assert piece_size(bare, bare.family("Godwit"), bare.material("antler"), None) == PieceSize(None, None)


def test_a_fatter_barrel_needs_a_larger_section() -> None:
    """19 mm serves the 12.4 mm barrel with up to 4.6 mm more and not with 4.7; the shortage is said."""
    blank = goods.catalogue().part(goods.OLIVE).detail
    assert isinstance(blank, Blank)
    assert pieces_each(blank, size("Turnstone", "olive wood", read_length("4.6 mm")), KERF) == 2
    fat = size("Turnstone", "olive wood", read_length("4.7 mm"))
    assert pieces_each(blank, fat, KERF) == 0
    stock = Stock()
    stock.lot(goods.OLIVE, 3000)
    done = plan(goods.OLIVE, fat, stock, 2)
    assert (done.each, done.capacity, done.usable, done.needed, done.cuts) == (0, 0, 0, 2, ())
    assert done.unfit == (f"{goods.OLIVE} is too small: 19 mm thick, 19.1 mm wanted (3 there).",)


def test_a_short_blank_is_named() -> None:
    """A 70 mm blank does not give an Avocet of 51.2 + 2 + 56.2 mm."""
    done = plan(goods.THICK, size("Avocet", "olive wood"), Stock(), 1)
    assert done.unfit == (f"{goods.THICK} is too small: 70 mm long, 109.4 mm wanted.",)


def test_plain_blanks_by_arithmetic() -> None:
    """Two Turnstones a 127 mm blank (2 · 59 + 2 = 120): seven pieces from three there are four, one to buy."""
    stock = Stock()
    stock.lot(goods.OLIVE, 3000)
    done = plan(goods.OLIVE, size("Turnstone", "olive wood"), stock, 7)
    assert (done.each, done.usable, done.capacity, done.needed) == (2, 3, 6, 4)
    assert [(cut.blanks, cut.pieces) for cut in done.cuts] == [(3, 2)]
    few = plan(goods.OLIVE, size("Turnstone", "olive wood"), stock, 3)
    assert few.needed == 2
    assert sum(cut.blanks * cut.pieces for cut in few.cuts) >= 3
    assert plan(goods.OLIVE, size("Turnstone", "olive wood"), Stock(), 7).needed == 4


def test_blanks_without_a_length_give_one_piece() -> None:
    """A blank of unknown length is taken for one piece each."""
    part = Part("odd", Blank("olive wood", "round"))
    done = plan_blanks(part, size("Turnstone", "olive wood"), (), 5000, KERF, 7)
    assert [(cut.blanks, cut.pieces, cut.offcut) for cut in done.cuts] == [(5, 1, None)]
    assert (done.each, done.needed, done.capacity) == (1, 7, 5)
    none = plan_blanks(part, size("Turnstone", "olive wood"), (), 0, KERF, 2)
    assert (none.cuts, none.needed) == ((), 2)


def test_measured_blanks_with_the_least_waste() -> None:
    """Of a thin, a fitting and a fat antler, the fitting one is taken; the thin and the short say what they lack."""
    stock = Stock()
    stock.measured("fat", "35 mm", "75 mm")
    fits = stock.measured("fitting", "15 mm", "65 mm")
    stock.measured("thin", "13 mm", "90 mm")
    stock.measured("", "20 mm", "60 mm")
    done = plan(goods.ANTLER, size("Turnstone", "antler"), stock, 1)
    assert [(cut.lot, cut.name, cut.blanks, cut.pieces) for cut in done.cuts] == [(fits, "fitting", 1, 1)]
    assert done.cuts[0].offcut == 65 - goods.mm("62.2 mm") - KERF
    assert (done.usable, done.capacity, done.needed) == (2, 2, 1)
    assert done.unfit == (
        "thin is left out: diameter short by 1.4 mm.",
        "a measured blank is left out: length short by 2.2 mm.",
    )


def test_a_long_antler_gives_two_and_the_rest_is_bought() -> None:
    """130 mm hold two Turnstones (2 · 62.2 + 2 = 126.4); of four pieces two antlers more are to buy."""
    stock = Stock()
    stock.measured("long", "20 mm", "130 mm")
    done = plan(goods.ANTLER, size("Turnstone", "antler"), stock, 4)
    assert [(cut.blanks, cut.pieces) for cut in done.cuts] == [(1, 2)]
    assert (done.needed, done.capacity) == (3, 2)


def test_claimed_and_part_used_one_offs_are_not_there() -> None:
    """A claimed antler serves nobody else; no more are taken than nobody claims."""
    stock = Stock()
    held = stock.measured("held", "20 mm", "70 mm")
    stock.measured("free", "20 mm", "80 mm")
    stock.claim("A", goods.ANTLER, 1000, lot=held)
    done = plan(goods.ANTLER, size("Turnstone", "antler"), stock, 2, free=1000)
    assert [cut.name for cut in done.cuts] == ["free"]
    assert plan(goods.ANTLER, size("Turnstone", "antler"), stock, 2, free=0).capacity == 0


def test_one_offs_where_no_length_is_asked() -> None:
    """Without a known cut every measured blank is one piece, and none is called too small."""
    stock = Stock()
    stock.measured("a", "20 mm", "70 mm")
    stock.measured("b", "20 mm", "70 mm")
    done = plan(goods.ANTLER, PieceSize(None, None), stock, 1)
    assert [(cut.name, cut.offcut) for cut in done.cuts] == [("a", None)]
    assert (done.capacity, done.needed, done.unfit) == (2, 1, ())


def test_only_blanks_are_cut() -> None:
    """Asking for another kind of part is a mistake of the caller."""
    with pytest.raises(TypeError):
        plan_blanks(goods.catalogue().part(goods.STRIP), PieceSize(None, None), (), 0, KERF, 1)


@examples(60)
@given(
    st.lists(st.tuples(st.integers(10, 40), st.integers(30, 200)), max_size=5),
    st.integers(0, 4),
    st.integers(1, 12),
)
def test_needed_is_enough_and_never_wasteful(antlers: list[tuple[int, int]], plain: int, pieces: int) -> None:
    """The cuts and what is bought give the pieces; one plain or bought blank fewer would not."""
    stock = Stock()
    for thick, long in antlers:
        stock.lot(goods.ACRYLIC, 1000, smallest_diameter=millimetres(thick), length=millimetres(long))
    if plain:
        stock.lot(goods.ACRYLIC, 1000 * plain)
    wanted = PieceSize(Wanted("x", (Segment(goods.mm("50 mm"), goods.mm("14 mm")),)), goods.mm("14 mm"))
    done = plan(goods.ACRYLIC, wanted, stock, pieces)
    cut = sum(one.blanks * one.pieces for one in done.cuts)
    bought = done.needed - sum(one.blanks for one in done.cuts)
    assert done.each == 2
    assert done.capacity == sum((2 + long) // 52 for thick, long in antlers if thick >= 14) + 2 * plain
    assert cut + bought * done.each >= pieces
    assert bought == -(-max(pieces - done.capacity, 0) // 2)
    assert done.usable == sum(1 for thick, long in antlers if thick >= 14 and long >= 50) + plain
