"""`merge`: two names for one thing become one; refused with reasons where they are two things."""

from __future__ import annotations

import shutil
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from inventory.store import open_store

from .conftest import Kitdrawer, after

OLD, NEW, SALT = "Dunlin kit chromium", "Dunlin kit chrome", "Saltmarsh Turning Supplies"
pytestmark = pytest.mark.usefixtures("twice")


@pytest.fixture(scope="session")
def once_twice(loaded: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample with one kit under two names: 3 of it counted, offered, and 2 wanted by an order of its own."""
    return after(loaded, tmp_path_factory.mktemp("twice"), _twice)


@pytest.fixture
def twice(once_twice: Path, store: Path) -> Path:
    """A copy of it, known to every command of this test."""
    return Path(shutil.copy(once_twice, store))


def _twice(kitdrawer: Kitdrawer, folder: Path) -> None:
    sheets = folder / "twice"
    sheets.mkdir()
    (sheets / "platings.csv").write_text("plating\nchromium\n")
    (sheets / "kits.csv").write_text(f"part,family,plating\n{OLD},Dunlin,chromium\n")
    (sheets / "counts.csv").write_text(f"part,quantity,unit cost\n{OLD},3,3.33\n")
    (sheets / "offers.csv").write_text(
        f"supplier,part,pack,price,supplier code\n{SALT},{OLD},1,3.10,SM-9\n{SALT},{OLD},10,29,SM-90\n"
    )
    assert kitdrawer("load", str(sheets), "--yes").code == 0
    assert kitdrawer("rename", "chromium", "chrome plate", "--yes").code == 0
    (sheets / "platings.csv").unlink()
    for name in ("counts.csv", "offers.csv"):
        (sheets / name).unlink()
    (sheets / "kits.csv").write_text(f"part,family,plating\n{OLD},Dunlin,chrome\n")
    assert kitdrawer("load", str(sheets), "--yes").code == 0


def picture(store: Path) -> tuple[Any, ...]:
    """Everything there is."""
    with open_store(store) as found, found.reading() as read:
        book, known = read.book(), read.written()
        there = {key: one for key, one in book.balances.items() if any((one.on_hand, one.to_buy, one.due_in))}
        return (
            there,
            book.lots,
            book.claims,
            book.due,
            dict(book.orders),
            dict(known.parts),
            known.patterns,
            read.offers(),
        )


def of(kitdrawer: Kitdrawer, part: str) -> dict[str, Any]:
    """A part on the shelf; nothing where it is not listed."""
    found = {one["part"]: one for one in kitdrawer("shelf", "--json").json["parts"]}
    one: dict[str, Any] = found.get(part, {})
    return one


def worth(kitdrawer: Kitdrawer, part: str) -> Decimal:
    """What a part cost."""
    found: Decimal = kitdrawer("trace", part, "--json").json["worth"]
    return found


def merged(kitdrawer: Kitdrawer, old: str = OLD, new: str = NEW, code: int = 0) -> dict[str, Any]:
    """Merge them; what is said."""
    answer = kitdrawer("merge", old, new, "--yes", "--json")
    assert answer.code == code, answer.err
    said: dict[str, Any] = answer.json
    return said


def test_all_of_it_goes_over_and_comes_back(kitdrawer: Kitdrawer, twice: Path) -> None:
    """12 at the cost of both; offers of both; the old name means it everywhere; undo parts them to the last coin."""
    before = picture(twice)
    cost = worth(kitdrawer, OLD) + worth(kitdrawer, NEW)
    offers = len(before[-1][OLD.casefold()]) + len(before[-1][NEW.casefold()])
    said = merged(kitdrawer)
    assert (said["lots"], said["offers"]) == (1, 2)
    assert (of(kitdrawer, OLD), of(kitdrawer, NEW)["on_hand"]) == ({}, 12)
    assert worth(kitdrawer, NEW) == worth(kitdrawer, OLD) == cost
    assert len(picture(twice)[-1][NEW.casefold()]) == offers
    assert kitdrawer("took", OLD, "1", "--reason", "broke", "--json", "--yes").json["part"] == NEW
    assert "merged" in kitdrawer("trace", NEW, "--json").out
    assert {one["entry"] for one in kitdrawer("entries", OLD, "--json").json["entries"]} >= {2, 5}
    assert kitdrawer("verify").code == 0
    assert kitdrawer("undo", "--yes").code == kitdrawer("undo", "--yes").code == 0
    assert picture(twice) == before
    assert kitdrawer("verify").code == 0


def test_what_is_set_aside_and_due_goes_over(kitdrawer: Kitdrawer, twice: Path) -> None:
    """Claims on the shelf, on a parcel and to buy are of the other part then; the parcel arrives as that."""
    words = (
        "--pattern",
        "Dunlin pen",
        "--plating",
        "gunmetal",
        "--blank",
        "walnut blank",
        "--by",
        "2027-01-20",
    )
    assert kitdrawer("promise", "Stall 9", *words, "--count", "6", "--yes").code == 3
    assert kitdrawer("placed", "--supplier", SALT, "--yes").code == 0
    held = [one for one in picture(twice)[2] if one.part == "tube 7 x 53"]
    assert {one.account for one in held} >= {"claim", "due claim"}
    sheet = twice.parent / "tubes.csv"
    sheet.write_text("part,outside diameter,length,drill\ntube seven,7.0 mm,53 mm,7 mm\n")
    own = (
        (Path(__file__).resolve().parents[2] / "sample_stock" / "tubes.csv")
        .read_text(encoding="utf-8")
        .splitlines()
    )
    row = next(line for line in own if line.startswith("tube 7 x 53"))
    sheet.write_text("\n".join([own[0], row.replace("tube 7 x 53", "tube seven", 1)]) + "\n")
    assert kitdrawer("load", str(sheet), "--yes").code == 0
    before = picture(twice)
    said = merged(kitdrawer, "tube 7 x 53", "tube seven")
    assert "Stall 9" in said["orders"]
    assert said["due"] >= 1
    now = [one for one in picture(twice)[2] if one.part == "tube seven"]
    assert sorted((one.account, one.quantity) for one in now) == sorted(
        (one.account, one.quantity) for one in held
    )
    assert "tube seven" in kitdrawer("fits", "Dunlin").out
    assert kitdrawer("verify").code == 0
    assert kitdrawer("arrived", "--supplier", SALT, "--complete", "--yes").code == 0
    assert kitdrawer("verify").code == 0
    refused = kitdrawer("undo", str(said["entry"]), "--yes")
    assert refused.code == 1
    assert kitdrawer("undo", "--yes").code == kitdrawer("undo", "--yes").code == 0
    assert picture(twice) == before


@pytest.mark.usefixtures("twice")
def test_sheets_with_the_old_name_are_understood(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Its own row is left out and said; a count of it counts the other; a third name may go into it, too."""
    merged(kitdrawer)
    sheets = tmp_path / "again"
    sheets.mkdir()
    (sheets / "kits.csv").write_text(f"part,family,plating\n{OLD},Dunlin,chrome\n{NEW},Dunlin,chrome\n")
    (sheets / "counts.csv").write_text(f"part,quantity\n{OLD},7\n")
    loaded = kitdrawer("load", str(sheets), "--yes", "--json")
    assert loaded.code == 0, loaded.err
    assert [one["part"] for one in loaded.json["differences"]] == [NEW]
    assert any(OLD in note and NEW in note for note in loaded.json["notes"])
    assert kitdrawer("rename", NEW, "Dunlin set", "--yes").code == 0
    assert kitdrawer("trace", OLD, "--json").json["part"] == "Dunlin set"
    assert kitdrawer("verify").code == 0


def test_the_same_offer_twice_is_one(kitdrawer: Kitdrawer, twice: Path, tmp_path: Path) -> None:
    """Where both have a supplier's very pack, the part's own price stays; undo brings the other back with its steps."""
    sheet = tmp_path / "offers.csv"
    sheet.write_text(f"supplier,part,pack,price,supplier code\n{SALT},{NEW},1,3.50,SM-9\n")
    assert kitdrawer("load", str(sheet), "--yes").code == 0
    before = picture(twice)
    merged(kitdrawer)
    same = [one for one in picture(twice)[-1][NEW.casefold()] if one.code == "SM-9"]
    assert [one.steps[0].price for one in same] == [350]
    assert kitdrawer("undo", "--yes").code == 0
    assert picture(twice) == before


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("walnut blank", NEW, "one is a blank, the other a kit"),
        ("Dunlin kit gunmetal", NEW, "the plating of one is gunmetal, of the other chrome"),
        ("CA thin", "dry strip P320", "the type of one is"),
        ("CA thin", "dry strip P320", "one is counted in ml, the other in strip"),
        ("walnut blank", "ash blank", "the material of one is walnut"),
        ("tube 7 x 53", "tube 7 x 46 pencil", "the length of one is"),
        (NEW, NEW, "are one part"),
        ("Dunlin kit crome", NEW, "Did you mean"),
    ],
)
def test_two_things_are_not_one(kitdrawer: Kitdrawer, old: str, new: str, said: str) -> None:
    """Every reason is named, and nothing booked."""
    before = kitdrawer("entries", "--json").out
    answer = kitdrawer("merge", old, new, "--yes")
    assert (answer.code, said in " ".join(answer.err.split())) == (1, True), answer.err
    assert kitdrawer("entries", "--json").out == before
