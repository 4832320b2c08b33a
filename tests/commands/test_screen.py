"""What a screen is made of: tables, sentences, progress, exact JSON, and writing again when the book has moved."""

from __future__ import annotations

import json
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.cli import progress as bars
from inventory.cli.exact_json import Exact, Value, dumps
from inventory.cli.session import book
from inventory.cli.tables import Column, table, width_of, wrapped
from inventory.errors import BookMoved, StoreBusy
from inventory.ledger import Proposal
from inventory.store import Read, open_store

from .conftest import Kitdrawer


@given(st.lists(st.tuples(st.text(max_size=60), st.integers()), min_size=1, max_size=8), st.integers(40, 120))
def test_tables_never_grow_wider_than_the_terminal(rows: list[tuple[str, int]], width: int) -> None:
    """The giving column gives; figures stay whole."""
    cells = [["".join(ch for ch in text if ch.isprintable()), str(number)[:12]] for text, number in rows]
    lines = table((Column("Part", gives=True), Column("Count", right=True)), cells, width)
    assert all(width_of(line) <= width for line in lines)
    assert all(line.endswith(cell[1]) for line, cell in zip(lines[2:], cells, strict=True))


def test_a_table_that_cannot_give_is_left_alone() -> None:
    """Better too wide than wrong."""
    lines = table((Column("A"), Column("B")), [["x" * 50, "y" * 50]], 60)
    assert len(lines[2]) == 102


def test_wide_letters_take_two_columns() -> None:
    """Names in other scripts line up too, and accents take none."""
    assert (width_of("木"), width_of("e\u0301"), width_of("abc")) == (2, 1, 3)
    lines = table((Column("Part", gives=True), Column("N")), [["木" * 40, "1"]], 40)
    assert width_of(lines[2]) <= 40


def test_an_empty_sentence_keeps_its_label() -> None:
    """A label without text is still a line."""
    assert wrapped("", "Cut  ") == ["Cut"]


def test_json_is_exact_and_reads_back() -> None:
    """Decimals digit by digit, dates ISO 8601, nothing through a float."""
    value: Value = {"a": Decimal("0.10"), "b": [1, None, True, "ä"], "c": date(2026, 12, 1), "d": {}, "e": []}
    text = dumps(value)
    assert '"a": 0.10' in text
    assert json.loads(text) == {"a": 0.1, "b": [1, None, True, "ä"], "c": "2026-12-01", "d": {}, "e": []}


@given(st.integers(-(10**15), 10**15))
def test_amounts_and_money_keep_every_digit(steps: int) -> None:
    """Thousandths and coins come back as they went out."""
    exact = Exact(2)
    assert int(exact.amount(steps) * 1000) == steps
    money = exact.money(steps)
    assert money is not None
    assert int(money * 100) == steps
    assert exact.money(None) is None


def test_progress_shows_after_a_second_on_a_terminal(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing within the first second, then a bar, then nothing left of it."""
    now = [0.0]
    monkeypatch.setattr(bars, "monotonic", lambda: now[0])
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    with bars.progress("Reading") as step:
        step(1, 10)
        assert capsys.readouterr().err == ""
        now[0] = 2.0
        step(5, 10)
        assert "50%" in capsys.readouterr().err
        now[0] = 2.5
        step(7, 0)
        assert "7" in capsys.readouterr().err
    assert capsys.readouterr().err == "\r\x1b[K"


class Contested:
    """A store in which somebody else books first, a few times."""

    def __init__(self, path: Path, times: int) -> None:
        self.real = open_store(path)
        self.times = times
        self.reading = self.real.reading

    def commit(self, proposal: Proposal, intake: object = None) -> int:
        if self.times:
            self.times -= 1
            raise BookMoved("Somebody was quicker.")
        assert intake is None
        return self.real.commit(proposal)


@pytest.mark.parametrize(("times", "shown"), [(0, 1), (3, 1)])
def test_a_write_is_worked_out_again_when_the_book_moved(store: Path, times: int, shown: int) -> None:
    """It is shown once as long as it says the same, and booked in the end."""
    told: list[Proposal] = []
    contested = Contested(store, times)

    def make(read: Read) -> Proposal:
        return Proposal("count", "Nothing to see", date(2026, 11, 28), basis=read.version)

    number, _ = book(contested, make, lambda p: p, told.append, "Book it?", yes=True)  # type: ignore[arg-type]  # stands in
    assert number is not None
    assert len(told) == shown
    contested.real.close()


def test_a_write_gives_up_in_a_sentence(store: Path) -> None:
    """Waits are bounded."""
    contested = Contested(store, 10_000)

    def make(read: Read) -> Proposal:
        return Proposal("count", f"Version {read.version}", date(2026, 11, 28), basis=read.version)

    with pytest.raises(StoreBusy, match="keep booking"):
        book(contested, make, lambda p: p, lambda _: None, "Book it?", yes=True)  # type: ignore[arg-type]  # stands in
    contested.real.close()


def test_undo_tries_again_and_gives_up(
    kitdrawer: Kitdrawer, store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Like every write."""

    def moved(*_: object, **__: object) -> int:
        raise BookMoved("Somebody was quicker.")

    monkeypatch.setattr("inventory.store.opening.Store.commit", moved)
    answer = kitdrawer("undo", "1", "--yes")
    assert answer.code == 1
    assert "keep booking" in answer.err
    assert store.exists()
