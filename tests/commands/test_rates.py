"""`rates` and `losses`: what a booked session taught, the maker's words on it, and all of it taken back."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from inventory.store import open_store

from .conftest import Kitdrawer
from .learned import ALCOHOL, EPOXY, MEDIUM, need, rates

TUBES = "tube glue volume"


# --- looking --------------------------------------------------------------------------------------------------------


def test_before_any_session(kitdrawer: Kitdrawer, store: Path) -> None:
    """Nothing is learned; a supply's rates are the sheet's, between a half and three times, of a pot less is known."""
    assert store.exists()
    assert "Nothing is learned yet" in kitdrawer("rates").out
    assert "Nothing is learned yet" in kitdrawer("losses").out
    told = rates(kitdrawer, EPOXY)
    shown = {per: tuple(float(one[k]) for k in ("prior", "estimate")) for (_, per), one in told.items()}
    assert shown == {TUBES: (1.4, 1.4), "barrel": (0.25, 0.25), "session": (1, 1)}
    ends = {per: [float(one[k] / one["prior"]) for k in ("low", "high")] for (_, per), one in told.items()}
    assert ends[TUBES] == pytest.approx(ends["barrel"], rel=1e-4)
    assert 0 < ends["session"][0] < ends["barrel"][0] < 0.6
    assert 2.5 < ends["barrel"][1] < ends["session"][1] < 5
    assert {one["sessions"] for one in told.values()} == {0}
    assert "tube glue volume" in kitdrawer("rates", EPOXY).out
    assert "No pattern's bill names it" in kitdrawer("rates", "Dunlin kit chrome").out
    assert "no part called “glu”" in kitdrawer("rates", "glu").err


def test_a_session_moves_what_was_weighed(kitdrawer: Kitdrawer, booked: Path) -> None:
    """4 ml of epoxy where 2.6 were written, 20 ml of alcohol for 11: these rates rise, each inside its interval."""
    assert booked.exists()
    told = rates(kitdrawer)
    learned = {key for key, one in told.items() if one["sessions"]}
    assert learned == {
        (EPOXY, TUBES),
        (EPOXY, "barrel"),
        (EPOXY, "session"),
        (ALCOHOL, "barrel"),
        (ALCOHOL, "session"),
        (MEDIUM, "barrel area"),
    }
    for key in learned:
        one = told[key]
        assert one["prior"] < one["estimate"], key
        assert one["low"] < one["estimate"] < one["high"], key
        assert (one["sessions"], one["outliers"], one["pinned"]) == (1, [], False)
    for key in told.keys() - learned:
        assert told[key]["prior"] == told[key]["estimate"], key


def test_rates_on_the_screen(kitdrawer: Kitdrawer, booked: Path) -> None:
    """Learned ones in the part's own unit; the rest are counted; of one part all of them."""
    assert booked.exists()
    out = kitdrawer("rates").out
    assert [line.split()[0] for line in out.splitlines()[4:10]] == ["CA", *3 * ["epoxy"], *2 * ["denatured"]]
    assert "26 more stand as in the sheets" in out
    one = kitdrawer("rates", "ca MEDIUM").out
    assert "denatured" not in one
    assert 'kitdrawer trace "CA medium"' in one
    wet = kitdrawer("rates", "wet strip P600").out
    assert "the sheet's figure is their mean" in " ".join(wet.split())


def test_losses_after_a_session(kitdrawer: Kitdrawer, booked: Path) -> None:
    """One of two lost at the lathe: that share rises, and of every other material a little; the rest falls."""
    assert booked.exists()
    told = {(one["material"], one["stage"]): one for one in kitdrawer("losses", "--json").json["losses"]}
    turn, drill = told["olivewood", "turn"], told["olivewood", "drill"]
    assert (turn["reached"], turn["lost"], drill["reached"], drill["lost"]) == (2, 1, 2, 0)
    assert turn["prior"] < turn["estimate"] <= turn["high"]
    assert drill["estimate"] < drill["prior"]
    assert told["walnut", "turn"]["estimate"] > told["walnut", "turn"]["prior"]
    screen = kitdrawer("losses").out
    assert "1 of 2" in screen
    assert "walnut" not in screen
    assert "walnut" in kitdrawer("losses", "WALNUT").out
    assert "no material called “wallnut”" in kitdrawer("losses", "wallnut").err


# --- who uses them --------------------------------------------------------------------------------------------------


def test_can_take_needs_what_is_really_used(kitdrawer: Kitdrawer, booked: Path) -> None:
    """What the next pens need follows the learned rates, and leaves room for what one session has not taught."""
    assert booked.exists()
    told = rates(kitdrawer, ALCOHOL)
    after = 2 * told[ALCOHOL, "barrel"]["estimate"] + told[ALCOHOL, "session"]["estimate"]
    learned = need(kitdrawer, ALCOHOL)
    assert after > 15
    assert after < learned < 2 * after
    assert kitdrawer("undo", "3", "--yes").code == 0
    assert need(kitdrawer, ALCOHOL) > 2 * Decimal(11)  # a first guess, never weighed
    assert kitdrawer("undo", "4", "--yes").code == 0
    assert need(kitdrawer, ALCOHOL) == learned


def test_undo_and_undo_of_the_undo(kitdrawer: Kitdrawer, booked: Path) -> None:
    """Taken back, nothing was ever learned; that taken back, every figure is as it was, to the last digit."""
    assert booked.exists()
    before = kitdrawer("rates", "--json").out, kitdrawer("losses", "--json").out
    undone = kitdrawer("undo", "--yes")
    assert undone.code == 0
    assert f"{ALCOHOL} per session 16.4 10 ml" in " ".join(undone.out.split())
    assert "olivewood spoiled turning 3.1 % 0.8 %" in " ".join(undone.out.split())
    assert "Nothing is learned yet" in kitdrawer("rates").out
    assert "Nothing is learned yet" in kitdrawer("losses").out
    assert kitdrawer("verify").code == 0
    assert f"{ALCOHOL} per session 10 16.4 ml" in " ".join(kitdrawer("undo", "4", "--yes").out.split())
    assert (kitdrawer("rates", "--json").out, kitdrawer("losses", "--json").out) == before
    assert kitdrawer("verify").code == 0


# --- the maker's words ----------------------------------------------------------------------------------------------


def test_a_pin_holds(kitdrawer: Kitdrawer, booked: Path) -> None:
    """Held in the part's unit: no interval, and what is left is for the other rates; undo and undo of the undo."""
    assert booked.exists()
    before = kitdrawer("rates", "--json").out
    answer = kitdrawer("rates", EPOXY, "--pin", "Per Session = 1 ml", "--yes")
    assert answer.code == 0
    assert "per session held" in answer.out
    assert "Booked (entry 4)" in answer.out
    told = rates(kitdrawer, EPOXY)
    held = told[EPOXY, "session"]
    assert [held[k] for k in ("estimate", "low", "high", "pinned")] == [1, 1, 1, True]
    assert told[EPOXY, TUBES]["estimate"] > 2  # what the pot no longer explains
    assert "held" in kitdrawer("rates").out
    pinned = kitdrawer("rates", "--json").out
    assert kitdrawer("undo", "--yes").code == 0
    assert kitdrawer("rates", "--json").out == before
    assert kitdrawer("undo", "5", "--yes").code == 0
    assert kitdrawer("rates", "--json").out == pinned
    assert kitdrawer("verify").code == 0


def test_a_pin_is_used(kitdrawer: Kitdrawer, store: Path) -> None:
    """Held before any session: the next order needs more, though less is doubted; undone, what it needed."""
    assert store.exists()
    first = need(kitdrawer, EPOXY)
    assert kitdrawer("rates", EPOXY, "--pin", "session=x3", "--yes").code == 0
    assert first < need(kitdrawer, EPOXY) < first + 2
    assert kitdrawer("undo", "--yes").code == 0
    assert need(kitdrawer, EPOXY) == first


def test_a_pin_by_weight(kitdrawer: Kitdrawer, store: Path) -> None:
    """The supply's own density turns grams into millilitres: 2.32 g at 1.16 g/ml are 2 ml."""
    assert store.exists()
    assert kitdrawer("rates", EPOXY, "--pin", "session=2.32 g", "--yes").code == 0
    assert rates(kitdrawer, EPOXY)[EPOXY, "session"]["estimate"] == 2


def test_a_factor_where_patterns_differ(kitdrawer: Kitdrawer, store: Path) -> None:
    """No one quantity can be held; so many times what each writes can."""
    assert store.exists()
    refused = kitdrawer("rates", "wet strip P600", "--pin", "barrel=0.3", "--yes")
    assert (refused.code, "different quantities" in refused.err, "0.2, 0.4" in refused.err) == (1, True, True)
    assert kitdrawer("rates", "wet strip P600", "--pin", "barrel=×1.5", "--yes").code == 0
    held = rates(kitdrawer, "wet strip P600")["wet strip P600", "barrel"]
    assert (float(held["prior"]), float(held["estimate"])) == pytest.approx((0.3, 0.45))


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--pin", "piece=2"), "has no rate per “piece”"),
        (("--pin", "session=-2"), "negative"),
        (("--pin", "session=x-2"), "0 or more"),
        (("--pin", "session=x1001"), "1001 times"),
        (("--pin", "session=1001 ml"), "1001 times"),
        (("--pin", "session"), "holds no rate"),
        (("--pin", "session="), "holds no rate"),
        (("--pin", "session=x"), "no number"),
        (("--pin", "session=two"), "two"),
        (("--pin", "session=2 strips"), "strip"),
        (("--free", "sesion"), "has no rate per “sesion”"),
    ],
)
def test_words_that_are_refused(kitdrawer: Kitdrawer, store: Path, words: tuple[str, str], told: str) -> None:
    """A sentence, code 1, nothing booked."""
    answer = kitdrawer("rates", EPOXY, *words, "--yes")
    assert (answer.code, told in answer.err) == (1, True), answer.err
    with open_store(store) as found, found.reading() as read:
        assert read.version == 1


def test_words_without_a_supply_that_is_taken(kitdrawer: Kitdrawer, store: Path) -> None:
    """Which supply must be said, and a bill must name it."""
    assert store.exists()
    assert "Which supply?" in kitdrawer("rates", "--reset", "--yes").err
    assert "No pattern takes acetone" in kitdrawer("rates", "acetone", "--pin", "piece=1", "--yes").err


def test_free_and_reset(kitdrawer: Kitdrawer, booked: Path) -> None:
    """Freed it is as never held; reset, the sheet's figures stand and the pin is gone; undone, all is back."""
    assert booked.exists()
    before = kitdrawer("rates", "--json").out
    kitdrawer("rates", EPOXY, "--pin", "session=2", "--yes")
    assert kitdrawer("rates", EPOXY, "--free", "session", "--yes").code == 0
    assert kitdrawer("rates", "--json").out == before
    kitdrawer("rates", EPOXY, "--pin", "session=2", "--yes")
    assert "begun again" in kitdrawer("rates", EPOXY, "--reset", "--yes").out
    for one in rates(kitdrawer, EPOXY).values():
        assert (one["estimate"], one["sessions"], one["pinned"]) == (one["prior"], 0, False)
    assert rates(kitdrawer, ALCOHOL)[ALCOHOL, "session"]["sessions"] == 1
    assert "forgotten" in kitdrawer("trace", EPOXY, "--all").out
    assert kitdrawer("verify").code == 0
    kitdrawer("undo", "--yes")
    assert rates(kitdrawer, EPOXY)[EPOXY, "session"]["pinned"]
    kitdrawer("undo", "6", "--yes")
    assert kitdrawer("rates", "--json").out == before


def test_reset_and_pin_at_once(kitdrawer: Kitdrawer, booked: Path) -> None:
    """One document: what is pinned is held, the others begin anew."""
    assert booked.exists()
    answer = kitdrawer(
        "rates", EPOXY, "--reset", "--pin", "barrel=0.5", "--free", "barrel", "--yes", "--json"
    )
    assert answer.json["document"] == 4
    told = {one["per"]: one for one in answer.json["rates"]}
    assert (float(told["barrel"]["estimate"]), told["barrel"]["pinned"]) == (0.5, True)
    assert (told["session"]["estimate"], told["session"]["sessions"]) == (1, 0)


def test_a_word_that_changes_nothing(kitdrawer: Kitdrawer, store: Path) -> None:
    """Freeing what learns already is said and harmless."""
    assert store.exists()
    assert "No figure changes" in kitdrawer("rates", EPOXY, "--free", "barrel", "--yes").out
    assert "stay as they are" in kitdrawer("undo", "--yes").out


def test_nobody_says_yes(kitdrawer: Kitdrawer, store: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a terminal it is refused, with a no nothing is changed, and --json alone only shows."""
    words = ("rates", EPOXY, "--pin", "session=2")
    assert kitdrawer(*words).code == 1
    shown = kitdrawer(*words, "--json")
    assert (shown.code, shown.json["document"]) == (0, None)
    assert next(one for one in shown.json["rates"] if one["per"] == "session")["estimate"] == 2
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("typer.confirm", lambda *_, **__: False)
    assert kitdrawer(*words).out.splitlines()[-1] == "Nothing was booked."
    with open_store(store) as found, found.reading() as read:
        assert read.version == 1
