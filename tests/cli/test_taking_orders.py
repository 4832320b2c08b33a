"""Orders from the first question to the hand-over, and what is refused on the way."""

from __future__ import annotations

import json
import subprocess
import sys
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from commands.conftest import SAMPLE

from .conftest import Answer, Kitdrawer

pytestmark = pytest.mark.usefixtures("store")

KIT = "Curlew kit black titanium"
DUNLIN = ["--blank", "walnut blank", "--by", "2026-12-20"]


def row_of(kitdrawer: Kitdrawer, part: str) -> dict[str, Any]:
    rows: list[dict[str, Any]] = kitdrawer("shelf", "--json").json["parts"]
    return next(row for row in rows if row["part"] == part)


def order_of(kitdrawer: Kitdrawer, name: str) -> dict[str, Any]:
    orders: list[dict[str, Any]] = kitdrawer("orders", name, "--json").json["orders"]
    return orders[0]


@pytest.mark.parametrize(
    ("order", "headline", "standing"),
    [
        ("S41", "YES, from the shelf. Due Sat 12 Dec 2026.", "from the shelf"),
        ("S42", "YES, after buying. All parts here Tue 1 Dec; due Mon 14 Dec 2026.", "after buying"),
        ("S43", "TOO LATE for Tue 15 Dec 2026. All parts here Wed 23 Dec.", "too late"),
        ("S44", "NO. Nobody sells Whimbrel kit antique copper. Wanted for Wed 20 Jan 2027.", "cannot"),
    ],
)
def test_the_answer_comes_first(kitdrawer: Kitdrawer, order: str, headline: str, standing: str) -> None:
    """The first line is the answer; `orders` says the same in two words."""
    assert kitdrawer("can-take", "--order", order).out.splitlines()[0] == headline
    assert order_of(kitdrawer, order)["stands"] == standing


def test_the_sheet_serves_the_earlier_order_first(kitdrawer: Kitdrawer) -> None:
    """All six requests together: S42 uses up the accelerator, S45 gets the last kit before S46."""
    answer = kitdrawer("can-take", "--sheet", str(SAMPLE / "orders.csv"), "--json")
    told = {one["order"]: one["verdict"] for one in answer.json["orders"]}
    assert answer.code == 3
    assert told == {
        "S41": "from the shelf",
        "S42": "after buying",
        "S43": "too late",
        "S45": "after buying",
        "S46": "too late",
        "S44": "cannot",
    }
    lines = kitdrawer("can-take", "--sheet", str(SAMPLE / "orders.csv")).out.splitlines()
    assert lines[0] == "3 orders of 6 can be taken, 1 from the shelf; first due Sat 12 Dec 2026."
    assert [line.split()[0] for line in lines[4:10]] == ["S41", "S42", "S43", "S45", "S46", "S44"]
    assert max(map(len, lines)) <= 80


@pytest.mark.parametrize(
    "words",
    [
        ["can-take", "Dunlin pen", "--order", "S41"],
        ["can-take", "--order", "S41", "--count", "3"],
        ["can-take", "--order", "S41", "--sheet", str(SAMPLE / "orders.csv")],
        ["can-take", "Dunlin pen", "--sheet", str(SAMPLE / "orders.csv")],
    ],
    ids=lambda words: " ".join(words)[:40],
)
def test_two_questions_at_once(kitdrawer: Kitdrawer, words: list[str]) -> None:
    """Nothing that was said goes unheard: a mixture is refused."""
    answer = kitdrawer(*words, "--json")
    assert (answer.code, answer.json["error"]["kind"]) == (1, "bad input")
    assert "different questions" in answer.json["error"]["message"]


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["S41", "--count", "3"], "already an order “S41” (wish)"),
        (["S41", "--plating", "24k gold"], "already an order “S41” (wish)"),
        (["S41", "--price", "1"], "already an order “S41” (wish)"),
        (["Tern", "--count", "3"], "PATTERN and --blank and --by are missing"),
        (["Tern"], "no order called “Tern”"),
        (["S4"], "Did you mean “S4"),
        (["Tern", "--pattern", "Dunlin pen", "--plating", "gunmetal", *DUNLIN, "--count", "0"], "0 pieces"),
        (["Tern", "--pattern", "Dunlin pen", "--plating", "gunmetal", *DUNLIN, "--price", "a lot"], "a lot"),
        (["Tern", "--pattern", "Dunlin pem", "--plating", "gunmetal", *DUNLIN], "Dunlin pen"),
        (["S41", "--confidence", "perhaps"], "perhaps"),
    ],
    ids=lambda value: " ".join(value)[:30] if isinstance(value, list) else "",
)
def test_promises_nobody_can_make(kitdrawer: Kitdrawer, words: list[str], sentence: str) -> None:
    """What is said beside a noted order is not dropped in silence; nothing is booked."""
    answer = kitdrawer("promise", *words, "--yes")
    assert answer.code == 1
    assert sentence in " ".join(answer.err.split())
    assert all(row["state"] == "wish" for row in kitdrawer("orders", "--json").json["orders"])


def test_a_promise_says_what_matters_before_the_yes(kitdrawer: Kitdrawer) -> None:
    """The answer, what is missing, the price, what this order asks to mind; not what the bench asks every day."""
    text = kitdrawer("promise", "S42", "--yes").out
    whole = kitdrawer("can-take", "--order", "S43", "--all").out
    assert text.splitlines()[0] == "YES, after buying. All parts here Tue 1 Dec; due Mon 14 Dec 2026."
    short = [" ".join(line.split()) for line in text.splitlines() if " short " in line]
    assert short == [
        "9 short tube 7 x 53 1 pack of 10 3.80 EUR",
        "3 strips short dry strip P320 1 pack of 14 strips 4.30 EUR",
        "12 ml short accelerator 1 pack of 200 ml 8.90 EUR",
        "4 short Dunlin kit gunmetal 4 16.40 EUR",
    ]
    assert "3.88 too little" in text
    assert "in place of slim twist refill black" in text
    for bench in ("Safety ", "felt sleeve", "Lay out"):
        assert bench not in text
        assert bench in whole
    assert "4 to buy" in text
    assert len(text.splitlines()) <= 24
    assert text.endswith("Next: kitdrawer shopping\n")
    assert max(len(line) for line in text.splitlines()) <= 80


def test_the_kit_on_the_shelf_has_a_price(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """What lies there was paid for: without a dollar rate its cost is known all the same."""
    path = str(tmp_path / "other.kitdrawer")
    kitdrawer("begin", "--store", path)
    kitdrawer("load", str(SAMPLE), "--yes", "--store", path)
    told = kitdrawer("can-take", "--order", "S45", "--json", "--store", path).json
    assert told["verdict"] == "from the shelf"
    assert told["cost_per_piece"] > Decimal("16.40")
    assert not any("nobody knows what" in sentence for sentence in told["cautions"])


def test_one_order_in_full(kitdrawer: Kitdrawer) -> None:
    """For whom, what, when, and each part with where it is."""
    kitdrawer("promise", "S42", "--yes")
    text = kitdrawer("orders", "S42").out
    said = " ".join(text.split())
    assert said.startswith(
        "S42, promised: 4 to buy. Due Mon 14 Dec 2026."
        " harbour office: 6 × Dunlin pen, gunmetal or black titanium, walnut blank"
    )
    row = next(line for line in text.splitlines() if line.startswith("Dunlin kit gunmetal") and "BUY" in line)
    assert row.split()[-3:] == ["4", "TO", "BUY"]
    request = kitdrawer("orders", "S41").out
    assert request.startswith("S41, enquiry: ")


def test_two_processes_want_the_last_kit(kitdrawer: Kitdrawer, store: Path) -> None:
    """Both promise at the same moment; exactly one gets it, the other waits for another."""
    started = [
        subprocess.Popen(
            [sys.executable, "-m", "inventory.cli", "promise", name, "--yes"],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        for name in ("S45", "S46")
    ]
    ended = []
    for one in started:
        out, err = one.communicate(timeout=120)
        ended.append(Answer(one.returncode, out, err))
    assert store.exists()
    assert sorted(one.code for one in ended) == [0, 3]
    assert [one.err for one in ended] == ["", ""]
    kit = row_of(kitdrawer, KIT)
    assert (kit["on_hand"], kit["claimed"], kit["to_buy"]) == (1, 1, 1)
    assert kitdrawer("verify").code == 0


def test_a_release_goes_to_whom_it_was_short_for(kitdrawer: Kitdrawer) -> None:
    """The kit and the accelerator S45 gives back are set aside for S46, which then has all it needs."""
    kitdrawer("promise", "S45", "--yes")
    assert kitdrawer("promise", "S46", "--yes").code == 3
    assert order_of(kitdrawer, "S46")["stands"] == "2 to buy"
    answer = kitdrawer("release", "S45", "--yes")
    assert f"{KIT} goes to “S46”" in " ".join(answer.out.split())
    assert order_of(kitdrawer, "S46")["stands"] == "all set aside"
    assert order_of(kitdrawer, "S45")["state"] == "released"
    assert [
        row["order"] for row in kitdrawer("orders", "--json").json["orders"] if row["order"] == "S45"
    ] == []
    assert (row_of(kitdrawer, KIT)["claimed"], row_of(kitdrawer, KIT)["to_buy"]) == (1, 0)
    again = kitdrawer("promise", "S45", "--yes")
    assert again.code == 3
    assert order_of(kitdrawer, "S45")["state"] == "promised"


@pytest.mark.parametrize("command", ["release", "handed-over"])
@pytest.mark.parametrize(
    ("order", "sentence"), [("S41", "not promised"), ("S4l", "Did you mean “S4"), ("", "no order called")]
)
def test_only_promises_end(kitdrawer: Kitdrawer, command: str, order: str, sentence: str) -> None:
    """A request cannot be released or handed over, an unknown name not at all."""
    answer = kitdrawer(command, order, "--yes")
    assert answer.code == 1
    assert sentence in " ".join(answer.err.split())


def test_a_hand_over_shows_what_it_draws(kitdrawer: Kitdrawer) -> None:
    """Each part with its cost, and the sum of them; the shelf is less by just that."""
    kitdrawer("promise", "S41", "--yes")
    before = {row["part"]: row["on_hand"] for row in kitdrawer("shelf", "--json").json["parts"]}
    text = kitdrawer("handed-over", "S41", "--lost", "turn=1", "--lost", "drill=1", "--all", "--yes").out
    after = {row["part"]: row["on_hand"] for row in kitdrawer("shelf", "--json").json["parts"]}
    lines = text.splitlines()
    costs = [Decimal(line.split()[-2]) for line in lines[2:] if line.endswith(" EUR")]
    assert lines[0].endswith(f": {sum(costs)} EUR of materials.")
    drawn = {part: before[part] - after[part] for part in before if before[part] != after[part]}
    assert drawn["Godwit kit chrome"] == 2
    assert drawn["tube ripper 57"] == 3  # the piece lost at drilling never saw its tube
    assert drawn["red deer antler"] >= 3
    table = lines[next(at for at, line in enumerate(lines) if line.startswith("───")) + 1 :]
    shown = {line[:22].strip() for line in table[: table.index("")]}
    assert shown == set(drawn)


def test_undo_walks_back_and_says_what_stands_in_the_way(kitdrawer: Kitdrawer) -> None:
    """A refused undo names every later document; from the newest on it works, and everything is as before."""
    books = [kitdrawer("shelf", "--json").out]
    for words in (["promise", "S45"], ["promise", "S46"], ["release", "S45"], ["handed-over", "S46"]):
        kitdrawer(*words, "--yes")
        books.append(kitdrawer("shelf", "--json").out)
    refused = kitdrawer("undo", "2", "--yes")
    said = " ".join(refused.err.split())
    assert refused.code == 1
    assert "stands on it: entry 4, “Release S45”, Sat 28 Nov 2026" in said
    assert "the newest before the others" in said
    for number, book in ((5, books[3]), (4, books[2]), (3, books[1]), (2, books[0])):
        answer = kitdrawer("undo", str(number), "--yes")
        assert answer.code == 0, answer.err
        assert f"Undo of {number}:" in answer.out
        assert kitdrawer("shelf", "--json").out == book
    assert all(row["state"] == "wish" for row in kitdrawer("orders", "--all", "--json").json["orders"])
    assert kitdrawer("verify").code == 0
    assert kitdrawer("undo", "2", "--yes").code == 1
    assert kitdrawer("undo", "99", "--yes").code == 1


def test_trace_is_the_shelf_explained(kitdrawer: Kitdrawer) -> None:
    """For every part of the shop the lines add up to what the shelf says, after a day of business."""
    for words in (
        ["promise", "S45"],
        ["promise", "S46"],
        ["release", "S45"],
        ["handed-over", "S46"],
        ["undo"],
    ):
        kitdrawer(*words, "--yes")
    for row in kitdrawer("shelf", "--family", "Curlew", "--json").json["parts"]:
        told = kitdrawer("trace", row["part"], "--json").json
        sums = {
            account: sum(line["quantity"] for line in told["lines"] if line["account"] == account)
            for account in ("shelf", "claim", "to buy")
        }
        assert sums == {"shelf": row["on_hand"], "claim": row["claimed"], "to buy": row["to_buy"]}
        assert told["worth"] == sum(line["cost"] for line in told["lines"])
        assert all(0 <= line["claimed"] <= line["on_hand"] for line in told["lines"])
    text = kitdrawer("trace", KIT, "--all").out
    assert "missing for S46" in text
    assert "Undo of 5: Hand ov" in text
    assert max(len(line) for line in text.splitlines()) <= 80


def test_a_swap_of_refill_and_a_fatter_barrel_by_options(kitdrawer: Kitdrawer) -> None:
    """Both are counted with and said; the same request without them is another answer."""
    words = ["can-take", "Curlew capped pen", "--plating", "black titanium", "--blank", "bog oak blank", "--by",
             "2026-12-20", "--json"]  # fmt: skip
    plain = kitdrawer(*words).json
    fat = kitdrawer(*words, "--extra-diameter", "1.5 mm").json
    assert (plain["verdict"], fat["verdict"]) == ("from the shelf", "from the shelf")
    assert any("1.5 mm thicker" in sentence for sentence in fat["cautions"])
    assert not any("thicker" in sentence for sentence in plain["cautions"])
    other = kitdrawer(*words, "--refill", "gel refill for click pens black").json
    assert "gel refill for click pens black" in {row["part"] for row in other["parts"]}
    assert "roller refill blue" not in {row["part"] for row in other["parts"]}


def test_the_plating_named_first_is_taken_where_both_would_do(kitdrawer: Kitdrawer) -> None:
    """The customer's other plating is for when it helps."""
    words = [
        "can-take",
        "Dunlin pen",
        "--blank",
        "walnut blank",
        "--by",
        "2026-12-20",
        "--count",
        "1",
        "--json",
    ]
    told = kitdrawer(*words, "--plating", "chrome", "--or-plating", "rhodium", "--or-plating", "chrome").json
    assert told["plating"] == "chrome"
    assert kitdrawer(*words, "--or-plating", "rhodium").json["plating"] == "rhodium"


@pytest.mark.parametrize(
    ("said", "shown"), [("90", "90 %"), ("99.9", "over 99 %"), ("0.5", "50 %"), ("1", "1 %")]
)
def test_confidence_is_shown_as_it_was_said(kitdrawer: Kitdrawer, said: str, shown: str) -> None:
    """One notation for every share on the screen."""
    text = " ".join(kitdrawer("can-take", "--order", "S42", "--confidence", said).out.split())
    assert f"({shown}) of 6 good" in text or f"for a chance of {shown} of 6 good" in text
    why = " ".join(kitdrawer("can-take", "--order", "S42", "--confidence", said, "--why").out.split())
    assert "at 30 % margin" in why


def test_more_confidence_never_needs_less(kitdrawer: Kitdrawer) -> None:
    """Starts and needs rise with the confidence asked for."""
    told = [
        json.loads(kitdrawer("can-take", "--order", "S42", "--confidence", sure, "--json").out)
        for sure in ("50", "90", "99")
    ]
    starts = [one["starts"] for one in told]
    needs = [[row["need"] for row in one["parts"]] for one in told]
    assert starts == sorted(starts)
    assert starts[0] < starts[2]
    assert all(a <= b <= c for a, b, c in zip(*needs, strict=True))
