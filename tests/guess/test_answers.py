"""Answers to questions: taken as they are kept, or refused with what is accepted."""

from __future__ import annotations

from datetime import date

import pytest

from inventory.errors import BadMeasure
from inventory.sheets.guess.answers import read_answer, usable
from inventory.sheets.guess.cells import Cell, Grid
from inventory.sheets.guess.guesses import Asking, Question
from inventory.sheets.guess.understanding import understand

TODAY = date(2026, 11, 28)
PLATINGS = ("chrome", "black chrome", "gold")


def asked(key: str, choices: tuple[str, ...] = ()) -> Question:
    return Question(key, "What?", "Stock!B2", "gold", choices)


@pytest.mark.parametrize(
    ("key", "choices", "text", "kept"),
    [
        ("plating|gm", PLATINGS, "CHROME", "chrome"),
        ("plating|gm", PLATINGS, "2", "black chrome"),
        ("plating|gm", PLATINGS, "bl", "black chrome"),
        ("plating|gm", PLATINGS, "ruthenium", "ruthenium"),
        ("same|family|a|b", ("yes", "no"), "n", "no"),
        ("count|Stock!B2", (), "1 1/2 bottles", "1.5 bottle"),
        ("count|Stock!B2", (), "none", "0"),
        ("wanted|Orders!A1", (), "a dozen", "12"),
        ("paid|Stock!E2", (), "4,10 €", "4.1"),
        ("due|Orders!A1", (), "19.12.", "2026-12-19"),
        ("due|Orders!A1", (), "before Easter", "2027-03-27"),
        ("called|dunlin", (), "  Dunlin   slim ", "Dunlin slim"),
    ],
)
def test_an_answer_is_read(key: str, choices: tuple[str, ...], text: str, kept: str) -> None:
    """A choice by its word, number or begin; one's own word where lists are open; counts, sums, days as written."""
    assert read_answer(asked(key, choices), text, TODAY) == kept


@pytest.mark.parametrize(
    ("key", "choices", "text"),
    [
        ("same|family|a|b", ("yes", "no"), "maybe"),
        ("plating|gm", PLATINGS, "7"),
        ("count|Stock!B2", (), "a few"),
        ("wanted|Orders!A1", (), "1/2"),
        ("wanted|Orders!A1", (), "0"),
        ("paid|Stock!E2", (), "a lot"),
        ("due|Orders!A1", (), "3/4"),
        ("due|Orders!A1", (), "soon"),
    ],
)
def test_what_is_no_answer_is_refused(key: str, choices: tuple[str, ...], text: str) -> None:
    """What could mean two things, or nothing, is asked again with what is accepted."""
    with pytest.raises(BadMeasure) as refused:
        read_answer(asked(key, choices), text, TODAY)
    assert refused.value.hint.startswith("Write ")


def test_answers_out_of_a_sheet_are_told_apart() -> None:
    """Those that can be read are kept, the others are told; one whose question is gone is kept as it is."""
    questions = {"due|Orders!A1": asked("due|Orders!A1")}
    good, told = usable(questions, {"due|Orders!A1": "one fine day", "gone": "x"}, TODAY)
    assert good == {"gone": "x"}
    assert len(told) == 1
    assert "one fine day" in told[0]


def test_a_question_is_asked_once_for_many_rows() -> None:
    """The same key asked again settles more rows; an answer that is there is given back, its question remembered."""
    asking = Asking({"kind|x": "tool"})
    assert asking.ask("plating|gm", "Which?", "gold").grade == "asked"
    assert asking.ask("plating|gm", "Which?", "gold").value == "gold"
    assert asking.questions["plating|gm"].rows == 2
    assert (asking.ask("kind|x", "What?", "kit").value, list(asking.answered)) == ("tool", ["kind|x"])


def grid(*rows: tuple[str, ...]) -> Grid:
    cells = {
        number: {at: Cell("Stock", number, at, text, text) for at, text in enumerate(row) if text}
        for number, row in enumerate(rows, start=1)
    }
    return Grid("own.csv", "Stock", cells)


def test_a_row_may_be_answered_to_be_nothing() -> None:
    """What is no stock after all is kept as a remark, and nothing more is asked of it."""
    rows = grid(("What", "How many"), ("Dunlin kit chrome", "4"), ("Wobble", "a few"))
    asked = understand([rows], {}, TODAY)
    assert [(one.key, one.choices[-1]) for one in asked.questions if one.choices] == [
        ("kind|wobble", "nothing")
    ]
    told = understand([rows], {"kind|wobble": "nothing"}, TODAY)
    assert [thing.value("family") for thing in told.things] == ["Dunlin"]
    assert told.questions == []
    assert [one.what for one in told.kept if one.cell.row == 3] == ["note", "note"]


def test_kits_called_by_their_plating_alone_are_asked_about() -> None:
    """A plating alone is no name: which kits they are is asked once for the column."""
    rows = grid(("What", "How many"), ("Dunlin kit chrome", "4"), ("chrome", "3"), ("gold", "2"))
    keys = [one.key for one in understand([rows], {}, TODAY).questions]
    assert [key for key in keys if key.startswith("called|")] == ["called|Stock|0"]


def test_a_column_of_short_words_is_asked_about_unless_suppliers_are_known() -> None:
    """An unknown heading over names that return: asked; a supplier named elsewhere says what the column is."""
    rows = ("walnut", "4", "Driftwood"), ("cherry", "3", "Driftwood"), ("oak", "2", "Far Reach")
    alone = understand([grid(("Wood", "How many", "Zog"), *rows)], {}, TODAY)
    assert [one.key for one in alone.questions] == ["column|Stock|2"]
    kits = grid(("Kit", "How many", "Supplier"), ("Dunlin kit chrome", "4", "Driftwood"))
    kits.tab = "Kits"
    known = understand([kits, grid(("Wood", "How many", "Zog"), *rows)], {}, TODAY)
    assert known.questions == []
    assert {(thing.value("supplier"), thing.said["supplier"].grade) for thing in known.things[1:]} == {
        ("Driftwood", "guessed"), ("Far Reach", "guessed"),
    }  # fmt: skip


def test_a_part_paid_is_not_paid() -> None:
    """A deposit is a remark, and the order is not paid."""
    order = understand(
        [grid(("Orders",), ("Mrs Gull: 2 Dunlin pens walnut chrome by 12 Dec, deposit paid",))], {}, TODAY
    )
    assert order.orders[0].said["state"].value == "unpaid"
    assert order.orders[0].said["state"].grade == "guessed"
