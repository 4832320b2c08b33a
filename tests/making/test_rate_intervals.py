"""The table of `scripts/rate_intervals.py` in small: the rows that were held least often."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest

SCRIPTS = Path(__file__).resolve().parents[2] / "scripts"


def script(name: str, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """A script as a module; scripts find each other as they do when started by name."""
    monkeypatch.syspath_prepend(str(SCRIPTS))
    spec = importlib.util.spec_from_file_location(f"script_{name}", SCRIPTS / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    monkeypatch.setitem(sys.modules, spec.name, module)
    spec.loader.exec_module(module)
    return module


@pytest.mark.cross_check
def test_intervals_hold_where_they_are_hardest_pressed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two rates of one bottle, truth three times the sheet, two sessions; a real hand: 85 of 100 and more.

    45 shops a row: all rows together are held to that, a single one to what chance may do to 45.
    """
    table = script("rate_intervals", monkeypatch)
    hard = (
        table.Row("piece", 3.0, "proportional", 0.25, 2),
        table.Row("piece + session", 3.0, "proportional", 0.25, 2),
        table.Row("piece + session", 3.0, "constant", 0.1, 2),
        table.Row("piece", None, "proportional", 0.25, 6),
        table.Row("volume + barrel", 2.0, "proportional", 0.25, 20),
    )
    shares = [share for row in hard for share, _ in table.held(row, 45).values()]
    assert sum(shares) / len(shares) >= 0.88
    assert min(shares) >= 0.72
