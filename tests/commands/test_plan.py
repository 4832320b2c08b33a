"""`plan` on the command line: what it shows, what it refuses, what it tells programs."""

from __future__ import annotations

from pathlib import Path

import pytest

from .conftest import Kitdrawer

SATURDAY, SUNDAY = "2026-11-28", "2026-11-29"
STALL = "Lapwing key ring, gunmetal, ash blank, 2"


@pytest.fixture
def promised(both_promised: Path) -> Path:
    """Two orders promised."""
    return both_promised


def test_what_a_plan_shows(kitdrawer: Kitdrawer, promised: Path) -> None:
    """Pieces, what is short or may run out, cuts with measured blanks named, pots, what to lay out and to mind."""
    assert promised.exists()
    answer = kitdrawer("plan", "--on", SATURDAY, "--yes")
    said = " ".join(answer.out.split())
    assert answer.code == 3
    for text in (
        "SHORT: 9 × tube 7 x 53 and 3 × Dunlin kit gunmetal; buy first.",
        "Sat 28 Nov 2026: start 10 to get 8 good, about 5 h 47 min.",
        "May lack dry strip P320 (28 %, after 16); accelerator (28 %, after 13)",
        "Cut antler B in 2; antler F in 1; 7 walnut in 1",
        "epoxy 5-minute: 4 pots of 3 ml, up to 5 tubes each, within 5 min",
        "Turn bushings Godwit, Dunlin; dry strip P120 6",
        "kitdrawer weekend sheet 2026-11-28 --save 2026-11-28.xlsx",
    ):
        assert text in said
    assert len(answer.out.splitlines()) <= 24
    assert max(map(len, answer.out.splitlines())) <= 80


def test_a_tool_that_is_missing_is_said_first(kitdrawer: Kitdrawer, promised: Path) -> None:
    """Nothing is said not to be short where a drill the work needs is not there; once it is, nothing is."""
    assert promised.exists()
    words = ("plan", "--on", SATURDAY, "--stall", "Avocet pen, chrome, olivewood blank, 1")
    said = " ".join(kitdrawer(*words).out.split())
    assert "1 tool is missing: drill 27/64." in said
    assert "Nothing is short" not in said
    assert kitdrawer("found", "drill 27/64", "1", "--yes").code == 0
    assert "Nothing is short." in " ".join(kitdrawer(*words).out.split())


def test_what_is_behind_the_doors_of_a_plan(kitdrawer: Kitdrawer, promised: Path) -> None:
    """Every amount to the thousandth, each cut with what is left over; chances, cautions and hours."""
    assert promised.exists()
    every = " ".join(kitdrawer("plan", "--on", SATURDAY, "--all").out.split())
    for text in (
        "red deer antler “antler B”: 2 for S41, 1 mm left over",
        "4 pots of epoxy 5-minute: up to 5 tubes each",
        "to be used within 5 minutes",
        "Pack felt sleeve: 8; care card: 8",
        "strips",
    ):
        assert text in every
    for row in kitdrawer("plan", "--on", SATURDAY, "--json").json["sessions"][0]["lay_out"]:
        assert row["what"] in every
    why = " ".join(kitdrawer("plan", "--on", SATURDAY, "--why").out.split())
    assert "82 % for all of them" in why
    assert "The price of 24.00 EUR a piece is under the lowest sensible" in why


def test_sessions_by_hours(kitdrawer: Kitdrawer, promised: Path) -> None:
    """Two days of four and a half hours hold both orders; in three hours of each not all of the second has room.

    270 min less 27 set up hold 3 × 25 and 4 × 35, the other evening 3 × 35. In 180 min are 3 × 25 and 2 × 35, in the
    second 4 × 35: one start of seven is left.
    """
    assert promised.exists()
    words = ["plan", "--on", SUNDAY, "--on", SATURDAY, "--json"]
    told = kitdrawer(*words, "--hours", "4.5").json
    assert [[(row["order"], row["starts"]) for row in one["pieces"]] for one in told["sessions"]] == [
        [("S41", 3), ("S42", 4)],
        [("S42", 3)],
    ]
    told = kitdrawer(*words, "--hours", "3").json
    assert [[(row["order"], row["starts"]) for row in one["pieces"]] for one in told["sessions"]] == [
        [("S41", 3), ("S42", 2)],
        [("S42", 4)],
    ]
    (note,) = told["notes"]
    assert note.startswith("S42: ")
    assert note.endswith("does not fit: give more hours or days.")


def test_the_usual_evenings(kitdrawer: Kitdrawer, promised: Path) -> None:
    """What fits is planned, what does not is said with the next evening that takes it; without --on all evenings."""
    assert promised.exists()
    assert (
        kitdrawer("plan", "--until", "2026-12-12", "--json").json["error"]["message"].startswith("No hours")
    )
    kitdrawer("hours", "tue 2, thu 2, sat 5", "--yes")
    (one,) = (told := kitdrawer("plan", "--on", SATURDAY, "--json").json)["sessions"]
    # 300 min: 3 × 25 + 5 × 35 + 27 set up = 277
    assert [(row["order"], row["starts"], row["wanted"]) for row in one["pieces"]] == [
        ("S41", 3, 2),
        ("S42", 5, 4),
    ]
    assert (one["minutes"], one["setting_up"]) == (277, 27)
    assert told["notes"] == ["S42: 4 of 6 on Sat 2026-11-28; 2 on Tue 2026-12-01, not planned yet."]
    told = kitdrawer("plan", "--json").json
    assert [one["session"] for one in told["sessions"]] == ["2026-11-28", "2026-12-01"]
    assert told["notes"] == ["S42: 4 of 6 on Sat 2026-11-28, 2 on Tue 2026-12-01."]
    assert {"of": "an evening", "what": ["setting up"]} in told["usual"]
    assert kitdrawer("plan", "--until", "2026-12-12", "--on", SATURDAY).code == 1
    assert (
        "There are no hours until"
        in kitdrawer("hours", "mon 3", "--yes").out + kitdrawer("plan", "--until", SATURDAY).err
    )


def test_the_rest_is_planned_another_day(kitdrawer: Kitdrawer, promised: Path) -> None:
    """A second plan takes what the first left; each session's sheet asks for its own part; verify finds nothing."""
    assert promised.exists()
    kitdrawer("hours", "tue 2, thu 2, sat 5", "--yes")
    assert kitdrawer("plan", "--on", SATURDAY, "--yes").code in (0, 3)
    (one,) = (told := kitdrawer("plan", "--json").json)["sessions"]
    assert (one["session"], [(row["order"], row["starts"], row["wanted"]) for row in one["pieces"]]) == (
        "2026-12-01",
        [("S42", 2, 2)],
    )
    assert told["notes"] == ["S41 is planned already, for 2026-11-28."]
    assert kitdrawer("plan", "--yes").code in (0, 3)
    assert "nothing to plan" in kitdrawer("plan", "--json").json["error"]["message"]
    assert kitdrawer("verify").code == 0


@pytest.mark.parametrize(
    ("hours", "said"), [((), "2026-11-28"), (("--hours", "5"), "S42: 4 of 6 on Sat 2026-11-28")]
)
def test_a_day_without_usual_hours(
    kitdrawer: Kitdrawer, promised: Path, hours: tuple[str, ...], said: str
) -> None:
    """It is planned as long as it takes, and said; --hours says how long it is."""
    assert promised.exists()
    kitdrawer("hours", "tue 2", "--yes")
    notes = kitdrawer("plan", "--on", SATURDAY, *hours, "--json").json["notes"]
    assert said in " ".join(notes)
    assert ("No hours are known of Sat 2026-11-28; --hours says how long it is." in notes) is not bool(hours)


def test_what_programs_are_told(kitdrawer: Kitdrawer, promised: Path) -> None:
    """Exact quantities, chances between 0 and 1, cuts that give every start; booked only with --yes."""
    assert promised.exists()
    (one,) = kitdrawer("plan", "--on", SATURDAY, "--json").json["sessions"]
    starts = {row["order"]: row["starts"] for row in one["pieces"]}
    assert starts == {"S41": 3, "S42": 7}
    chances = [float(row["odds"]) for row in one["pieces"]]
    assert min(chances) >= 0.9, "the confidence is each order's"
    assert chances[0] * chances[1] == pytest.approx(float(one["odds_of_all"]), abs=0.02)
    cut: dict[str, int] = {}
    for each in one["cuts"]:
        for piece in each["pieces"]:
            cut[piece["order"]] = cut.get(piece["order"], 0) + piece["pieces"] * each["blanks"]
    assert cut == starts
    assert all(0 <= part["odds"] <= 1 for part in one["parts"])
    (mix,) = one["mixes"]
    assert (mix["mixes"], mix["tubes"], mix["minutes"]) == (4, 5, 5)
    assert kitdrawer("weekend", "sheet").code == 1
    assert kitdrawer("plan", "--on", SATURDAY, "--json", "--yes").code == 3


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--on", "2026-11-27"], "is past; today is 2026-11-28"),
        (["S46"], "is not promised: it is an enquiry"),
        (["S99"], "is not in the book"),
        (["--stall", "Dunlin pen, chrome"], "does not say what the stall is to get"),
        (["--stall", "Dunlin pen, chrome, walnut blank, some"], "does not say what"),
        (["--stall", "Redshank stopper, gunmetal, olivewood blank wide, 2"], "cannot be made for the stall"),
        (["--stall", "Dunlin pen, copper, walnut blank, 1"], "copper"),
        (["--hours", "0.2"], "nothing to plan"),
    ],
)
def test_what_is_refused(kitdrawer: Kitdrawer, promised: Path, words: list[str], said: str) -> None:
    """Each with a sentence."""
    assert promised.exists()
    answer = kitdrawer("plan", *words, "--json")
    assert answer.code == 1
    assert said in answer.json["error"]["message"]


def test_nothing_to_plan(kitdrawer: Kitdrawer, store: Path) -> None:
    """No promises, no stall."""
    assert store.exists()
    assert "nothing to plan" in kitdrawer("plan", "--json").json["error"]["message"]


def test_planned_already_and_anew(kitdrawer: Kitdrawer, promised: Path) -> None:
    """Planned orders are left out and said; --anew gives the plan up and its stall pieces with it."""
    assert promised.exists()
    assert kitdrawer("plan", "S41", "--on", SATURDAY, "--stall", STALL, "--yes").code == 0
    told = kitdrawer("plan", "--on", SUNDAY, "--json").json
    assert [row["order"] for one in told["sessions"] for row in one["pieces"]] == ["S42"]
    assert told["notes"] == ["S41 is planned already, for 2026-11-28."]
    assert "stall 2026-11-28 a" in [one["order"] for one in kitdrawer("orders", "--json").json["orders"]]
    assert kitdrawer("plan", "--on", SUNDAY, "--anew", "--yes").code == 3
    assert "stall" not in kitdrawer("orders").out
    assert kitdrawer("verify").code == 0


def test_an_undone_plan_leaves_no_trace(kitdrawer: Kitdrawer, promised: Path) -> None:
    """Its stall pieces are nobody's request, and its orders can be planned again."""
    assert promised.exists()
    assert kitdrawer("plan", "S41", "--on", SATURDAY, "--stall", STALL, "--yes").code == 0
    assert kitdrawer("undo", "--yes").code == 0
    assert "stall" not in kitdrawer("orders").out
    assert "stall" in kitdrawer("orders", "--all").out
    assert kitdrawer("plan", "S41", "--on", SATURDAY, "--stall", STALL, "--yes").code == 0
    assert kitdrawer("verify").code == 0


def test_stall_pieces_that_lack_something(kitdrawer: Kitdrawer, promised: Path) -> None:
    """Planned, with code 3 for what is to be bought."""
    assert promised.exists()
    answer = kitdrawer("plan", "--stall", "Sanderling pen, rhodium, stabilised maple red, 6", "--yes")
    assert (answer.code, answer.out.startswith("SHORT: ")) == (3, True)


def test_nobody_says_yes(kitdrawer: Kitdrawer, promised: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a terminal it is refused; with a no nothing is planned."""
    assert promised.exists()
    assert kitdrawer("plan").code == 1
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("typer.confirm", lambda *_, **__: False)
    assert kitdrawer("plan").out.splitlines()[-1] == "Nothing was planned."
