"""What a screen is made of: tables, sentences, progress, exact JSON."""

from __future__ import annotations

import json
import time
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.cli.drawing.blocks import Cells, Listing
from inventory.cli.drawing.listings import laid_out
from inventory.cli.drawing.texts import width_of, wrapped
from inventory.cli.json.exact import Exact, Value, dumps
from inventory.cli.screens import progress as bars


@given(st.lists(st.tuples(st.text(max_size=60), st.integers()), min_size=1, max_size=8), st.integers(40, 120))
def test_tables_never_grow_wider_than_the_terminal(rows: list[tuple[str, int]], width: int) -> None:
    """Names are wrapped; figures stay whole, each on the first line of its row."""
    cells = [["".join(ch for ch in text if ch.isprintable()), str(number)[:12]] for text, number in rows]
    _, drawn = laid_out(Listing((Cells("Part"), Cells("Count", right=True)), cells), len(cells), width)
    assert all(width_of(line) <= width for row in drawn for line in row)
    assert all(row[0].endswith(cell[1]) for row, cell in zip(drawn, cells, strict=True))


def test_wide_letters_take_two_columns() -> None:
    """Names in other scripts line up too, and accents take none."""
    assert (width_of("木"), width_of("e\u0301"), width_of("abc")) == (2, 1, 3)
    _, drawn = laid_out(Listing((Cells("Part"), Cells("N")), [["木" * 40, "1"]]), 1, 40)
    assert max(width_of(line) for line in drawn[0]) <= 40


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
    monkeypatch.setenv("TERM", "xterm")
    with bars.progress("Reading [b]") as step:
        step(1, 10)
        assert capsys.readouterr().err == ""
        now[0] = 2.0
        step(5, 10)
        time.sleep(0.3)
        shown = capsys.readouterr().err
        assert "Reading [b]:" in shown
        assert "50%" in shown
        step(7, 0)
        time.sleep(0.3)
        assert "7 of 10" in capsys.readouterr().err
    assert capsys.readouterr().err.endswith("\x1b[1A\x1b[2K")


def test_progress_is_not_for_files(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where stderr is no terminal nothing is drawn, however long it takes."""
    monkeypatch.setattr(bars, "PATIENCE", 0.0)
    with bars.progress("Reading") as step:
        step(5, 10)
    assert capsys.readouterr().err == ""
