"""What good sheets bring: entries, counts and requests with their exact figures."""

from __future__ import annotations

import gc
from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path
from random import Random

import pytest

from inventory.catalogue import Blank, Catalogue, Kit, Order, Supply, Tool, Tube, fold
from inventory.catalogue.checks.whole import troubles
from inventory.catalogue.merging import merged
from inventory.ledger import Intake
from inventory.measures import read_length

from .shop import TODAY, Rows, Tabs, problems, read, shop, with_cell, with_row, write_csvs, write_xlsx


@pytest.fixture
def intake(tmp_path: Path) -> Intake:
    """The sound shop, read from a workbook."""
    return read(write_xlsx(tmp_path / "shop.xlsx", shop()))


def _known(intake: Intake) -> Catalogue:
    return intake.catalogue


def test_parts(intake: Intake) -> None:
    """Each kind with its own particulars."""
    parts = intake.catalogue.parts
    tube, kit, blank = parts["tube 7 x 53"], parts["redshank kit"], parts["antler tip"]
    assert isinstance(tube.detail, Tube)
    assert (tube.detail.outside.written, tube.detail.drill.designation, tube.level) == (
        "6.85 mm",
        "7 mm",
        10_000,
    )
    assert kit.detail == Kit("Redshank", "chrome", tubes_inside=True)
    assert blank.detail == Blank("antler", "natural")
    assert blank.note == "one-offs"
    assert parts["thin ca"].unit == "ml"
    assert parts["thin ca"].detail == Supply(
        "adhesive", 59_000, 12_000, 360, 56, ("H315", "H319"), Fraction("1.05")
    )
    assert parts["7 mm drill"].detail == Tool("drill", "7 mm", 300)
    assert parts["band saw"].detail == Tool("saw", "1 mm")


def test_materials_families_patterns(intake: Intake) -> None:
    """Losses by stage, barrels and bills under their owners, in the order of the rows."""
    catalogue = intake.catalogue
    losses = catalogue.materials["olive wood"].losses
    assert {stage: share for stage, share in losses.items() if share} == {
        "drill": Fraction(1, 50),
        "turn": Fraction(1, 25),
    }
    dunlin = catalogue.families["dunlin"]
    assert (dunlin.refill, dunlin.bushings, dunlin.trimmer_pilots) == (
        "slim refill",
        ("Dunlin bushings",),
        ("7 mm pilot",),
    )
    assert [(barrel.name, barrel.tube) for barrel in dunlin.barrels] == [
        ("upper", "tube 7 x 53"),
        ("lower", "tube 7 x 53"),
    ]
    stopper = catalogue.families["redshank"].barrels[0]
    assert (stopper.tube, stopper.length) == (None, read_length("58 mm"))
    slim = catalogue.patterns["dunlin slim"]
    assert slim.minutes == 35
    assert [(line.part, line.quantity, line.per) for line in slim.bill][2:4] == [
        ("thin CA", 1300, "tube glue volume"),
        ("Dunlin finish", 1000, "piece"),
    ]
    assert catalogue.platings["chrome"].substitutes == ("rhodium",)


def test_offers(intake: Intake) -> None:
    """Rows of one offer are its steps; packs in the part's unit, money in the supplier's currency."""
    (kits,) = intake.catalogue.offers["dunlin kit chrome"]
    assert (kits.pack, kits.price_group, kits.code, kits.seen_on) == (
        5000,
        "slim",
        "SM-10",
        date(2026, 3, 14),
    )
    assert [(step.from_packs, step.price) for step in kits.steps] == [(1, 2150), (10, 1990)]
    (glue,) = intake.catalogue.offers["thin ca"]
    assert (kits.at_most, glue.at_most) == (40, None)
    assert (glue.pack, glue.steps[0].price) == (118_000, 3200)
    assert intake.catalogue.suppliers["far shore fittings"].postage == 1250


def test_counts(intake: Intake) -> None:
    """Bottles are counted by what they hold; unit costs may be finer than a coin; each knows its place."""
    kits, tubes, glue, tip, _ = intake.counts
    assert (kits.quantity, kits.unit_cost, kits.lot) == (12_000, Fraction(430), "March")
    assert tubes.unit_cost == Fraction(25, 2)
    assert (glue.quantity, glue.opened_on, glue.use_by) == (118_000, date(2026, 4, 1), date(2027, 3, 1))
    assert (tip.smallest_diameter, tip.length) == (read_length("17.5 mm"), read_length("110 mm"))
    assert str(tip.place) == "shop.xlsx, counts, row 5"


def test_orders(intake: Intake) -> None:
    """The wished plating first; where the family's kits come in one plating only, that one."""
    harbour, stopper = intake.orders
    assert (harbour.platings, harbour.price, harbour.extra_diameter) == (
        ("chrome", "rhodium"),
        4800,
        read_length("1 mm"),
    )
    assert stopper.platings == ("chrome",)


def test_names_take_their_owners_spelling(tmp_path: Path) -> None:
    """However a name is referred to, it comes out as its owner writes it."""
    tabs = shop()
    tabs["counts"][1][0] = "dunlin  KIT Chrome"
    tabs["bills"][3][2] = "THIN ca"
    tabs["kits"][1][1:3] = ["DUNLIN", "Chrome"]
    tabs["orders"][1][5] = "CHROME / Rhodium"
    found = read(write_xlsx(tmp_path / "shop.xlsx", tabs))
    assert found.counts[0].part == "Dunlin kit chrome"
    assert found.catalogue.patterns["dunlin slim"].bill[2].part == "thin CA"
    assert found.catalogue.parts["dunlin kit chrome"].detail == Kit("Dunlin", "chrome")
    assert found.orders[0].platings == ("chrome", "rhodium")


@pytest.mark.parametrize(
    "listed", ["chrome; rhodium", "chrome,rhodium", "chrome / rhodium", "Chrome;rhodium;"]
)
def test_lists_of_platings(tmp_path: Path, listed: str) -> None:
    """Separated by semicolons, commas or slashes."""
    found = read(write_xlsx(tmp_path / "shop.xlsx", with_cell("orders", 2, "platings", listed)))
    assert found.orders[0].platings == ("chrome", "rhodium")


def test_a_name_with_a_separator_in_it_is_one_name(tmp_path: Path) -> None:
    """A plating called `black/gold`, a tool called `set 1, 2` are found whole before they are taken apart."""
    tabs = with_row("platings", "black/gold")
    tabs["tools"].append(["set 1, 2", "bushings", None, None])
    tabs["families"][1][3] = "Dunlin bushings; set 1, 2"
    tabs["orders"][1][5] = "black/gold; chrome"
    found = read(write_xlsx(tmp_path / "shop.xlsx", tabs))
    assert found.orders[0].platings == ("black/gold", "chrome")
    assert found.catalogue.families["dunlin"].bushings == ("Dunlin bushings", "set 1, 2")


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("90", 90),
        ("90 days", 90),
        ("6 weeks", 42),
        ("6w", 42),
        ("12 months", 360),
        ("1 year", 365),
        ("1/2 year", None),
    ],
)
def test_how_long_a_supply_keeps(tmp_path: Path, text: str, days: int | None) -> None:
    """Days, weeks, months of 30 days, years of 365; half a day is refused."""
    path = write_xlsx(tmp_path / "shop.xlsx", with_cell("supplies", 2, "shelf life opened", text))
    if days is None:
        assert problems(path)
        return
    detail = read(path).catalogue.parts["thin ca"].detail
    assert isinstance(detail, Supply)
    assert detail.keeps_opened == days


@pytest.mark.parametrize(
    ("said", "minutes"), [("5 min", 5), ("5 minutes", 5), ("5", 5), (5.0, 5), ("1 m.", 1)]
)
def test_how_long_a_mix_stays_workable(tmp_path: Path, said: object, minutes: int) -> None:
    """Whole minutes, with or without their unit."""
    found = read(write_xlsx(tmp_path / "shop.xlsx", with_cell("supplies", 2, "working time", said)))
    detail = found.catalogue.parts["thin ca"].detail
    assert isinstance(detail, Supply)
    assert detail.works == minutes


@pytest.mark.parametrize(
    ("said", "type_"),
    [
        ("Adhesives", "adhesive"),
        ("spare-fittings", "spare fitting"),
        ("Finishes", "finish"),
        ("Twine", "twine"),
    ],
)
def test_types_in_ones_own_words(tmp_path: Path, said: str, type_: str) -> None:
    """Plurals and hyphens meet the usual word, and a word of one's own is taken."""
    found = read(write_xlsx(tmp_path / "shop.xlsx", with_cell("supplies", 4, "type", said)))
    detail = found.catalogue.parts["polishing pads"].detail
    assert isinstance(detail, Supply)
    assert detail.type == type_


@pytest.mark.parametrize(
    ("said", "inside"), [("Yes", True), ("x", True), (1, True), ("N", False), (0, False), (None, False)]
)
def test_yes_and_no(tmp_path: Path, said: object, inside: bool) -> None:
    """In the ways people tick."""
    found = read(write_xlsx(tmp_path / "shop.xlsx", with_cell("kits", 2, "tubes included", said)))
    detail = found.catalogue.parts["dunlin kit chrome"].detail
    assert isinstance(detail, Kit)
    assert detail.tubes_inside is inside


NOTES = [
    (with_cell("offers", 2, "from packs", 20), "were not in order"),
    (with_cell("offers", 3, "price", 22), "not cheaper than the one before"),
    (with_cell("blanks", 2, "width", None), "“olive blank” has no width"),
    (with_cell("blanks", 2, "length", None), "“olive blank” has no length"),
]


@pytest.mark.parametrize(("tabs", "words"), NOTES, ids=[words[:30] for _, words in NOTES])
def test_odd_but_taken(tmp_path: Path, tabs: Tabs, words: str) -> None:
    """What may be meant is taken, and remarked on."""
    assert any(words in note for note in read(write_xlsx(tmp_path / "shop.xlsx", tabs)).notes)


def test_a_saw_whose_kerf_nobody_measured(tmp_path: Path) -> None:
    """A saw may go without its size; only a drill may not."""
    found = read(write_xlsx(tmp_path / "shop.xlsx", with_cell("tools", 5, "size", None)))
    assert found.catalogue.parts["band saw"].detail == Tool("saw")


def test_the_collector_is_left_as_it_was(tmp_path: Path) -> None:
    """Reading pauses the search for cycles, and starts it again only where it ran."""
    path = write_xlsx(tmp_path / "shop.xlsx", shop())
    read(path)
    assert gc.isenabled()
    gc.disable()
    try:
        read(path)
        assert not gc.isenabled()
    finally:
        gc.enable()


def test_any_subset_on_top_of_what_is_known(tmp_path: Path, intake: Intake) -> None:
    """One tab alone may refer to everything known."""
    for tab, rows in shop().items():
        alone = read(write_csvs(tmp_path / f"only {tab}", {tab: rows}), known=_known(intake))
        assert alone.rows == ((tab, len(rows) - 1),)


def test_barrels_and_bills_replace_their_owners_whole(tmp_path: Path, intake: Intake) -> None:
    """Listing a family's barrels replaces them all; listing the family alone keeps them."""
    known = _known(intake)
    barrels: Tabs = {"barrels": [["family", "barrel", "tube"], ["Dunlin", "only", "tube 7 x 53"]]}
    one = read(write_csvs(tmp_path / "one", barrels), known=known).catalogue.families["dunlin"]
    assert ([barrel.name for barrel in one.barrels], one.refill) == (["only"], "slim refill")
    families: Tabs = {"families": [["family", "makes", "refill"], ["Dunlin", "pencil", "slim refill"]]}
    two = read(write_csvs(tmp_path / "two", families), known=known).catalogue.families["dunlin"]
    assert ([barrel.name for barrel in two.barrels], two.makes) == (["upper", "lower"], "pencil")
    patterns: Tabs = {"patterns": [["pattern", "family", "note"], ["Dunlin slim", "Dunlin", "new"]]}
    three = read(write_csvs(tmp_path / "three", patterns), known=known).catalogue.patterns["dunlin slim"]
    assert (len(three.bill), three.note) == (6, "new")
    bills: Tabs = {
        "bills": [
            ["pattern", "stage", "part", "quantity", "per"],
            ["Redshank plain", "cut", "the blank", 1, "piece"],
        ]
    }
    found = problems(write_csvs(tmp_path / "four", bills), known=known)
    assert "missing role is “the kit”" in found[0].problem


def test_what_is_known_may_stop_agreeing(tmp_path: Path, intake: Intake) -> None:
    """A fatter tube makes a known barrel's drill too small: told by name, for there is no row."""
    tubes: Tabs = {
        "tubes": [
            ["part", "outside diameter", "length", "drill"],
            ["tube 7 x 53", "7.3 mm", "53 mm", "7.5 mm"],
        ]
    }
    found = problems(write_csvs(tmp_path / "t", tubes), known=_known(intake))
    assert [(place.file, place.tab, place.column) for place in found] == [("", "barrels", "drill")]
    assert "“dunlin”, known already" in found[0].problem


def test_a_known_part_keeps_its_kind(tmp_path: Path, intake: Intake) -> None:
    """A tube cannot become a tool by a later load; a later load may put the same kind in its place."""
    tools: Tabs = {"tools": [["part", "type"], ["Tube 7 x 53", "drill bush"]]}
    found = problems(write_csvs(tmp_path / "t", tools), known=_known(intake))
    assert "is known as a tube and cannot become a tool" in found[0].problem
    assert not problems(write_csvs(tmp_path / "s", {"tubes": shop()["tubes"]}), known=_known(intake))


def _orders(intake: Intake, **changed: object) -> dict[str, Order]:
    first = intake.orders[0]
    return {fold(first.name): replace(first, **changed)}  # type: ignore[arg-type] # fields by name


def test_a_known_order_may_be_loaded_again(tmp_path: Path, intake: Intake) -> None:
    """The same order keeps its state, even past its day; a changed request is taken; a changed promise is not."""
    known = _known(intake)
    path = write_csvs(tmp_path / "o", {"orders": shop()["orders"][:2]})
    promised = _orders(intake, state="promised")
    assert read(path, known=known, orders=promised).orders[0].state == "promised"
    assert read(path, known=known, orders=promised, today=date(2027, 1, 1)).orders[0].name == "harbour"
    assert read(path, known=known, orders=_orders(intake, count=9)).orders[0].count == 4
    assert (
        read(path, known=known, orders=_orders(intake, count=9, state="released")).orders[0].state == "wish"
    )
    for state, remedy in (("promised", "kitdrawer change"), ("handed over", "another name")):
        (place,) = problems(path, known=known, orders=_orders(intake, count=9, state=state))
        assert (place.column, place.row, remedy in place.problem) == ("order", 2, True)


def test_an_order_for_today_is_not_late(tmp_path: Path) -> None:
    """Only days before today have passed."""
    assert read(write_xlsx(tmp_path / "s.xlsx", with_cell("orders", 2, "due", TODAY))).orders[0].due == TODAY


def test_the_fingerprint_is_of_the_rows(tmp_path: Path, intake: Intake) -> None:
    """Other order of tabs, rows and columns, other files: the same. Any other figure: another."""
    random = Random(7)
    tabs = shop()
    names = list(tabs)
    random.shuffle(names)
    mixed = {}
    for name in names:
        head, *rows = tabs[name]
        if name not in ("barrels", "bills"):
            random.shuffle(rows)
        order = random.sample(range(len(head)), len(head))
        mixed[name] = [[row[place] for place in order] for row in [head, *rows]]
    assert read(write_csvs(tmp_path / "mixed", mixed, separator=";")).fingerprint == intake.fingerprint
    assert read(write_xlsx(tmp_path / "mixed.xlsx", mixed)).fingerprint == intake.fingerprint
    more = [[*row, None if at else "note"] for at, row in enumerate(tabs["platings"])]
    columns = {**tabs, "suppliers": [row[::-1] for row in tabs["suppliers"]], "platings": more}
    assert read(write_xlsx(tmp_path / "columns.xlsx", columns)).fingerprint == intake.fingerprint
    other = read(write_xlsx(tmp_path / "other.xlsx", with_cell("counts", 2, "quantity", 13)))
    assert other.fingerprint != intake.fingerprint


def test_offers_are_replaced_one_by_one(tmp_path: Path, intake: Intake) -> None:
    """A new price of one offer leaves the part's other offers standing."""
    rows: Rows = [["supplier", "part", "pack", "price"], ["Far Shore Fittings", "thin CA", 118, 3000],
            ["Saltmarsh Turning", "thin CA", 59, 20]]  # fmt: skip
    fresh = read(write_csvs(tmp_path / "o", {"offers": rows}), known=_known(intake)).catalogue
    both = merged(_known(intake), fresh)
    assert [(offer.supplier, offer.steps[0].price) for offer in both.offers["thin ca"]] == [
        ("Far Shore Fittings", 3000),
        ("Saltmarsh Turning", 2000),
    ]
    assert not troubles(both)


def test_a_load_that_fails_to_name_its_supplier_does_not_guess_prices(tmp_path: Path) -> None:
    """Where the supplier's row is bad, its offers are not read in a wrong currency; where a part's is, no pack is."""
    tabs = with_cell("suppliers", 2, "currency", "XXZ")
    tabs["supplies"][1][2] = "splash"
    found = problems(write_xlsx(tmp_path / "s.xlsx", tabs))
    assert {(place.tab, place.column) for place in found} == {("suppliers", "currency"), ("supplies", "unit")}
