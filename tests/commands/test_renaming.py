"""`rename`: the past keeps, the old name goes on being understood, and undo puts everything back."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from .conftest import Kitdrawer

OLD, NEW = "Dunlin kit chrome", "Dunlin set chrome"
pytestmark = pytest.mark.usefixtures("store")


def shelf(kitdrawer: Kitdrawer) -> str:
    """All that is there, as text."""
    return kitdrawer("shelf", "--json").out


def same(one: str, other: str) -> bool:
    """Whether two looks at the shelf tell the same, whatever their order."""
    first, second = (json.loads(said)["parts"] for said in (one, other))
    return sorted(map(str, first)) == sorted(map(str, second))


def renamed(kitdrawer: Kitdrawer, old: str = OLD, new: str = NEW, *words: str) -> int:
    """Rename it; the entry's number."""
    answer = kitdrawer("rename", old, new, *words, "--yes", "--json")
    assert answer.code == 0, answer.err
    return int(answer.json["entry"])


def test_a_part_keeps_its_past_and_its_old_name(kitdrawer: Kitdrawer) -> None:
    """Lots, costs and lines are the same under the new name; commands take the old one; undo gives all of it back."""
    before, past = shelf(kitdrawer), kitdrawer("trace", OLD, "--json").out
    number = renamed(kitdrawer)
    assert same(shelf(kitdrawer), before.replace(OLD, NEW))
    assert kitdrawer("trace", OLD, "--json").out == past.replace(f'"{OLD}"', f'"{NEW}"')
    assert kitdrawer("trace", OLD, "--json").out == kitdrawer("trace", NEW, "--json").out
    told = kitdrawer("entries", OLD, "--json").json["entries"]
    assert [one["entry"] for one in told] == [number, 1]
    assert told[0]["parts"] == [NEW]
    took = kitdrawer("took", OLD.upper(), "1", "--reason", "broke", "--json", "--yes").json
    assert took["part"] == NEW
    assert kitdrawer("undo", "--yes").code == kitdrawer("undo", "--yes").code == 0
    assert shelf(kitdrawer) == before
    assert kitdrawer("trace", NEW).code == 1
    assert kitdrawer("verify").code == 0


def test_sheets_with_the_old_name_are_understood(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """A kit's row, an offer and a count under the old name speak of the renamed kit, and it is said; none is new."""
    renamed(kitdrawer)
    parts = len(json.loads(shelf(kitdrawer))["parts"])
    (tmp_path / "kits.csv").write_text(f"part,family,plating,note\n{OLD},Dunlin,chrome,shiny\n")
    (tmp_path / "offers.csv").write_text(f"supplier,part,pack,price\nSaltmarsh Turning Supplies,{OLD},7,20\n")
    (tmp_path / "counts.csv").write_text(f"part,quantity\n{OLD},4\n")
    loaded = kitdrawer("load", str(tmp_path), "--yes", "--json")
    assert loaded.code == 0, loaded.err
    assert any(NEW in note and OLD in note for note in loaded.json["notes"])
    assert [one["part"] for one in loaded.json["differences"]] == [NEW]
    there = {one["part"]: one for one in json.loads(shelf(kitdrawer))["parts"]}
    assert len(there) == parts
    assert there[NEW]["on_hand"] == 4


def test_a_count_sheet_printed_before_is_booked_after(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Paper goes on saying the old name."""
    sheet = tmp_path / "count.csv"
    assert kitdrawer("count", "sheet", "--family", "Dunlin", "--save", str(sheet)).code == 0
    text = sheet.read_text(encoding="utf-8-sig").splitlines()
    at = text[0].split(",").index("counted")
    rows = [line.split(",") for line in text]
    row = next(row for row in rows if OLD in row)
    row[at] = "8"
    sheet.write_text("\n".join(",".join(row) for row in rows), encoding="utf-8")
    renamed(kitdrawer)
    booked = kitdrawer("count", "book", str(sheet), "--as-counted", "--yes", "--json")
    assert booked.code in (0, 3), booked.err
    assert [one["part"] for one in booked.json["differences"]] == [NEW]


@pytest.mark.usefixtures("booked")
def test_finished_pieces_called_after_it_follow(kitdrawer: Kitdrawer) -> None:
    """A piece is called after its pattern, kit and blank, so that the next session finds it under its new name."""
    made = [one["part"] for one in json.loads(shelf(kitdrawer))["parts"] if one["kind"] == "piece"]
    name = next(one for one in made if "olivewood blank" in one)
    answer = kitdrawer("rename", "olivewood blank", "olive square", "--json").json
    assert {"old": name, "new": name.replace("olivewood blank", "olive square")} in answer["with_it"]
    assert "finished pieces" in kitdrawer("rename", "olivewood blank", "olive square").out
    before = shelf(kitdrawer)
    renamed(kitdrawer, "olivewood blank", "olive square")
    now = name.replace("olivewood blank", "olive square")
    after = before.replace('"olivewood blank"', '"olive square"').replace(name, now)
    assert same(shelf(kitdrawer), after)
    assert kitdrawer("undo", "--yes").code == 0
    assert shelf(kitdrawer) == before


def test_a_rename_of_a_rename_stands_on_it(kitdrawer: Kitdrawer) -> None:
    """Both old names find it; the first cannot be undone alone; it may have its first name again."""
    first = renamed(kitdrawer)
    second = renamed(kitdrawer, NEW, "Dunlin box chrome")
    for name in (OLD, NEW):
        assert kitdrawer("trace", name).code == 0
    assert kitdrawer("entries", "--json").json["entries"][1]["stands_on_it"] == [second]
    refused = kitdrawer("undo", str(first), "--yes")
    assert refused.code == 1
    assert f"entry {second}" in refused.err
    third = renamed(kitdrawer, NEW, OLD)
    assert kitdrawer("trace", "Dunlin box chrome", "--json").json["part"] == OLD
    for number in (third, second, first):
        assert kitdrawer("undo", str(number), "--yes").code == 0
    assert kitdrawer("trace", NEW).code == 1
    assert kitdrawer("undo", str(first), "--yes").code == 1
    assert kitdrawer("verify").code == 0


def test_what_a_sheet_changed_since_is_not_taken_back(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """A load may spell the name otherwise; then undo cannot know what it should be, and says so."""
    number = renamed(kitdrawer)
    (tmp_path / "kits.csv").write_text(f"part,family,plating\n{NEW.upper()},Dunlin,chrome\n")
    assert kitdrawer("load", str(tmp_path), "--yes").code == 0
    refused = kitdrawer("undo", str(number), "--yes")
    assert refused.code == 1
    assert "changed again since" in refused.err


def test_a_name_that_something_else_has_since_is_not_given_back(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """A sheet of before the undo brings a kit of the old name; with it there the rename stays, and that is said."""
    number = renamed(kitdrawer)
    back = kitdrawer("undo", str(number), "--yes", "--json").json["entry"]
    (tmp_path / "kits.csv").write_text(f"part,family,plating\n{NEW},Dunlin,chrome\n")
    assert kitdrawer("load", str(tmp_path), "--yes").code == 0
    before = shelf(kitdrawer)
    refused = kitdrawer("undo", str(back), "--yes")
    assert (refused.code, f"something else is called “{NEW}” since" in " ".join(refused.err.split())) == (
        1,
        True,
    )
    assert shelf(kitdrawer) == before


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ("Dunlin", "Dunlins", "family"),
        ("Dunlin pen", "Dunlin ball pen", "pattern"),
        ("gunmetal", "gun metal", "plating"),
        ("walnut", "European walnut", "material"),
        ("Saltmarsh Turning Supplies", "Saltmarsh Supplies", "supplier"),
        ("S42", "S42 harbour", "order"),
    ],
)
def test_every_kind_of_thing(kitdrawer: Kitdrawer, old: str, new: str, what: str) -> None:
    """What the order needs is the same, its names changed; the sample still loads, and undo gives it all back."""
    before = kitdrawer("can-take", "--order", "S42", "--json")
    words = ("--what", what) if what == "family" else ()
    assert kitdrawer("rename", old, new, *words, "--json").json["what"] == what
    renamed(kitdrawer, old, new, *words)
    now = kitdrawer("can-take", "--order", "S42", "--json")
    assert now.code == before.code
    assert len(now.out.splitlines()) == len(before.out.splitlines())
    sample = Path(__file__).resolve().parents[2] / "sample_stock"
    assert kitdrawer("load", str(sample), "--yes", "--anew").code == 0
    assert kitdrawer("undo", "--yes").code == kitdrawer("undo", "--yes").code == 0
    assert kitdrawer("can-take", "--order", "S42", "--json").out == before.out
    assert kitdrawer("verify").code == 0


def test_a_wrong_code(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """All packs of the code get the new one; a sheet with the old code changes that offer and makes none."""
    renamed(kitdrawer, "SM-1021", "SM-1012")
    sheet = "supplier,part,pack,price,supplier code\nSaltmarsh Turning Supplies,Dunlin kit gunmetal,1,3.95,SM-1021\n"
    (tmp_path / "offers.csv").write_text(sheet)
    assert "SM-1012" in kitdrawer("load", str(tmp_path), "--yes").out
    assert renamed(kitdrawer, "SM-1012", "SM-1013", "--what", "code")
    assert kitdrawer("rename", "SM-1021", "SM-9").code == 1
    assert kitdrawer("undo", "--yes").code == 0
    assert kitdrawer("verify").code == 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((OLD, "Dunlin kit gunmetal"), "There is a part called “Dunlin kit gunmetal” already"),
        ((OLD, "Dunlin pen"), "There is a pattern called “Dunlin pen” already"),
        ((OLD, OLD), "called “Dunlin kit chrome” already"),
        ((OLD, "the kit"), "meaning of its own"),
        ((OLD, " "), "no name here"),
        (("Dunlin kit crome", NEW), "Did you mean “Dunlin kit chrome”"),
        ((OLD, NEW, "--what", "drawer"), "“drawer” is no kind of thing"),
        ((OLD, NEW, "--what", "supplier"), "There is no supplier called"),
        ((OLD, NEW, "--what", "code"), "There is no code called"),
    ],
)
def test_what_is_refused(kitdrawer: Kitdrawer, words: tuple[str, ...], said: str) -> None:
    """One sentence with what to do, and nothing booked."""
    answer = kitdrawer("rename", *words, "--yes")
    assert answer.code == 1
    assert said in " ".join(answer.err.split())
    assert [one["entry"] for one in kitdrawer("entries", "--json").json["entries"]] == [1]


def test_a_name_of_several_things(kitdrawer: Kitdrawer) -> None:
    """An order called like a family has to be told from it; a name once had is nobody else's."""
    renamed(kitdrawer, "S42", "Dunlin")
    answer = kitdrawer("rename", "Dunlin", "Other", "--yes")
    assert (answer.code, "--what family" in answer.err) == (1, True)
    assert renamed(kitdrawer, "Dunlin", "Other", "--what", "order")
    taken = kitdrawer("rename", "S41", "S42", "--yes")
    assert "which is “Other” now" in " ".join(taken.err.split())


@pytest.mark.usefixtures("booked")
def test_a_finished_piece_is_called_after_what_it_is(kitdrawer: Kitdrawer) -> None:
    """Its name is not one's own to choose."""
    made = [one["part"] for one in json.loads(shelf(kitdrawer))["parts"] if one["kind"] == "piece"]
    assert "its name follows" in " ".join(kitdrawer("rename", made[0], "My pen", "--yes").err.split())


def test_two_who_book_are_told_apart(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> None:
    """Who booked is kept; the screen says it where there are several."""
    assert "  By" not in kitdrawer("entries").out
    monkeypatch.setenv("LOGNAME", "ann")
    renamed(kitdrawer)
    assert kitdrawer("entries", "--json").json["entries"][0]["by"] == "ann"
    *_, heading, _, newest = kitdrawer("entries").out.partition("undo")[0].splitlines()[:6]
    assert heading.endswith("  By")
    assert "ann" in newest


def test_a_user_without_a_name(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> None:
    """A number in a container: nobody is named."""

    def nobody() -> str:
        raise KeyError("getpwuid(): uid not found: 4711")

    monkeypatch.setattr("inventory.store.commit.who.getuser", nobody)
    renamed(kitdrawer)
    assert kitdrawer("entries", "--json").json["entries"][0]["by"] is None
