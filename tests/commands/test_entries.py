"""`entries`: what was booked, what stands on it, and that `undo` says the same."""

from __future__ import annotations

from typing import Any

import pytest

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")


def told(kitdrawer: Kitdrawer, *words: str) -> dict[int, Any]:
    """The entries a look shows, by number, in its order."""
    return {one["entry"]: one for one in kitdrawer("entries", *words, "--json").json["entries"]}


def story(kitdrawer: Kitdrawer) -> None:
    """Entries 2 to 6: two promises, a hand-over, its undo, a release."""
    for words in (
        ("promise", "S41"),
        ("promise", "S42"),
        ("handed-over", "S41"),
        ("undo",),
        ("release", "S42"),
    ):
        assert kitdrawer(*words, "--yes").code in (0, 3), words


def test_each_entry_with_what_undid_it_and_what_stands_on_it(kitdrawer: Kitdrawer) -> None:
    """Newest first; what is undone says by what; a promise that was released has the release on it."""
    story(kitdrawer)
    found = told(kitdrawer)
    assert list(found) == [6, 5, 4, 3, 2, 1]
    assert {number: one["undone_by"] for number, one in found.items() if one["undone_by"]} == {4: 5}
    assert found[5]["undoes"] == 4
    assert found[3]["stands_on_it"] == [6]
    assert set(found[1]["stands_on_it"]) >= {2}
    assert found[3]["orders"] == ["S42"]
    assert "Dunlin kit gunmetal" in found[3]["parts"]
    assert "Dunlin kit gunmetal" not in found[2]["parts"]


@pytest.mark.cross_check
def test_what_stands_on_an_entry_is_why_undo_refuses_it(kitdrawer: Kitdrawer) -> None:
    """`undo N` without `--yes` refuses just those that are undone or have something on them, and names it."""
    story(kitdrawer)
    for number, one in told(kitdrawer).items():
        answer = kitdrawer("undo", str(number), "--json")
        assert (answer.code == 0) == (not one["stands_on_it"] and one["undone_by"] is None), number
        assert all(f"entry {later}, " in answer.out + answer.err for later in one["stands_on_it"])


def test_an_entry_brought_back_stands_again(kitdrawer: Kitdrawer) -> None:
    """Undone and the undo undone: nothing took it back, and its undo says by what it was."""
    story(kitdrawer)
    assert kitdrawer("undo", "6", "--yes").code == 0
    assert kitdrawer("undo", "7", "--yes").code == 0
    found = told(kitdrawer)
    assert found[6]["undone_by"] is None
    assert found[7]["undone_by"] == 8


def test_of_one_part_or_order_or_since_a_day(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> None:
    """Only what spoke of it; an order of its promise, and of what gave it parts or took them; a day counts itself."""
    story(kitdrawer)
    assert list(told(kitdrawer, "s42")) == [6, 5, 4, 3]  # what S41 let go S42 had waited for
    assert list(told(kitdrawer, "Redshank kit chrome")) == [1]
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-12-01")
    assert kitdrawer("promise", "S43", "--yes").code in (0, 3)
    assert list(told(kitdrawer, "--since", "2026-12-01")) == [7]
    assert list(told(kitdrawer, "--since", "2026-11-28")) == [7, 6, 5, 4, 3, 2, 1]
    assert kitdrawer("entries", "--since", "2026-12-02").out == "Nothing was booked, Tue 1 Dec 2026.\n"
    nobody = kitdrawer("entries", "Dunlin kit crome")
    assert nobody.code == 1
    assert "There is no part or order called “Dunlin kit crome”." in nobody.err
    assert "Dunlin kit chrome" in nobody.err


def test_the_screen_is_a_page_of_the_newest(kitdrawer: Kitdrawer) -> None:
    """The newest on a page no wider than 80 columns, and how to see the rest; `--all` shows it."""
    story(kitdrawer)
    for number in range(6, 24):
        assert kitdrawer("undo", str(number), "--yes").code == 0
    short, whole = kitdrawer("entries"), kitdrawer("entries", "--all")
    rows = [line.split()[0] for line in short.out.splitlines() if line[:3].strip().isdecimal()]
    assert rows == [str(number) for number in range(24, 24 - len(rows), -1)]
    assert (len(rows) > 7, len(short.out.splitlines()) <= 24) == (True, True)
    assert max(map(len, whole.out.splitlines())) <= 80
    assert "All of them: --all." in short.out
    assert "--all" not in whole.out
    assert "undone by 5" in whole.out
    assert "2, 3 and 1 more" in whole.out
    assert short.out.splitlines()[-1] == "Take one back: kitdrawer undo 6"
    assert kitdrawer("entries", "--json").json["more"] is True
