"""Handing over, whole or in part: what is drawn, what was lost on the way, what is not taken for made."""

from __future__ import annotations

from pathlib import Path

import pytest

from .conftest import Answer, Kitdrawer

pytestmark = pytest.mark.usefixtures("store")


def test_handing_over_draws_the_bill_and_ends_the_claims(kitdrawer: Kitdrawer) -> None:
    """Two pieces take two kits, first in, first out; nothing stays claimed for them."""
    assert "not promised" in kitdrawer("handed-over", "S41", "--yes").err
    kitdrawer("promise", "S41", "--yes")
    answer = kitdrawer("handed-over", "S41", "--yes")
    assert answer.code == 0
    rows = {row["part"]: row for row in kitdrawer("shelf", "--json").json["parts"]}
    assert rows["Godwit kit chrome"]["on_hand"] == 6
    assert all(row["claimed"] == 0 for row in rows.values())
    assert "is handed over" in kitdrawer("can-take", "--order", "S41").err
    assert kitdrawer("handed-over", "S41", "--yes").code == 1
    assert kitdrawer("verify").code == 0


def test_losses_on_the_way_are_drawn_up_to_their_stage(kitdrawer: Kitdrawer) -> None:
    """One piece lost at turning took its tube and not its kit."""
    kitdrawer("promise", "S41", "--yes")
    before = {row["part"]: row["on_hand"] for row in kitdrawer("shelf", "--json").json["parts"]}
    kitdrawer("handed-over", "S41", "--lost", "turn=1", "--yes")
    after = {row["part"]: row["on_hand"] for row in kitdrawer("shelf", "--json").json["parts"]}
    assert before["Godwit kit chrome"] - after["Godwit kit chrome"] == 2
    assert before["tube ripper 57"] - after["tube ripper 57"] == 3


@pytest.mark.parametrize("said", ["turn", "turn=x", "fly=1", "turn=-1"])
def test_losses_nobody_can_read(kitdrawer: Kitdrawer, said: str) -> None:
    """A loss has a stage and a number."""
    kitdrawer("promise", "S41", "--yes")
    assert kitdrawer("handed-over", "S41", "--lost", said, "--yes").code == 1


def test_using_more_than_the_book_holds_is_booked_as_found(kitdrawer: Kitdrawer) -> None:
    """The book may be wrong about the shelf, never inconsistent: the part is to be counted."""
    kitdrawer("promise", "S42", "--yes")
    answer = kitdrawer("handed-over", "S42", "--yes")
    assert "Count it tube 7 x 53: the book holds 7 too few; booked as found" in " ".join(answer.out.split())
    rows = {row["part"]: row for row in kitdrawer("shelf", "--json").json["parts"]}
    assert rows["Dunlin kit gunmetal"]["on_hand"] == 0
    assert rows["Dunlin kit gunmetal"]["to_count"] is True
    assert kitdrawer("verify").code == 0


@pytest.fixture
def part_made(kitdrawer: Kitdrawer, store: Path) -> Path:
    """S41 wants two rippers, and one is booked as made."""
    assert kitdrawer("promise", "S41", "--yes").code == 0
    assert kitdrawer("plan", "S41", "--on", "2026-11-28", "--yes").code == 0
    sheet = store.parent / "pieces.csv"
    sheet.write_text("row,good\n1,1\n", encoding="utf-8")
    assert kitdrawer("weekend", "book", str(sheet), "--session", "2026-11-28", "--yes").code == 0
    return store


def test_what_was_never_booked_as_made_is_not_assumed(kitdrawer: Kitdrawer, part_made: Path) -> None:
    """Both ways are named; each of them works, and `orders` says what is out."""
    assert part_made.exists()
    refused = kitdrawer("handed-over", "S41", "--yes")
    said = " ".join(refused.err.split())
    assert refused.code == 1
    for text in ("1 of 2 pieces of S41 was never booked as made", "--count 1", "--made-now", "weekend book"):
        assert text in said
    first = kitdrawer("handed-over", "S41", "--count", "1", "--yes", "--json")
    assert (first.code, len(first.json["drawn"])) == (0, 1)
    assert "1 of 2 handed over" in kitdrawer("orders", "S41").out
    (row,) = kitdrawer("orders", "S41", "--json").json["orders"]
    assert (row["state"], row["count"], row["handed_over"], row["due"]) == ("promised", 2, 1, "2026-12-12")
    assert (
        kitdrawer("handed-over", "S41", "--yes").code == 0
    )  # nothing of what is left is finished or planned
    (row,) = kitdrawer("orders", "S41", "--json").json["orders"]
    assert (row["state"], row["count"], row["handed_over"]) == ("handed over", 2, 2)
    assert kitdrawer("verify").code == 0


def test_it_is_asked_where_somebody_is_there(
    kitdrawer: Kitdrawer, part_made: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A yes uses the parts; a no refuses with both ways."""
    assert part_made.exists()
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    asked: list[str] = []

    def answer(*, yes: bool) -> Answer:
        def confirm(question: str, **_: object) -> bool:
            asked.append(question)
            return yes

        monkeypatch.setattr("typer.confirm", confirm)
        return kitdrawer("handed-over", "S41")

    assert "--made-now" in answer(yes=False).err
    done = answer(yes=True)
    assert "Booked (entry" in done.out
    assert "Made now, without a session: 1 of 2 pieces of S41" in " ".join(done.out.split())
    assert asked == [asked[0], asked[0], "Book it as handed over?"]


def test_a_planned_order_is_not_taken_for_made(kitdrawer: Kitdrawer, store: Path) -> None:
    """Its session is still to be booked; `--made-now` says otherwise."""
    assert store.exists()
    kitdrawer("promise", "S41", "--yes")
    kitdrawer("plan", "S41", "--on", "2026-11-28", "--yes")
    refused = kitdrawer("handed-over", "S41", "--yes", "--json")
    assert (refused.code, refused.json["error"]["kind"]) == (1, "never made")
    assert "The session of 2026-11-28 is planned" in refused.json["error"]["message"]
    assert kitdrawer("handed-over", "S41", "--made-now", "--yes").code == 0


def test_more_than_are_open(kitdrawer: Kitdrawer, part_made: Path) -> None:
    """How many there are is said."""
    assert part_made.exists()
    assert "from 1 to 2" in kitdrawer("handed-over", "S41", "--count", "3", "--yes").err
