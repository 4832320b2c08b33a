"""Answers to questions: taken as they are kept, or refused with what is accepted."""

from __future__ import annotations

from datetime import date

import pytest

from inventory.errors import BadMeasure
from inventory.sheets.guess.answers import read_answer, usable
from inventory.sheets.guess.guesses import Asking, Question

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
