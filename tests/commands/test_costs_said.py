"""What things cost, as sheets say it: for a bottle or for all, asked about where unlikely, never dropped silently."""

from __future__ import annotations

import os
import signal
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from forked import forked

from inventory.errors import StoreFull
from inventory.store import open_store
from inventory.store.commit.writer import Writer

from .conftest import Answer, Kitdrawer

pytestmark = pytest.mark.usefixtures("store")
HEAD = "part,quantity,unit cost,lot,received on,opened on,use by,smallest diameter,length,paid,for"
GLUE, TUBE, KIT = "CA thin", "tube ripper 57", "Godwit kit chrome"


def sheet(folder: Path, *rows: str, name: str = "counts", head: str = HEAD) -> str:
    """A counts tab as a CSV file."""
    path = folder / f"{name}.csv"
    path.write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")
    return str(path)


def words(answer: Answer) -> str:
    """All it said, in one line."""
    return " ".join(f"{answer.out} {answer.err}".split())


def lots(kitdrawer: Kitdrawer, part: str) -> dict[str | None, tuple[Decimal | None, str]]:
    """What each lot cost and where that comes from, by name."""
    told = kitdrawer("trace", part, "--json").json
    return {one["name"]: (one["cost"], one["cost_from"]) for one in told["lots"]}


@pytest.mark.parametrize(
    ("quantity", "paid", "cost"),
    [
        ("40", "5.10,bottle", Decimal("4.08")),
        ("2 bottles", "9.60,all", Decimal("9.60")),
        ("10 ml", "1.60,10 ml", Decimal("1.60")),
    ],
)
def test_what_was_paid_for_what(
    kitdrawer: Kitdrawer, tmp_path: Path, quantity: str, paid: str, cost: Decimal
) -> None:
    """5.10 for a bottle of 50 ml is 10.2 cents a millilitre; for all of it is for all of it, to the cent."""
    net = kitdrawer("columns", "counts")
    assert "paid" in net.out
    path = sheet(tmp_path, f"{GLUE},{quantity},,new one,,,,,,{paid}")
    answer = kitdrawer("load", path, "--yes", "--json")
    assert answer.code == 0, answer.err
    found, how = lots(kitdrawer, GLUE)["new one"]
    assert found is not None
    assert (abs(found - cost) <= Decimal("0.05"), how) == (True, "said")
    assert kitdrawer("verify").code == 0


@pytest.mark.parametrize(
    ("cells", "column", "problem"),
    [
        ("0.17,,,,,,,5.10,bottle", "paid", "There is a unit cost too"),
        (",,,,,,,5.10,", "for", "For what was 5.10 paid?"),
        (",,,,,,,,bottle", "paid", "What was paid for “bottle”?"),
        (",,,,,,,5.10,sack of", "for", "Write pack, bottle, all, or an amount"),
        (",,,,,,,5.10 USD,all", "paid", "not in EUR"),
    ],
)
def test_a_price_that_does_not_say_for_what(
    kitdrawer: Kitdrawer, tmp_path: Path, cells: str, column: str, problem: str
) -> None:
    """Refused with the cell."""
    answer = kitdrawer("load", sheet(tmp_path, f"{GLUE},40,{cells}"), "--yes", "--json")
    (place,) = answer.json["error"]["where"]
    assert (place["column"], problem in place["problem"]) == (column, True), place


def test_a_bottles_price_read_as_that_of_a_millilitre_is_asked_about(
    kitdrawer: Kitdrawer, tmp_path: Path
) -> None:
    """By row, with what the offers say and what was meant most likely; a script has to say --sure."""
    path = sheet(tmp_path, f"{GLUE},40,7.80,new one,,,,,,,", f"{TUBE},30,4.40,,,,,,,,")
    look = kitdrawer("load", path, "--dry-run", "--json")
    assert [(one["row"], one["column"]) for one in look.json["doubtful"]] == [
        (2, "unit cost"),
        (3, "unit cost"),
    ]
    assert "Was it paid for a bottle" in look.json["doubtful"][0]["problem"]
    refused = kitdrawer("load", path, "--yes", "--json")
    assert (refused.code, refused.json["error"]["kind"]) == (1, "doubtful")
    assert [one["row"] for one in refused.json["error"]["where"]] == [2, 3]
    assert kitdrawer("load", path, "--yes", "--sure").code == 0
    assert lots(kitdrawer, GLUE)["new one"] == (Decimal("312.00"), "said")


def test_a_corrected_cost_is_a_document_of_its_own(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Ten at 44, then at 4.40: shown before, booked after the load, taken back alone; said twice it is said once."""
    part, head = "Godwit kit 24k gold", "part,quantity,unit cost"

    def worth() -> Decimal:
        return Decimal(kitdrawer("trace", part, "--json").json["worth"])

    assert kitdrawer("load", sheet(tmp_path, f"{part},10,44", head=head), "--yes", "--sure").code == 0
    assert worth() == Decimal("440.00")  # the three at 5.00 that a count had brought too: documents 2 and 3
    path = sheet(tmp_path, f"{part},10,4.40", head=head)
    look = kitdrawer("load", path, "--dry-run")
    assert "They are booked by an entry of their own." in words(look)
    assert "308.00 EUR 30.80 EUR 4.40 EUR" in words(look)
    done = kitdrawer("load", path, "--yes", "--sure", "--json").json
    assert (done["entry"], done["costs_said"]["entry"]) == (4, 5)
    assert sorted(one["was"] for one in done["costs_said"]["lots"]) == [Decimal("132.00"), Decimal("308.00")]
    assert worth() == Decimal("44.00")
    again = kitdrawer("load", path, "--yes", "--sure", "--anew", "--json").json
    assert again["costs_said"] == {"entry": None, "lots": []}
    assert kitdrawer("undo", "5", "--yes").code == 0
    assert worth() == Decimal("440.00")
    assert kitdrawer("verify").code == 0


def stopped() -> None:
    """From now on a load is killed when its counts are written and the costs they say are not."""
    really = Writer.book

    def book(writer: Writer, *more: Any) -> Any:
        if writer.proposal.title.startswith("Costs said"):
            os.kill(os.getpid(), signal.SIGKILL)
        return really(writer, *more)

    pytest.MonkeyPatch().setattr(Writer, "book", book)  # in a child that ends by it


def test_stopped_between_the_counts_and_their_costs(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Neither is booked; the same command does both, and says under which numbers."""
    part, head = "Godwit kit 24k gold", "part,quantity,unit cost"
    path = sheet(tmp_path, f"{part},10,44", head=head)
    assert kitdrawer("load", path, "--yes", "--sure").code == 0
    before = kitdrawer("trace", part, "--json").json
    path = sheet(tmp_path, f"{part},11,4.40", head=head)
    words_ = ("load", path, "--yes", "--sure")
    _, status = os.waitpid(forked(stopped, *words_), 0)
    assert os.waitstatus_to_exitcode(status) == -signal.SIGKILL
    assert kitdrawer("trace", part, "--json").json == before
    done = kitdrawer(*words_)
    assert "Booked (entry 4), and the costs (entry 5)." in words(done)
    told = kitdrawer("trace", part, "--json").json
    assert {one["cost"] / one["quantity"] for one in told["lots"]} == {Decimal("4.40")}
    assert kitdrawer("verify").code == 0


def test_both_are_refused_where_one_is(
    kitdrawer: Kitdrawer, store: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A disk that is full when the costs are written: a sentence, and nothing of the counts either."""
    head = "part,quantity,unit cost"
    write = Writer._lines

    def full(writer: Writer) -> None:
        if writer.proposal.title.startswith("Costs said"):
            raise StoreFull("No room left.")
        write(writer)

    monkeypatch.setattr(Writer, "_lines", full)
    path = sheet(tmp_path, "Godwit kit 24k gold,10,4.40", head=head)
    refused = kitdrawer("load", path, "--yes", "--sure", "--json")
    assert (refused.code, refused.json["error"]["kind"]) == (1, "store full")
    with open_store(store) as found, found.reading() as read:
        assert len(read.documents()) == 1


def test_a_count_with_a_price_gives_an_unknown_cost(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """What nobody offers and nobody priced: unknown, said at once; a later row with its price ends that."""
    head = "part,quantity,unit cost"
    stock = tmp_path / "stock"
    stock.mkdir()
    sheet(stock, "whittled cap,sundry,piece", name="supplies", head="part,type,unit")
    sheet(stock, "whittled cap,8,", head=head)
    first = kitdrawer("load", str(stock), "--yes", "--json").json
    assert (first["unknown"], first["by_offer"]) == (["whittled cap"], [])
    told = kitdrawer("trace", "whittled cap")
    assert "nobody knows what: what 8 of it cost is unknown" in words(told)
    assert "cost unknown" in told.out
    assert kitdrawer("trace", "whittled cap", "--json").json["unknown"] == 8
    later = kitdrawer("load", sheet(tmp_path, "whittled cap,9,1.25", head=head), "--yes", "--json").json
    assert later["costs_said"]["lots"][0]["was"] is None
    assert kitdrawer("trace", "whittled cap", "--json").json["worth"] == Decimal("11.25")
    assert kitdrawer("verify").code == 0


def test_a_count_that_an_offer_prices_says_so(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Nobody says what it cost, the offer does."""
    answer = kitdrawer(
        "load",
        sheet(tmp_path, "Avocet kit chrome,30,,surprise", head="part,quantity,unit cost,lot"),
        "--yes",
        "--json",
    )
    assert answer.json["by_offer"] == ["Avocet kit chrome"]
    cost, how = lots(kitdrawer, "Avocet kit chrome")["surprise"]
    assert (how, cost is not None and cost > 0) == ("by the offer", True)
    assert "by the offer" in kitdrawer("trace", "Avocet kit chrome").out


def test_cells_that_are_read_and_not_used_are_told(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Another day of receipt for what lies there; a cost where there is nothing."""
    path = sheet(tmp_path, f"{TUBE},22,0.40,,2026-01-01,,,,,,", f"{KIT},0,5.00,,,,,,,,")
    notes = " ".join(kitdrawer("load", path, "--dry-run", "--json").json["notes"])
    assert "row 2: “received on” is not used: what is there keeps its own." in notes


def test_what_came_by_a_parcel_costs_what_was_paid(
    ordered: Path, kitdrawer: Kitdrawer, tmp_path: Path
) -> None:
    """A unit cost beside it is told as not used, and nothing changes."""
    assert ordered.exists()
    part, head = "Dunlin kit gunmetal", "part,quantity,unit cost"
    assert kitdrawer("load", sheet(tmp_path, f"{part},0,", head=head), "--yes").code == 0
    assert kitdrawer("arrived", "--supplier", "Saltmarsh Turning Supplies", "--complete", "--yes").code == 0
    before = lots(kitdrawer, part)
    assert [how for _, how in before.values()] == ["said"]
    there = kitdrawer("trace", part, "--json").json["on_hand"]
    told = kitdrawer("load", sheet(tmp_path, f"{part},{there},5.99", head=head), "--yes", "--json").json
    assert "row 2: “unit cost” is not used" in " ".join(told["notes"])
    assert (told["costs_said"]["lots"], lots(kitdrawer, part)) == ([], before)


def test_a_price_seen_that_is_unlikely_is_asked_about(ordered: Path, kitdrawer: Kitdrawer) -> None:
    """Before any parcel is booked; with --sure it is taken, and so is what was paid for all."""
    assert ordered.exists()
    ask = (
        "arrived",
        "Dunlin kit gunmetal",
        "--supplier",
        "Saltmarsh Turning Supplies",
        "--quantity",
        "1",
        "--yes",
    )
    refused = kitdrawer(*ask, "--price", "38")
    assert (refused.code, "is far from the usual" in words(refused)) == (1, True)
    assert kitdrawer(*ask, "--price", "38", "--sure").code == 0
    both = kitdrawer(*ask, "--price", "3.8", "--paid", "3.80", "--for", "all")
    assert "A price is --price, of a pack, or --paid with --for" in words(both)
    done = kitdrawer(*ask, "--paid", "3.90", "--for", "all", "--json")
    assert [one["cost"] for one in done.json["parcels"][0]["lines"]] == [Decimal("3.90")]


def test_a_part_twice_in_one_tab_is_refused_with_both_rows(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Nothing tells the rows apart; lots of their own names are two things."""
    path = sheet(tmp_path, f"{KIT},5,,,,,,,,,", f"{KIT.upper()},7,,,,,,,,,")
    answer = kitdrawer("load", path, "--yes", "--json")
    (place,) = answer.json["error"]["where"]
    assert (place["row"], "the first is in counts.csv, counts, row 2" in place["problem"]) == (3, True)
    named = sheet(tmp_path, f"{KIT},5,,a,,,,,,,", f"{KIT},7,,b,,,,,,,")
    assert kitdrawer("load", named, "--dry-run").code == 0


def test_two_tabs_may_count_two_drawers(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Of different files: together, and told."""
    (tmp_path / "attic").mkdir()
    paths = [
        sheet(tmp_path, f"{KIT},5", head="part,quantity"),
        sheet(tmp_path / "attic", f"{KIT},7", head="part,quantity"),
    ]
    told = kitdrawer("load", *paths, "--dry-run", "--json").json
    assert "of what another tab counts too; taken as more" in " ".join(told["notes"])
    assert [row["found"] for row in told["differences"]] in ([12], [])


def test_fewer_than_what_is_set_aside_names_the_orders(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Before the question, and for programs."""
    assert kitdrawer("promise", "S41", "--yes").code in (0, 3)
    part = next(
        row["part"]
        for row in kitdrawer("shelf", "--json").json["parts"]
        if row["claimed"] >= 2 and row["kind"] == "kit"
    )
    path = sheet(tmp_path, f"{part},1", head="part,quantity")
    look = kitdrawer("load", path, "--dry-run", "--json")
    assert [(one["order"], one["part"]) for one in look.json["short"]] == [("S41", part)]
    assert "Short S41, due" in " ".join(look.err.split())
    assert "now lacks" in look.err


def test_a_hundred_times_the_usual_is_asked_about(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """22 tubes are there; 2,200 are a slip until somebody is sure. What was taken back is nothing usual."""
    path = sheet(tmp_path, f"{TUBE},2200", head="part,quantity")
    refused = kitdrawer("load", path, "--yes")
    assert (refused.code, "is a hundred times the usual" in words(refused)) == (1, True)
    assert kitdrawer("load", path, "--yes", "--sure").code == 0
    assert kitdrawer("undo", "--yes").code == 0
    assert kitdrawer("load", path, "--yes").code == 1
    fewer = sheet(tmp_path, f"{TUBE},2199", head="part,quantity")
    assert kitdrawer("load", fewer, "--yes").code == 0


def test_an_empty_workbook_is_refused(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """The template as it comes: nothing is booked as if it were something."""
    path = tmp_path / "shop.xlsx"
    assert kitdrawer("columns", "--save", str(path)).code == 0
    answer = kitdrawer("load", str(path), "--yes")
    assert (answer.code, "Nothing is filled in shop.xlsx" in words(answer)) == (1, True)
