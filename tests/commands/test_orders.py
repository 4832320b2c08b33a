"""Taking an order: can-take, promise, release, handed-over."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")

DUNLIN = ["--plating", "gunmetal", "--blank", "walnut blank", "--by", "2026-12-20"]


@pytest.mark.parametrize(
    ("order", "verdict", "code"),
    [
        ("S41", "from the shelf", 0),
        ("S42", "after buying", 3),
        ("S43", "too late", 3),
        ("S44", "cannot", 3),
        ("S45", "from the shelf", 0),
        ("S46", "from the shelf", 0),
    ],
)
def test_the_sample_orders(kitdrawer: Kitdrawer, order: str, verdict: str, code: int) -> None:
    """Each order of the sample is answered as its README tells."""
    answer = kitdrawer("can-take", "--order", order, "--json")
    assert (answer.json["verdict"], answer.code) == (verdict, code)


def test_json_keeps_its_promises(kitdrawer: Kitdrawer) -> None:
    """Every promised field, with its type."""
    told = kitdrawer("can-take", "--order", "S42", "--json").json
    assert isinstance(told["odds"], Decimal | int)
    assert 0 <= told["odds"] <= 1
    assert date.fromisoformat(told["earliest"]) == date(2026, 12, 1)
    assert told["starts"] >= 6
    assert 0.9 <= told["starts_odds"] < 1
    assert {"part", "stage", "need", "free", "short"} <= set(told["parts"][0])
    assert all(row["short"] == max(row["need"] - row["free"], 0) for row in told["parts"])
    for field in ("blanks", "lay_out", "cautions", "why"):
        assert told[field]
    assert told["lowest_price"] > told["cost_per_piece"] > 0


def test_the_price_is_its_formula(kitdrawer: Kitdrawer) -> None:
    """lowest = (materials + work) / (1 − margin), rounded up to the cent."""
    told = kitdrawer("can-take", "--order", "S41", "--json").json
    exact = (told["cost_per_piece"] + told["labour_per_piece"]) / Decimal("0.70")
    assert 0 <= told["lowest_price"] - exact < Decimal("0.01")


def test_by_options_it_is_the_same_question(kitdrawer: Kitdrawer) -> None:
    """The same request gives the same answer, noted or said."""
    noted = kitdrawer("can-take", "--order", "S41", "--json").json
    said = kitdrawer(
        "can-take",
        noted["pattern"],
        "--plating",
        noted["plating"],
        "--blank",
        noted["blank"],
        "--count",
        str(noted["count"]),
        "--by",
        noted["due"],
        "--json",
    ).json
    noted["order"] = None
    assert noted.pop("quote")["agreed"] != said.pop("quote")["agreed"]  # a price stands in the order alone
    assert said == noted


@pytest.mark.parametrize(
    ("words", "code", "sentence"),
    [
        (["Dunlin pen"], 1, "--blank and --by are missing"),
        ([], 1, "PATTERN and --blank and --by are missing"),
        (["Dunlin pn", *DUNLIN], 1, "Dunlin pen"),
        (["Dunlin pen", *DUNLIN, "--or-plating", "gold titan"], 1, "gold titanium"),
        (
            ["Dunlin pen", "--plating", "chrome", "--blank", "walnut blanc", "--by", "2026-12-20"],
            1,
            "walnut blank",
        ),
        (
            ["Dunlin pen", "--plating", "chrome", "--blank", "CA thin", "--by", "2026-12-20"],
            1,
            "no blank called",
        ),
        (["Dunlin pen", *DUNLIN, "--count", "0"], 1, "0 pieces"),
        (["Dunlin pen", *DUNLIN, "--count", "-2"], 1, "-2 pieces"),
        (["Dunlin pen", *DUNLIN, "--count", "2.5"], 2, "--count"),
        (["Dunlin pen", *DUNLIN[:-1], "2026-11-01"], 1, "is past"),
        (["Dunlin pen", *DUNLIN[:-1], "2026-02-30"], 1, "February"),
        (["Dunlin pen", *DUNLIN, "--refill", "CA thin"], 1, "not a refill"),
        (["Dunlin pen", *DUNLIN, "--extra-diameter", "1.5 parsec"], 1, "not a length"),
        (["Dunlin pen", *DUNLIN, "--confidence", "100"], 1, "100"),
        (["Dunlin pen", *DUNLIN, "--confidence", "0"], 1, "confidence"),
        (["Dunlin pen", "--blank", "walnut blank", "--by", "2026-12-20"], 1, "Which plating?"),
        (["--order", "S99"], 1, "no order called"),
        (["--ordre", "S41"], 2, "--order"),
    ],
    ids=lambda value: " ".join(value)[-28:] if isinstance(value, list) else "",
)
def test_wishes_nobody_can_read(kitdrawer: Kitdrawer, words: list[str], code: int, sentence: str) -> None:
    """Every slip is a sentence with its remedy; nothing is guessed."""
    answer = kitdrawer("can-take", *words)
    assert answer.code == code
    assert sentence in " ".join(answer.err.split())


@pytest.mark.parametrize("said", ["95", "95 %", "0.95"])
def test_confidence_in_every_notation(kitdrawer: Kitdrawer, said: str) -> None:
    """95, 95 % and 0.95 are the same."""
    assert kitdrawer("can-take", "--order", "S42", "--confidence", said, "--json").json[
        "confidence"
    ] == Decimal("0.95")


def test_failures_are_json_too(kitdrawer: Kitdrawer) -> None:
    """A program gets the kind, the message, the remedy and the places."""
    refused = kitdrawer("can-take", "--order", "S99", "--json")
    assert (refused.code, refused.json["error"]["kind"]) == (1, "unknown name")
    assert refused.json["error"]["where"] == []
    usage = kitdrawer("can-take", "--nonsense", "--json")
    assert (usage.code, usage.json["error"]["kind"]) == (2, "usage")


def test_two_promises_of_the_last_kit(kitdrawer: Kitdrawer) -> None:
    """The first gets it; the second is told and has to buy."""
    assert kitdrawer("promise", "S45", "--yes").code == 0
    second = kitdrawer("promise", "S46", "--yes")
    assert second.code == 3
    assert "1 short Curlew kit black titanium" in " ".join(second.out.split())
    assert "2 to buy" in second.out  # the kit, and accelerator
    rows = {row["part"]: row for row in kitdrawer("shelf", "--family", "Curlew", "--json").json["parts"]}
    kit = rows["Curlew kit black titanium"]
    assert (kit["on_hand"], kit["claimed"], kit["free"], kit["to_buy"]) == (1, 1, 0, 1)


def test_a_released_order_serves_the_one_that_waits(kitdrawer: Kitdrawer) -> None:
    """What one gives up goes to the other, not back to the drawer."""
    kitdrawer("promise", "S45", "--yes")
    kitdrawer("promise", "S46", "--yes")
    answer = kitdrawer("release", "S45", "--yes")
    assert "Curlew kit black titanium goes to “S46”" in answer.out
    rows = {row["part"]: row for row in kitdrawer("shelf", "--family", "Curlew", "--json").json["parts"]}
    assert rows["Curlew kit black titanium"]["to_buy"] == 0
    assert kitdrawer("release", "S45", "--yes").code == 1
    assert kitdrawer("verify").code == 0


def test_a_new_order_at_the_stall(kitdrawer: Kitdrawer) -> None:
    """An order nobody has noted is noted and promised in one go."""
    words = ["--pattern", "Dunlin pen", *DUNLIN, "--count", "1", "--customer", "a neighbour", "--price", "48"]
    answer = kitdrawer("promise", "Stall 7", *words, "--yes")
    assert answer.code in (0, 3)
    row = next(one for one in kitdrawer("orders", "--json").json["orders"] if one["order"] == "Stall 7")
    assert (row["state"], row["customer"], row["price"]) == ("promised", "a neighbour", Decimal("48.00"))
    again = kitdrawer("promise", "stall 7", *words, "--yes")
    assert "already an order" in again.err
    assert kitdrawer("promise", " ", *words, "--yes").code == 1
    assert "already promised" in kitdrawer("promise", "Stall 7", "--yes").err


def test_without_a_yes_nothing_is_booked(kitdrawer: Kitdrawer) -> None:
    """No terminal and no --yes: shown, refused, unchanged."""
    before = kitdrawer("orders", "--json").out
    answer = kitdrawer("promise", "S41")
    assert answer.code == 1
    assert "--yes" in answer.err
    assert kitdrawer("orders", "--json").out == before


@pytest.mark.parametrize(("said", "state"), [(True, "promised"), (False, "wish")])
def test_asked_at_a_terminal(
    kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch, said: bool, state: str
) -> None:
    """The answer at the terminal decides."""
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("typer.confirm", lambda *_, **__: said)
    kitdrawer("promise", "S41")
    row = next(one for one in kitdrawer("orders", "--json").json["orders"] if one["order"] == "S41")
    assert row["state"] == state


def test_many_orders_from_a_sheet(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Each is looked at after those before it have taken their parts."""
    path = tmp_path / "market.csv"  # whatever it is called, it holds orders
    head = "order,pattern,blank,count,due,plating\n"
    row = "{},Curlew capped pen,stabilised maple blue,1,2026-12-19,black titanium\n"
    path.write_text(head + row.format("T1") + row.format("T2"))
    answer = kitdrawer("can-take", "--sheet", str(path), "--json")
    verdicts = [one["verdict"] for one in answer.json["orders"]]
    assert answer.code == 3
    assert verdicts[0] == "from the shelf"
    assert verdicts[1] in ("too late", "after buying")
    assert "T2" in kitdrawer("can-take", "--sheet", str(path)).out
    assert kitdrawer("can-take", "--sheet", str(path) + ".no").code == 1


def test_other_platings_only_with_the_customers_word(kitdrawer: Kitdrawer) -> None:
    """A substitute is used when it is accepted, and all pieces are in one plating."""
    told = kitdrawer(
        "can-take", "Turnstone pencil", "--plating", "chrome", "--or-plating", "24k gold", "--blank", "walnut blank",
        "--count", "2", "--by", "2026-12-20", "--json",
    ).json  # fmt: skip
    assert told["plating"] == "24k gold"


def test_a_fatter_barrel_asks_for_a_thicker_blank(kitdrawer: Kitdrawer) -> None:
    """Growing the barrel past the blank makes it impossible, and says why."""
    answer = kitdrawer(
        "can-take", "Dunlin pen", "--plating", "gunmetal", "--blank", "walnut blank", "--by", "2026-12-20",
        "--extra-diameter", "12 mm",
    )  # fmt: skip
    assert answer.code == 3
    assert "too small" in answer.out


def test_a_promise_takes_what_is_due_in(kitdrawer: Kitdrawer) -> None:
    """Kits on their way are claimed before anything is to buy, and given back when the order is released."""
    kitdrawer("placed", "--yes")
    due = {row["part"]: row["quantity"] for row in kitdrawer("due-in", "--json").json["due_in"]}
    assert due["Turnstone kit chrome"] == 4
    words = [
        "Turnstone pencil",
        "--plating",
        "chrome",
        "--blank",
        "walnut blank",
        "--count",
        "2",
        "--by",
        "2026-12-20",
    ]
    told = kitdrawer("can-take", *words, "--json").json
    assert told["verdict"] == "after buying"
    assert any(row["part"] == "Turnstone kit chrome" and "due_in" in row for row in told["buy"])
    assert "Due in Tue 1 Dec: 2 Turnstone kit chrome" in " ".join(kitdrawer("can-take", *words).out.split())
    answer = kitdrawer("promise", "Tern", "--pattern", *words, "--yes")
    assert "waiting for what is due in" in " ".join(answer.out.split())
    claims = {
        (row["part"], row["from"])
        for row in kitdrawer("orders", "Tern", "--json").json["orders"][0]["claims"]
    }
    assert ("Turnstone kit chrome", "due in") in claims
    assert kitdrawer("can-take", "--order", "Tern", "--json").json["verdict"] == "after buying"
    assert kitdrawer("release", "Tern", "--yes").code == 0
    assert kitdrawer("verify").code == 0


def test_measured_blanks_are_claimed_one_by_one(kitdrawer: Kitdrawer) -> None:
    """A promised antler is nobody else's, and a second look at the order sees its own."""
    kitdrawer("promise", "S41", "--yes")
    assert kitdrawer("can-take", "--order", "S41").code == 0
    told = kitdrawer("fits", "Godwit", "--json").json
    free = next(row for row in told["blanks"] if row["part"] == "red deer antler")
    kitdrawer("release", "S41", "--yes")
    again = kitdrawer("fits", "Godwit", "--json").json
    assert (
        next(row for row in again["blanks"] if row["part"] == "red deer antler")["usable"]
        == free["usable"] + 2
    )


def test_an_order_whose_day_is_past_says_so(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> None:
    """A request past its day, and a promise that is overdue, which can still be handed over."""
    kitdrawer("promise", "S41", "--yes")
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-12-16")
    rows = {row["order"]: row["stands"] for row in kitdrawer("orders", "--json").json["orders"]}
    assert rows["S42"] == "past its day"
    assert rows["S41"].endswith("overdue")
    assert kitdrawer("handed-over", "S41", "--yes").code == 0
    assert "S41" in kitdrawer("orders", "--all").out


def test_no_kit_in_that_plating(kitdrawer: Kitdrawer) -> None:
    """The platings there are, are named."""
    answer = kitdrawer(
        "can-take",
        "Turnstone pencil",
        "--plating",
        "rhodium",
        "--blank",
        "walnut blank",
        "--by",
        "2026-12-20",
    )
    assert answer.code == 1
    assert "It comes in" in answer.err


def test_a_substitute_is_named_not_taken(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Without the customer's word the free substitute is only pointed out."""
    path = tmp_path / "counts.csv"
    path.write_text("part,quantity\nDunlin kit black titanium,20\n")
    assert kitdrawer("load", str(path), "--yes").code == 0
    answer = kitdrawer(
        "can-take", "Dunlin pen", "--plating", "gunmetal", "--blank", "walnut blank", "--count", "5", "--by",
        "2026-12-20",
    )  # fmt: skip
    assert answer.code == 3
    assert "with the customer's word black titanium may stand in" in " ".join(answer.out.split())


def test_tubes_that_are_too_few_say_how_many(kitdrawer: Kitdrawer) -> None:
    """Five of fourteen are there: not none."""
    full = " ".join(kitdrawer("can-take", "--order", "S42", "--all").out.split())
    assert "tube 7 x 53, missing (upper and lower; 5 on hand, 9 short)" in full


ORDERS = """order,pattern,blank,count,due,platings
W2,Dunlin pen,walnut blank,2,2026-12-07,gunmetal
W1,Dunlin pen,walnut blank,2,2026-12-05,gunmetal
W3,Dunlin pen,walnut blank,1,2026-12-06,gunmetal
"""


def test_wishes_are_judged_in_turn(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Three kits: what is due first has its own, the next what is left; no kit is promised twice, in whatever order."""
    sheet = tmp_path / "orders.csv"
    sheet.write_text(ORDERS, encoding="utf-8")
    assert kitdrawer("load", str(sheet), "--yes").code == 0
    stands = {one["order"]: one["stands"] for one in kitdrawer("orders", "--json").json["orders"]}
    turn = kitdrawer("can-take", "--sheet", str(sheet), "--json").json["orders"]
    assert {one["order"]: one["verdict"] for one in turn} == {
        name: stands[name] for name in ("W1", "W3", "W2")
    }
    assert stands["W1"] == "from the shelf"
    assert stands["W2"] == "after buying"
    assert "W2" in kitdrawer("orders", "W2").out
    assert "after buying" in kitdrawer("orders", "W2").out
    said = " ".join(kitdrawer("orders").out.split())
    assert "Each enquiry was looked at once those due before it had taken their parts." in said


def test_where_nothing_is_there_the_list_still_keeps_the_confidence(kitdrawer: Kitdrawer) -> None:
    """Twenty parts that are all to be bought: each is raised as far as it helps, and no further."""
    assert kitdrawer("undo", "--yes").code == 0  # the shelf is empty again, what things are is still known
    told = kitdrawer("can-take", "--order", "S41", "--json").json
    assert told["verdict"] == "after buying"
    assert told["odds"] == 0
    assert told["odds_after_buying"] >= Decimal("0.9")


def test_a_finished_piece_with_a_thicker_barrel_says_so(kitdrawer: Kitdrawer) -> None:
    """In its name, by the word the other screens have for it."""
    words = ("Curlew capped pen", "--plating", "black titanium", "--blank", "bog oak blank")
    kitdrawer("promise", "T8", "-m", *words, "--extra-diameter", "1.5 mm", "--by", "2026-12-20", "--yes")
    assert kitdrawer("made", "--order", "T8", "--yes").code in (0, 3)
    (row,) = kitdrawer("shelf", "--kind", "finished", "--json").json["parts"]
    assert row["part"].endswith(", 1.5 mm thicker")
