"""Where a rate comes from (`trace`), sessions left out, and whether kept figures are right (`verify`)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from inventory.jobs.learning.learned_figures import relearn
from inventory.ledger import Proposal
from inventory.ledger.learned import LearnedFigures, LearnedRate
from inventory.ledger.sessions import Happened, Observed
from inventory.measures import show_day
from inventory.store import Store, open_store

from .conftest import TODAY, Kitdrawer
from .learned import EPOXY, rates

TUBES = "tube glue volume"
LAST = date.fromisoformat(TODAY)


def booked_again(store: Store, day: date, times: float) -> int:
    """A session like the first one that used so many times its epoxy; as `weekend book` would learn from it."""
    with store.reading() as read:
        every, number = read.happened(), read.version + 1
        (first,) = (one for one in every[0].observed if one.part == EPOXY)
        seen = (Observed(EPOXY, round(times * first.used), first.error),)
        made = tuple(replace(one, order="") for one in every[0].outcomes)
        figures = relearn(read.written(), [*every, Happened(number, day, made, seen)], read.rate_words())
    told = Proposal("weekend", f"Session of {day}", day, outcomes=made, observed=seen, learned=figures)
    assert store.commit(told) == number
    return number


def test_trace_tells_where_a_rate_comes_from(kitdrawer: Kitdrawer, booked: Path) -> None:
    """The session's day, what the bills expected, what was used, whether it counts; then the rates now."""
    assert booked.exists()
    told = kitdrawer("trace", EPOXY, "--json").json
    assert {one["per"] for one in told["rates"]} == {TUBES, "barrel", "session"}
    (use,) = told["uses"]
    assert (use["document"], use["on"], use["way"], use["standing"]) == (3, TODAY, "weighed", "counts")
    aside = told["lines"][1]["quantity"]  # for the same two pens by the same bills, never weighed before
    assert 2 * use["expected"] < aside < 4 * use["expected"]
    assert float(use["used"]) == pytest.approx(46 - (69.7 - 21) / 1.16, abs=0.001)  # by the scale
    assert abs(use["now"] - use["used"]) < abs(use["expected"] - use["used"])
    assert "Rates " in kitdrawer("trace", EPOXY).out
    screen = kitdrawer("trace", EPOXY, "--all").out
    assert screen.index("90 % range") < screen.index("Sessions behind them") < screen.rindex("weighed")
    kit = kitdrawer("trace", "Avocet kit chrome", "--json").json
    assert (kit["rates"], kit["uses"]) == ([], [])
    assert "Rates" not in kitdrawer("trace", "CA thick").out


def test_a_session_nobody_weighed_is_told_of_by_the_next_weighing(
    kitdrawer: Kitdrawer, booked: Path, tmp_path: Path
) -> None:
    """Two more, the bottle weighed after the second only: it is of both, on the screen and in the trace."""
    for at, bottles in enumerate(("", f"part,gross g\n{EPOXY},58\n")):
        assert kitdrawer("plan", "--stall", "Avocet pen, gunmetal, olivewood blank, 1", "--yes").code in (
            0,
            3,
        )
        folder = tmp_path / f"sheet {at}"
        folder.mkdir()
        (folder / "pieces.csv").write_text("row,good\n1,1\n", encoding="utf-8")
        if bottles:
            (folder / "bottles.csv").write_text(bottles, encoding="utf-8")
        told = kitdrawer("weekend", "book", str(folder), "--yes")
        assert told.code in (0, 3)
    out = " ".join(told.out.split())
    assert f"{EPOXY}: what was used is also of sessions in which nobody looked." in out
    uses = kitdrawer("trace", EPOXY, "--json").json["uses"]
    assert [one["sessions"] for one in uses] == [1, 2]
    assert float(uses[1]["used"]) == pytest.approx((69.7 - 58) / 1.16, abs=0.002)  # between the two weighings
    assert "weighed, of 2 sessions" in " ".join(kitdrawer("trace", EPOXY, "--all").out.split())
    assert kitdrawer("verify").code == 0
    assert booked.exists()


def test_verify_works_the_figures_out_anew(kitdrawer: Kitdrawer, booked: Path) -> None:
    """Kept figures that no session gives are a sentence each and code 3; the next word on rates mends them."""
    with open_store(booked) as found:
        with found.reading() as read:
            kept = read.learned()
        wrong = LearnedFigures(
            (*kept.rates[1:], LearnedRate("CA thick", "piece", 2_000_000, 1_000_000, 3_000_000, 4)),
            (replace(kept.losses[0], share=500_000), *kept.losses[1:]),
        )
        found.commit(Proposal("rates", "Wrong", LAST, learned=wrong))
    answer = kitdrawer("verify")
    assert answer.code == 3
    out = " ".join(answer.out.split())
    assert f"The rate of {kept.rates[0].part} per {kept.rates[0].per}" in out
    assert "The rate of CA thick per piece" in out
    assert f"The loss of {kept.losses[0].material} at {kept.losses[0].stage}" in out
    told = kitdrawer("verify", "--json")
    assert (told.code, told.json["ok"], len(told.json["problems"])) == (3, False, 3)
    kitdrawer("rates", EPOXY, "--free", "barrel", "--yes")
    assert kitdrawer("verify").code == 0


def test_a_session_left_out_is_named(kitdrawer: Kitdrawer, booked: Path) -> None:
    """The fifth of six was read in another unit: rates and trace name its document and day, the others decide."""
    with open_store(booked) as found:
        for at, times in enumerate((1.02, 0.97, 1.03, 28.35, 0.99), start=1):
            number = booked_again(found, LAST + timedelta(weeks=at), times)
            assert number == 3 + at
    left_out, day = 7, LAST + timedelta(weeks=4)
    told = rates(kitdrawer, EPOXY)
    for one in told.values():
        assert one["outliers"] == [{"document": left_out, "on": str(day)}]
        assert one["sessions"] == 5
    screen = " ".join(kitdrawer("rates", EPOXY).out.split())
    assert f"{EPOXY}: left out as unlike the others: entry {left_out} of {show_day(day, 2026)}." in screen
    uses = kitdrawer("trace", EPOXY, "--json").json["uses"]
    assert [one["standing"] for one in uses] == [*4 * ["counts"], "left out", "counts"]
    assert "weighed, left out" in kitdrawer("trace", EPOXY, "--all").out
    assert kitdrawer("verify").code == 0
    kitdrawer("undo", str(left_out), "--yes")
    assert [one["outliers"] for one in rates(kitdrawer, EPOXY).values()] == [[], [], []]
    assert kitdrawer("verify").code == 0
