"""`merge` of suppliers, platings and patterns: all that is of the one is the other's, or it is refused with reasons."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import text

from inventory.store import open_store

from .conftest import Kitdrawer

SALT, TWIN = "Saltmarsh Turning Supplies", "Saltmarsh"
WISH = ("--pattern", "Dunlin pen", "--blank", "walnut blank", "--by", "2027-01-20", "--count", "6")
pytestmark = pytest.mark.usefixtures("store")


def told(kitdrawer: Kitdrawer, folder: Path, **sheets: str) -> None:
    """Load these rows."""
    place = folder / f"told {len(list(folder.iterdir()))}"
    place.mkdir()
    for name, rows in sheets.items():
        (place / f"{name}.csv").write_text(rows, encoding="utf-8")
    answer = kitdrawer("load", str(place), "--yes")
    assert answer.code == 0, answer.err


def picture(store: Path) -> dict[str, Any]:
    """Every row of every table that a document may change, and what is there, due and set aside."""
    names = "supplier offer price_step kit plating plating_substitute order_plating customer_order bill_line piece "
    names += "old_name part"
    with open_store(store) as found, found.reading() as read:
        rows = {name: read.connection.execute(text(f"SELECT * FROM {name}")) for name in names.split()}
        own: dict[str, Any] = {name: sorted(map(repr, some)) for name, some in rows.items()}
        book = read.book()
        due = [(one.supplier, one.part, one.quantity, one.cost, one.claimed) for one in book.due]
        return own | {"due": due, "lots": book.lots, "claims": sorted(map(repr, book.claims))}


def merged(kitdrawer: Kitdrawer, *words: str) -> dict[str, Any]:
    answer = kitdrawer("merge", *words, "--yes", "--json")
    assert answer.code == 0, answer.err
    said: dict[str, Any] = answer.json
    return said


@pytest.fixture
def two_suppliers(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> Path:
    """A supplier under two names: the twin has an offer of its own, the very same one, and a parcel on its way."""
    told(
        kitdrawer,
        tmp_path,
        suppliers=f"supplier,lead days,postage\n{TWIN},4,5.90\n",
        offers=(
            "supplier,part,pack,price,supplier code\n"
            f"{TWIN},Dunlin kit chrome,20,50,TW-20\n{TWIN},walnut blank,1,1.00,\n{SALT},walnut blank,1,1.20,\n"
        ),
    )
    words = ("Stall 9", *WISH, "--plating", "chrome")
    assert kitdrawer("promise", *words, "--yes").code in (0, 3)
    sheet = tmp_path / "list.csv"
    sheet.write_text(f"supplier,part,pack,packs,price\n{TWIN},walnut blank,1,9,1.00\n", encoding="utf-8")
    assert kitdrawer("placed", str(sheet), "--yes").code == 0
    return store


def test_a_supplier_takes_its_offers_and_parcels_along(
    kitdrawer: Kitdrawer, two_suppliers: Path, tmp_path: Path
) -> None:
    """Offers once each, what is due from it, the name in sheets and commands; undo takes all of it back."""
    before = picture(two_suppliers)
    said = merged(kitdrawer, TWIN, "into", SALT)
    assert (said["what"], said["due"], said["offers"]) == ("supplier", 1, 2)
    assert any("lead days" in note for note in said["notes"])
    now = picture(two_suppliers)
    assert {row[0] for row in now["due"]} == {SALT}
    assert sum(row[3] for row in now["due"]) == sum(row[3] for row in before["due"])
    assert len(now["offer"]) == len(before["offer"]) - 1
    assert kitdrawer("verify").code == 0
    assert f'"{TWIN}"' not in kitdrawer("due-in", "--json").out
    again = tmp_path / "again"
    again.mkdir()
    (again / "suppliers.csv").write_text(f"supplier,lead days\n{TWIN},9\n", encoding="utf-8")
    (again / "offers.csv").write_text(
        f"supplier,part,pack,price,supplier code\n{TWIN},ash blank,7,9.00,TW-7\n", encoding="utf-8"
    )
    loaded = kitdrawer("load", str(again), "--yes", "--json")
    assert loaded.code == 0, loaded.err
    assert any(TWIN in note and SALT in note for note in loaded.json["notes"])
    assert kitdrawer("arrived", "--supplier", TWIN, "--complete", "--yes").code == 0
    assert kitdrawer("verify").code == 0
    refused = kitdrawer("undo", str(said["entry"]), "--yes")
    assert refused.code == 1, refused.out
    for _ in range(3):
        assert kitdrawer("undo", "--yes").code == 0
    assert picture(two_suppliers)["due"] == before["due"]
    assert picture(two_suppliers)["supplier"] == before["supplier"]
    assert kitdrawer("verify").code == 0


def test_the_undo_of_a_supplier_leaves_no_trace(kitdrawer: Kitdrawer, two_suppliers: Path) -> None:
    """Every row is as it was."""
    before = picture(two_suppliers)
    merged(kitdrawer, TWIN, SALT)
    assert kitdrawer("undo", "--yes").code == 0
    assert picture(two_suppliers) == before
    assert kitdrawer("verify").code == 0


def test_a_supplier_merged_twice_over_is_the_last(kitdrawer: Kitdrawer, two_suppliers: Path) -> None:
    """Of three names the first finds the third; the name of what was merged is free for nobody."""
    merged(kitdrawer, TWIN, SALT)
    merged(kitdrawer, SALT, "Oystershell Kits")
    assert {row[0] for row in picture(two_suppliers)["due"]} == {"Oystershell Kits"}
    answer = kitdrawer("rename", "Oystershell Kits", TWIN, "--yes")
    assert (answer.code, "was merged into" in answer.err) == (1, True)
    assert kitdrawer("rename", TWIN, "Salt and shell", "--yes").code == 0
    assert {row[0] for row in picture(two_suppliers)["due"]} == {"Salt and shell"}
    assert kitdrawer("arrived", "--supplier", SALT, "--complete", "--yes").code == 0
    assert kitdrawer("verify").code == 0


def test_a_plating_takes_its_kits_and_wishes_along(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """Kits of it are of the other; lists that named both name it once; kits that are twins then are named."""
    told(
        kitdrawer,
        tmp_path,
        platings="plating,substitutes\nchromium,chrome; rhodium\nrhodium,chromium\nchrome,\n",
        kits="part,family,plating\nDunlin set chromium,Dunlin,chromium\n",
    )
    words = ("Fair", *WISH, "--plating", "chromium", "--or-plating", "chrome")
    assert kitdrawer("promise", *words, "--yes").code in (0, 3)
    before = picture(store)
    said = merged(kitdrawer, "chromium", "into", "chrome")
    assert (said["what"], said["orders"], said["follow"]) == ("plating", ["Fair"], ["Dunlin set chromium"])
    assert (said["lots"], said["due"], said["offers"]) == (0, 0, 0)
    assert any('merge "Dunlin set chromium" into "Dunlin kit chrome"' in note for note in said["notes"])
    listed = kitdrawer("orders", "Fair", "--json")
    assert listed.code in (0, 3), listed.err
    assert "chromium" not in json.dumps(listed.json, default=str).replace("set chromium", "")
    assert kitdrawer("can-take", *WISH[1:2], "--plating", "chromium", *WISH[2:], "--json").code in (0, 3)
    merged(kitdrawer, "Dunlin set chromium", "Dunlin kit chrome")
    assert kitdrawer("verify").code == 0
    assert kitdrawer("undo", "--yes").code == kitdrawer("undo", "--yes").code == 0
    assert picture(store) == before
    assert kitdrawer("verify").code == 0


def test_a_plating_that_stood_in_for_itself_under_another_name(
    kitdrawer: Kitdrawer, store: Path, tmp_path: Path
) -> None:
    """Chromium stood in for chrome: nothing does once they are one. Elsewhere chrome stands in in its place, once."""
    platings = (
        "plating,substitutes\nchromium,\nchrome,chromium; rhodium\nrhodium,gunmetal; chromium; chrome\n"
    )
    told(kitdrawer, tmp_path, platings=platings)
    merged(kitdrawer, "chromium", "into", "chrome")
    with open_store(store) as found, found.reading() as read:
        said = {one.name: one.substitutes for one in read.catalogue().platings.values()}
    assert (said["chrome"], said["rhodium"]) == (("rhodium",), ("gunmetal", "chrome"))


@pytest.fixture
def two_patterns(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> Path:
    """A pattern under two names, with the same bill; pieces of either were made, and one is wanted."""
    own = (Path(__file__).resolve().parents[2] / "sample_stock" / "bills.csv").read_text(encoding="utf-8")
    head, *lines = own.splitlines()
    mine = [
        line.replace("Dunlin pen,", "Dunlin biro,", 1) for line in lines if line.startswith("Dunlin pen,")
    ]
    told(
        kitdrawer,
        tmp_path,
        patterns="pattern,family,minutes\nDunlin biro,Dunlin,40\n",
        bills="\n".join([head, *mine]) + "\n",
    )
    for name in ("Dunlin biro", "Dunlin pen"):
        made = kitdrawer("made", name, "--blank", "walnut blank", "--plating", "chrome", "--yes")
        assert made.code in (0, 3), made.err
    words = ("Fair", "--pattern", "Dunlin biro", *WISH[2:], "--plating", "chrome")
    assert kitdrawer("promise", *words, "--yes").code in (0, 3)
    return store


def test_a_pattern_takes_its_orders_and_pieces_along(kitdrawer: Kitdrawer, two_patterns: Path) -> None:
    """Finished pieces of both are one part, its orders are of the other, what was learned stays as it is."""
    before, losses = picture(two_patterns), kitdrawer("losses", "--json").json
    said = merged(kitdrawer, "Dunlin biro", "Dunlin pen")
    assert (said["what"], said["orders"], len(said["follow"])) == ("pattern", ["Fair"], 1)
    assert (said["lots"], said["due"], said["offers"]) == (0, 0, 0)
    assert any("40 min" in note for note in said["notes"])
    assert kitdrawer("losses", "--json").json == losses
    shelf = {one["part"]: one["on_hand"] for one in kitdrawer("shelf", "--all", "--json").json["parts"]}
    pieces = {name: many for name, many in shelf.items() if name.startswith("Dunlin") and ", of " in name}
    assert list(pieces.values()) == [2], pieces
    assert kitdrawer("plan", "--on", "2026-11-28", "--json", "--yes").code in (0, 3)
    assert kitdrawer("verify").code == 0
    assert kitdrawer("undo", "--yes").code == kitdrawer("undo", "--yes").code == 0
    assert picture(two_patterns) == before
    assert kitdrawer("verify").code == 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((SALT, "Far Reach Fittings"), "the prices of one are in EUR, of the other in USD"),
        (("Dunlin pen", "Godwit seam ripper"), "the family of one is Dunlin, of the other Godwit"),
        (("Dunlin pen", "Dunlin gift pen"), "only one of their bills has"),
        ((SALT, SALT), "are one supplier"),
        (("walnut", "ash"), "“walnut” is a material"),
        ((SALT, "Oystershel Kits"), "Did you mean"),
        ((SALT, "chrome"), "supplier"),
        (("chrome", "rhodium", "--what", "family"), "cannot be merged"),
    ],
)
def test_two_things_are_not_one(kitdrawer: Kitdrawer, words: tuple[str, ...], said: str) -> None:
    """Every reason is named, and nothing booked."""
    before = kitdrawer("entries", "--json").out
    answer = kitdrawer("merge", *words, "--yes")
    assert (answer.code, said in " ".join(answer.err.split())) == (1, True), answer.err
    assert kitdrawer("entries", "--json").out == before


def test_a_part_and_a_pattern_of_one_name_are_told_apart(kitdrawer: Kitdrawer) -> None:
    """A part is meant where both names are parts', without a word more."""
    assert "plating of one" in kitdrawer("merge", "Dunlin kit gunmetal", "Dunlin kit chrome", "--yes").err


@pytest.mark.parametrize("came", ["part", "due", "offer"])
def test_a_merge_is_not_brought_back_over_what_came_since(
    kitdrawer: Kitdrawer, two_suppliers: Path, tmp_path: Path, came: str
) -> None:
    """What is there of the old one since the undo would be left behind: it is said, and nothing is booked."""
    told(kitdrawer, tmp_path, kits="part,family,plating\nDunlin set chrome,Dunlin,chrome\n")
    names = ("Dunlin set chrome", "Dunlin kit chrome") if came == "part" else (TWIN, SALT)
    entry = merged(kitdrawer, *names)["entry"]
    undone = kitdrawer("undo", "--yes", "--json").json["entry"]
    if came == "part":
        assert kitdrawer("found", "Dunlin set chrome", "3", "--yes").code == 0
    elif came == "due":
        sheet = tmp_path / "more.csv"
        sheet.write_text(f"supplier,part,pack,packs,price\n{TWIN},ash blank,1,3,1.00\n", encoding="utf-8")
        assert kitdrawer("placed", str(sheet), "--yes").code == 0
    else:
        offers = f"supplier,part,pack,price,supplier code\n{TWIN},ash blank,1,1.00,TW-1\n"
        told(kitdrawer, tmp_path, offers=offers)
    before = picture(two_suppliers)
    refused = kitdrawer("undo", str(undone), "--yes")
    assert (refused.code, "there is something of" in refused.err) == (1, True), (entry, refused.err)
    assert picture(two_suppliers) == before
    assert kitdrawer("verify").code == 0
