"""What a sheet need not say: usual values stand in, marked, until one's own word replaces them."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from inventory.catalogue import Blank, Catalogue, Kit, Supply, Tube
from inventory.catalogue.merging import merged
from inventory.ledger import Intake

from .shop import Rows, Tabs, problems, read, write_csvs

LEAST: Tabs = {
    "kits": [["part", "family", "plating"], ["Dunlin kit chrome", "Dunlin", "chrome"]],
    "tubes": [["part"], ["7 mm tube"]],
    "blanks": [["part", "material"], ["walnut blank", "walnut"]],
    "counts": [["part", "quantity"], ["Dunlin kit chrome", 5], ["7 mm tube", 10], ["walnut blank", 4]],
}
"""One kit, one tube, one blank: twelve cells."""
NO_TUBES: Rows = [["part"]]
NO_COUNTS: Rows = [["part", "quantity"]]


def least(folder: Path, **tabs: Rows) -> Intake:
    return read(write_csvs(folder, {**LEAST, **tabs}))


def test_twelve_cells_are_a_shop(tmp_path: Path) -> None:
    """Family, barrels, material and plating, and a plain pattern with its bill."""
    catalogue = least(tmp_path).catalogue
    assert sum(len(row) for rows in LEAST.values() for row in rows[1:]) == 12
    walnut = catalogue.materials["walnut"]
    assert sum(walnut.losses.values()) == Fraction(4, 100)
    assert "allowance" in walnut.usual
    tube = catalogue.parts["7 mm tube"].detail
    assert isinstance(tube, Tube)
    assert (tube.outside.written, tube.length.written, tube.usual) == (
        "6.85 mm",
        "53 mm",
        ("drill", "outside diameter", "length"),
    )
    blank = catalogue.parts["walnut blank"].detail
    assert isinstance(blank, Blank)
    assert blank.usual == ("shape", "width", "length")
    family = catalogue.families["dunlin"]
    assert (family.makes, [barrel.tube for barrel in family.barrels]) == ("pen", ["7 mm tube", "7 mm tube"])
    bill = catalogue.patterns["dunlin pen"].bill
    assert [line.part for line in bill] == ["the blank", "the tubes", "the kit"]
    assert all(line.usual for line in bill)
    assert list(catalogue.platings) == ["chrome"]


def test_it_is_told_what_is_usual(tmp_path: Path) -> None:
    """In one sentence, the first things by name."""
    (told,) = least(tmp_path).notes
    assert told == (
        "Usual values, not your own, stand for 7 mm tube (drill, diameter, length), walnut blank (shape, width,"
        " length), walnut, Dunlin and 1 more. Your own word in a sheet replaces each."
    )


def test_ones_own_word_goes_before(tmp_path: Path) -> None:
    """Cell by cell: what is said is no longer usual, the rest is."""
    own: Rows = [["material", "allowance", "lost at turn"], ["walnut", "2 mm", "9 %"]]
    walnut = least(tmp_path, materials=own).catalogue.materials["walnut"]
    assert (walnut.allowance.written, walnut.losses["turn"]) == ("2 mm", Fraction(9, 100))
    assert walnut.losses["cut"] == Fraction(3, 1000)
    assert {"allowance", "lost at turn"}.isdisjoint(walnut.usual)
    assert "lost at cut" in walnut.usual


def test_a_marked_cell_is_read_and_stays_usual(tmp_path: Path) -> None:
    """`3.2 mm (usual)`, as we write it: the figure counts, and everybody may see whose word it is."""
    own: Rows = [["material", "allowance", "lost at turn"], ["walnut", "3.2 mm (usual)", "0.8 %(usual)"]]
    walnut = least(tmp_path, materials=own).catalogue.materials["walnut"]
    assert (walnut.allowance.written, walnut.losses["turn"]) == ("3.2 mm", Fraction(8, 1000))
    assert {"allowance", "lost at turn"} <= set(walnut.usual)


def test_a_kit_alone(tmp_path: Path) -> None:
    """Its tubes are taken to lie in it, unless it says no."""
    catalogue = least(tmp_path / "a", tubes=NO_TUBES, counts=NO_COUNTS).catalogue
    kit = catalogue.parts["dunlin kit chrome"].detail
    assert isinstance(kit, Kit)
    assert (kit.tubes_inside, kit.usual) == (True, ("tubes inside",))
    assert "tube 7 x 53" in catalogue.parts
    said: Rows = [
        ["part", "family", "plating", "tubes inside"],
        ["Dunlin kit chrome", "Dunlin", "chrome", "no"],
    ]
    catalogue = least(tmp_path / "b", tubes=NO_TUBES, counts=NO_COUNTS, kits=said).catalogue
    kit = catalogue.parts["dunlin kit chrome"].detail
    assert isinstance(kit, Kit)
    assert not kit.tubes_inside


@pytest.mark.parametrize(
    ("name", "makes", "barrels"),
    [
        ("Turnstone pencil", "pencil", 2),
        ("Redshank stopper", "stopper", 1),
        ("Godwit ripper", "seam ripper", 1),
    ],
)
def test_what_it_makes_is_in_its_name(tmp_path: Path, name: str, makes: str, barrels: int) -> None:
    """A stopper has no tube, and its bill none."""
    kits: Rows = [["part", "family", "plating"], [f"{name} kit", name, "gold"]]
    catalogue = least(tmp_path, kits=kits, tubes=NO_TUBES, counts=NO_COUNTS).catalogue
    (family,), (pattern,) = catalogue.families.values(), catalogue.patterns.values()
    assert (family.makes, len(family.barrels)) == (makes, barrels)
    assert any(line.part == "the tubes" for line in pattern.bill) is (makes != "stopper")


def test_one_row_is_a_pattern(tmp_path: Path) -> None:
    """What it makes, family, finish: the bill is the schedule's, of the supplies that are there; others are named."""
    patterns: Rows = [["pattern", "family", "makes", "finish"], ["gloss pen", "Dunlin", "pencil", "CA"]]
    supplies: Rows = [["part", "type", "unit"], ["CA thin", None, None], ["CA medium", None, None]]
    supplies.append(["epoxy", None, None])
    dry: Rows = [["dry strip P120", "abrasive", "strip"], ["dry strip P240", "abrasive", "strip"]]
    intake = least(tmp_path, patterns=patterns, supplies=[*supplies, *dry])
    assert intake.catalogue.families["dunlin"].makes == "pencil"
    pattern = intake.catalogue.patterns["gloss pen"]
    assert pattern.finish == "CA"
    lines = {(line.part, line.per): line.quantity for line in pattern.bill}
    assert lines[("CA thin", "barrel area")] == 20
    assert lines[("epoxy", "tube glue volume")] == 1400
    assert lines[("dry strip P120", "piece")] == lines[("dry strip P240", "piece")] == 400
    assert any("also takes accelerator, wet strip, pads, towel pad" in note for note in intake.notes)
    ca = intake.catalogue.parts["ca thin"].detail
    assert isinstance(ca, Supply)
    assert (ca.type, ca.keeps_opened, ca.hazards) == ("adhesive", 90, ("H315", "H319", "H335", "EUH202"))


def test_a_usual_bill_grows_with_the_shop_and_ends_with_a_word(tmp_path: Path) -> None:
    """Glue that comes later goes into it; a bill of one's own takes its place."""
    first = least(tmp_path / "a").catalogue
    glue: Rows = [["part", "type", "unit"], ["epoxy", None, None]]
    later = read(write_csvs(tmp_path / "b", {"supplies": glue}), known=first).catalogue
    assert "epoxy" in {line.part for line in later.patterns["dunlin pen"].bill}
    bill: Rows = [["pattern", "stage", "part", "quantity", "per"]]
    bill += [
        ["Dunlin pen", "cut", "the blank", 1, "piece"],
        ["Dunlin pen", "assemble", "the kit", 1, "piece"],
    ]
    own = read(write_csvs(tmp_path / "c", {"bills": bill}), known=merged(first, later)).catalogue
    assert [line.usual for line in own.patterns["dunlin pen"].bill] == [(), ()]
    again = read(write_csvs(tmp_path / "d", {"supplies": glue}), known=merged(first, own)).catalogue
    assert "dunlin pen" not in again.patterns


def test_a_slip_of_the_pen_is_no_new_name(tmp_path: Path) -> None:
    """Who knows a Dunlin and reads Dunlni is told; so is who writes families and forgets one."""
    known = least(tmp_path / "a").catalogue
    slip: Rows = [["part", "family", "plating"], ["Dunlni kit chrome", "Dunlni", "chrome"]]
    (found,) = problems(write_csvs(tmp_path / "b", {"kits": slip}), known=known)
    assert "Did you mean “Dunlin”?" in found.problem
    families: Rows = [["family", "makes"], ["Avocet", "pen"]]
    found = problems(write_csvs(tmp_path / "c", {**LEAST, "families": families}))[0]
    assert (found.tab, found.column, found.said) == ("kits", "family", "Dunlin")


def test_two_tubes_of_a_capped_pen(tmp_path: Path) -> None:
    """Tubes of the family's name are its own: one barrel each."""
    tubes: Rows = [["part", "drill"], ["Dunlin cap tube", "12.5 mm"], ["Dunlin body tube", "10.5 mm"]]
    family = least(tmp_path, tubes=tubes, counts=NO_COUNTS).catalogue.families["dunlin"]
    assert [barrel.tube for barrel in family.barrels] == ["Dunlin cap tube", "Dunlin body tube"]
    ends = [barrel.finished_a.written for barrel in family.barrels if barrel.finished_a]
    assert ends == ["14.2 mm", "12.2 mm"]


def test_a_supply_of_another_kind_keeps_its_own(tmp_path: Path) -> None:
    """Plug wax is no finish because of its name, and nobody knows what a thing without words is."""
    wax: Rows = [["part", "type", "unit"], ["tube plug wax", "sundry", "g"]]
    part = read(write_csvs(tmp_path / "a", {"supplies": wax})).catalogue.parts["tube plug wax"]
    assert isinstance(part.detail, Supply)
    assert (part.detail.hazards, part.detail.usual) == ((), ())
    odd: Rows = [["part", "type", "unit"], ["marzipan", None, None]]
    found = problems(write_csvs(tmp_path / "b", {"supplies": odd}))
    assert [(place.column, place.problem[:18]) for place in found] == [
        ("type", "The cell is empty."),
        ("unit", "The cell is empty."),
    ]


def test_a_refill_of_the_name(tmp_path: Path) -> None:
    """A refill that shares a word with the family goes into its bill."""
    refill: Rows = [["part", "type", "unit"], ["Dunlin refill black", "refill", "piece"]]
    catalogue = least(tmp_path, supplies=refill).catalogue
    assert catalogue.families["dunlin"].refill == "Dunlin refill black"
    assert "the refill" in {line.part for line in catalogue.patterns["dunlin pen"].bill}


def test_nothing_is_implied_of_known_things(tmp_path: Path) -> None:
    """A count alone brings no family and no pattern; an empty catalogue stays empty."""
    known = least(tmp_path / "a").catalogue
    counts: Rows = [["part", "quantity"], ["walnut blank", 3]]
    assert read(write_csvs(tmp_path / "b", {"counts": counts}), known=known).catalogue == Catalogue()
