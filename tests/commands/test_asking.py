"""One's own questions, as the guide asks them, and frames that say what `--json` says."""

from __future__ import annotations

import doctest
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from inventory import open_book
from inventory.asking.frames import FRAMES
from inventory.errors import UnknownName
from inventory.guide import page

from .conftest import TODAY, Kitdrawer

DAY = date.fromisoformat(TODAY)


def test_the_questions_of_the_guide(store: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Typed as they stand there, they answer what stands there, on the sample stock."""
    section = page("questions").replace("```", "")
    test = doctest.DocTestParser().get_doctest(section, {}, "questions.md", None, None)
    assert len(test.examples) > 12
    assert [name for name in FRAMES if f"`{name}`" not in section] == []
    monkeypatch.chdir(store.parent)
    store.rename("shop.kitdrawer")
    told: list[str] = []
    doctest.DocTestRunner(verbose=False).run(test, out=told.append)
    assert "".join(told) == ""


def rows(found: Any, keys: list[str]) -> list[dict[str, Any]]:
    """The rows of a frame as JSON would have them: what is None is left out, days are text, tuples lists."""
    return [
        {
            key: _plain(value)
            for key, value in row.items()
            if key in keys and value is not None and not (isinstance(value, float) and value != value)
        }
        for row in found.to_dict("records")
    ]


def _plain(value: object) -> object:
    if isinstance(value, date):
        return value.isoformat()
    return list(value) if isinstance(value, tuple) else value


def told(objects: list[dict[str, Any]], keys: list[str]) -> list[dict[str, Any]]:
    """The same objects of an answer, without what is null."""
    return [{key: one[key] for key in keys if one.get(key) is not None} for one in objects]


def test_parts_say_what_shelf_says(booked: Path, kitdrawer: Kitdrawer) -> None:
    """Every field of `shelf --json` is a column of the same name with the same values, to the last digit."""
    answer = kitdrawer("shelf", "--json").json["parts"]
    keys = list(dict.fromkeys(key for part in answer for key in part))
    with open_book(booked, today=DAY) as book:
        frame = book.frame("parts")
    assert set(keys) <= set(frame.columns)
    assert rows(frame, keys) == told(answer, keys)
    assert {type(value) for value in frame["on_hand"]} == {Decimal}
    assert frame["low"].dtype == bool


def test_orders_say_what_orders_says(booked: Path, kitdrawer: Kitdrawer) -> None:
    """Likewise `orders`, but for how each stands, which is worked out."""
    keys = [
        "order",
        "state",
        "pattern",
        "blank",
        "count",
        "handed_over",
        "due",
        "platings",
        "customer",
        "price",
    ]
    answer = kitdrawer("orders", "--all", "--json").json["orders"]
    with open_book(booked) as book:
        frame = book.frame("orders")
    by_name = sorted(rows(frame, keys), key=lambda one: one["order"])
    assert by_name == sorted(told(answer, keys), key=lambda one: one["order"])
    assert all(type(day) is date for day in frame["due"])


@pytest.mark.parametrize("part", ["walnut blank", "CA medium"])
def test_lots_and_movements_say_what_trace_says(booked: Path, kitdrawer: Kitdrawer, part: str) -> None:
    """The lines of a part that stand and the lots that are left of it, with their costs."""
    answer = kitdrawer("trace", part, "--json").json
    with open_book(booked) as book:
        lots, lines = book.frame("lots"), book.frame("movements")
    keys = ["lot", "name", "received_on", "opened_on", "use_by", "quantity", "cost", "cost_from"]
    assert rows(lots[lots["part"] == part], keys) == told(answer["lots"], keys)
    keys = ["document", "kind", "title", "on", "account", "quantity", "cost", "lot", "order", "reason"]
    assert rows(lines[lines["part"] == part], keys) == told(answer["lines"], keys)


def test_what_was_taken_back_is_left_out_unless_everything_is_asked_for(
    booked: Path, kitdrawer: Kitdrawer
) -> None:
    """An undone session is in no frame but those of everything."""
    with open_book(booked) as book:
        before = {name: len(book.frame(name)) for name in FRAMES}
        lines = set(book.frame("movements")["document"])
    assert before["pieces"] > 0
    assert kitdrawer("undo", "3", "--yes").code == 0
    with open_book(booked) as book:
        assert set(book.frame("movements")["document"]) == lines - {3}
        assert set(book.frame("movements", everything=True)["document"]) == {*lines, 4}
        assert len(book.frame("pieces")) == 0
        assert list(book.frame("entries")["entry"]) == [1, 2]
        every = book.frame("entries", everything=True)
    assert list(every["entry"]) == [1, 2, 3, 4]
    assert (every["undone_by"][2], every["undoes"][3]) == (4, 3)
    assert every["parts"][0]


def test_entries_say_what_entries_says(booked: Path, kitdrawer: Kitdrawer) -> None:
    """Every entry with its parts and orders, and what took it back."""
    assert kitdrawer("undo", "3", "--yes").code == 0
    answer = kitdrawer("entries", "--all", "--json").json["entries"]
    keys = ["entry", "on", "what", "kind", "parts", "orders", "undoes", "undone_by"]
    with open_book(booked) as book:
        assert rows(book.frame("entries", everything=True), keys) == told(answer[::-1], keys)


def test_pieces_and_sessions_say_what_was_made(booked: Path) -> None:
    """Started pieces are good or were lost at some stage; the session says how many were planned."""
    with open_book(booked) as book:
        pieces, sessions = book.frame("pieces"), book.frame("sessions")
    stages = [column for column in pieces.columns if column.startswith("lost_at_")]
    assert (pieces["started"] == pieces["good"] + pieces["lost"]).all()
    assert (pieces["lost"] == pieces[stages].sum(axis=1)).all()
    assert pieces["material"].notna().all()
    assert list(sessions["state"]) == ["booked"]
    assert sessions["planned"][0] >= pieces["started"].sum() - pieces["started"].max()


def test_an_unknown_frame_names_those_there_are(store: Path) -> None:
    """A slip of a name is answered with the nearest."""
    with open_book(store) as book, pytest.raises(UnknownName, match="no frame called “part”") as caught:
        book.frame("part")
    assert "parts" in caught.value.hint


def test_the_book_every_command_uses(store: Path) -> None:
    """Without a place it is the one of KITDRAWER_STORE, on the calendar's own day."""
    with open_book() as book:
        assert book.store.where.file == store
        assert len(book.frame("prices")) > 200
