"""Hours by weekday: said, shown, taken back; can-take counts them. 2026-11-28 is a Saturday."""

from __future__ import annotations

from typing import Any

import pytest

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")

PEN = ("can-take", "Dunlin pen", "--plating", "chrome", "--blank", "walnut blank")


def ask(kitdrawer: Kitdrawer, count: int, by: str) -> Any:
    return kitdrawer(*PEN, "--count", str(count), "--by", by, "--json").json


def test_without_hours_nothing_changes(kitdrawer: Kitdrawer) -> None:
    """Nobody said any: parts alone decide."""
    assert "No hours are known" in kitdrawer("hours").out
    told = ask(kitdrawer, 1, "2026-12-03")
    assert (told["verdict"], told["time"]) == ("from the shelf", None)


def test_they_are_said_shown_and_taken_back(kitdrawer: Kitdrawer) -> None:
    """One entry; days off and the last day with it; undo and its undo."""
    words = ("hours", "tue 2, thu 2, sat 5", "--until", "2026-12-24", "--off", "2026-12-08")
    assert kitdrawer(*words, "--yes").code == 0
    told = kitdrawer("hours", "--json").json
    assert told["week"] == {"mon": 0, "tue": 120, "wed": 0, "thu": 120, "fri": 0, "sat": 300, "sun": 0}
    assert (told["off"], told["until"]) == (["2026-12-08"], "2026-12-24")
    screen = kitdrawer("hours").out
    assert "9 h: tue 2, thu 2, sat 5; off Tue 8 Dec; until Thu 24 Dec" in " ".join(screen.split())
    # Saturdays 28, 5, 12, 19: 20 h; Tuesdays 1, 15, 22: 6 h; Thursdays 3, 10, 17, 24: 8 h
    assert "34 h until Thu 24 Dec 2026, none of it promised." in screen
    assert kitdrawer("hours", "--off", "2026-12-12 to 2026-12-13", "--yes").code == 0
    assert kitdrawer("hours", "--json").json["off"] == ["2026-12-08", "2026-12-12", "2026-12-13"]
    kitdrawer("undo", "--yes")
    assert kitdrawer("hours", "--json").json["off"] == ["2026-12-08"]
    assert kitdrawer("hours", "--clear", "--yes").code == 0
    assert kitdrawer("hours", "--json").json["week"] is None
    kitdrawer("undo", "--yes")
    assert kitdrawer("hours", "--json").json["week"]["sat"] == 300
    assert kitdrawer("verify").code == 0


def test_can_take_is_too_late_where_the_time_lacks(kitdrawer: Kitdrawer) -> None:
    """One pen of 35 minutes and 27 to set up on Tuesdays of an hour: the 8th takes what the 1st does not, if two begin.

    Tuesdays of half an hour take no whole piece: it is set up once and broken off, 62 min on the 1st, 8th and 15th.
    """
    kitdrawer("hours", "tue 0.5", "--yes")
    told = ask(kitdrawer, 1, "2026-12-03")
    assert (told["parts"] != [], told["starts"]) == (True, 1)
    assert told["time"] == {"needed": 62, "before": 0, "there": 30, "ready_by": "2026-12-16"}
    assert told["verdict"] == "too late"
    assert told["earliest"] == told["time"]["ready_by"]
    screen = kitdrawer(*PEN, "--count", "1", "--by", "2026-12-03").out
    said = {"2026-12-09": "Wed 9 Dec", "2026-12-16": "Wed 16 Dec"}[told["earliest"]]
    assert screen.startswith(f"TOO LATE for Thu 3 Dec 2026. By the hours ready by {said}.\n")
    assert "there are 30 min until Thu 3 Dec" in " ".join(screen.split())
    why = kitdrawer(*PEN, "--count", "1", "--by", "2026-12-03", "--why").out
    assert "The time lacks: it takes" in why
    assert ask(kitdrawer, 1, told["earliest"])["verdict"] == "from the shelf"


def test_whole_pieces_on_each_evening(kitdrawer: Kitdrawer) -> None:
    """Two starts of 35 with 27 set up: an evening of 90 min takes one, of 100 two."""
    kitdrawer("hours", "tue 1.5", "--yes")
    told = ask(kitdrawer, 2, "2026-12-08")
    assert (told["starts"], told["time"]["needed"]) == (2, 2 * 35 + 27)
    assert told["time"]["ready_by"] == "2026-12-09"  # the 1st and the 8th
    kitdrawer("hours", "tue 1.67", "--yes")
    assert ask(kitdrawer, 2, "2026-12-08")["time"]["ready_by"] == "2026-12-02"


def test_minutes_by_stage_of_the_shop(kitdrawer: Kitdrawer) -> None:
    """Said for stages, one after the other; usual where nobody said any; taken back; set up counts in can-take."""
    assert kitdrawer("hours", "--stages", "turn 20, finish 25", "--set-up", "drill 10", "--yes").code == 0
    kitdrawer("hours", "--stages", "turn 22", "--yes")
    told = {one["stage"]: one for one in kitdrawer("hours", "--json").json["stages"]}
    assert (told["turn"]["minutes"], told["turn"]["minutes_usual"]) == (22, False)
    assert (told["finish"]["minutes"], told["cut"]["minutes"], told["cut"]["minutes_usual"]) == (25, 3, True)
    assert (told["drill"]["setting_up"], told["drill"]["setting_up_usual"]) == (10, False)
    kitdrawer("undo", "--yes")
    assert {one["stage"]: one["minutes"] for one in kitdrawer("hours", "--json").json["stages"]}["turn"] == 20
    kitdrawer("hours", "sat 5", "--yes")
    told = ask(kitdrawer, 1, "2026-12-08")
    assert told["time"]["needed"] == 35 + 27 + 5
    assert {"of": "an evening", "what": ["setting up"]} in told["usual"]
    every = ("cut 1, drill 1, glue 1, trim 1", "turn 1, finish 1, assemble 1, pack 0")
    kitdrawer("hours", "--set-up", ", ".join(every), "--yes")
    told = ask(kitdrawer, 1, "2026-12-08")
    assert told["time"]["needed"] == 35 + 7
    assert "an evening" not in [one["of"] for one in told["usual"]]
    screen = " ".join(kitdrawer("hours").out.split())
    assert "turn 20*, finish" in screen
    assert "Set up cut 1*, drill 1*" in screen
    assert "* yours; the others are usual" in screen


def test_what_is_promised_is_counted_before(kitdrawer: Kitdrawer) -> None:
    """What fitted alone fits no longer; a day later by just the hours that are promised."""
    kitdrawer("hours", "sat 2, sun 2", "--yes")
    alone = ask(kitdrawer, 1, "2026-12-01")
    assert alone["verdict"] == "from the shelf"
    assert alone["time"]["there"] == 240
    wish = ("--pattern", "Godwit seam ripper", "--plating", "chrome", "--blank", "red deer antler")
    kitdrawer("promise", "first", *wish, "--count", "2", "--by", "2026-11-30", "--yes")
    kitdrawer("promise", "S41", "--yes")
    (first, *_) = kitdrawer("hours", "--json").json["promised"]
    told = ask(kitdrawer, 5, "2026-11-30")
    assert told["time"]["before"] == first["minutes"]
    assert told["verdict"] == "too late"
    assert told["time"]["ready_by"] > "2026-12-01"


def test_a_promise_says_so_too(kitdrawer: Kitdrawer) -> None:
    """Before it is agreed to; the hours are no reason to refuse it."""
    kitdrawer("hours", "tue 0.5", "--yes")
    wish = ("--pattern", "Dunlin pen", "--plating", "chrome", "--blank", "walnut blank", "--by", "2026-12-02")
    answer = kitdrawer("promise", "soon", *wish, "--yes")
    assert answer.code == 0
    assert answer.out.startswith("TOO LATE for Wed 2 Dec 2026. By the hours ready by ")


def test_no_hours_are_left_after_the_last_day(kitdrawer: Kitdrawer) -> None:
    """Then no day can be named."""
    kitdrawer("hours", "sat 0.5", "--until", "2026-12-05", "--yes")
    told = ask(kitdrawer, 4, "2026-12-20")
    assert (told["verdict"], told["earliest"], told["time"]["ready_by"]) == ("too late", None, None)
    assert "no day can be named" in told["why"][0]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("hours", "9", "--yes"), "is no weekday with its hours"),
        (("hours", "t 2", "--yes"), "is no weekday with its hours"),
        (("hours", "tue 2, tuesday 3", "--yes"), "is given twice"),
        (("hours", "tue 25", "--yes"), "A day of 25 hours is none."),
        (("hours", "tue 0", "--yes"), "No day has any hours."),
        (("hours", "tue x", "--yes"), "x"),
        (("hours", "tue 2", "--off", "2026-12-24 to 2026-12-20", "--yes"), "is no range of days"),
        (("hours", "tue 2", "--until", "2026-11-01", "--yes"), "is past"),
        (("hours", "--off", "2026-12-24", "--yes"), "No hours are known yet."),
        (("hours", "tue 2", "--clear", "--yes"), "--clear goes alone."),
        (("hours", "--stages", "polish 4", "--yes"), "is no stage with its minutes"),
        (("hours", "--stages", "turn 4, turn 5", "--yes"), "or is there twice"),
        (("hours", "--set-up", "turn 4000", "--yes"), "is no stage with its minutes"),
    ],
)
def test_what_cannot_be_is_said(kitdrawer: Kitdrawer, words: tuple[str, ...], says: str) -> None:
    """In a sentence; nothing is booked."""
    answer = kitdrawer(*words)
    assert answer.code == 1
    assert says in answer.err
    assert kitdrawer("hours", "--json").json["week"] is None
