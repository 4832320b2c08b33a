"""Faults made on purpose are faults: each changes what the text computes, at one place, and nothing else."""

from __future__ import annotations

import ast
import sys
from pathlib import Path

import pytest

SOAK = Path(__file__).resolve().parents[1] / "scripts" / "soak"
ROOT = SOAK.parents[1]


@pytest.fixture(autouse=True)
def found(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(str(SOAK))
    monkeypatch.delitem(sys.modules, "mutants", raising=False)


@pytest.mark.parametrize(
    ("text", "changed"),
    [
        ("a < b", ["(a <= b)"]),
        ("a < b <= 2", ["(a <= b <= 2)", "(a < b < 2)", "a < b <= (3)"]),
        ("x + y", ["(x - y)"]),
        ("x // y", ["(x * y)"]),
        ("'one' + two", []),
        ("f'{one + 1}'", []),
        ("not done", ["(done)"]),
        ("a and b", ["(a or b)"]),
        ("x: int = 3", ["x: int = (4)"]),
        ("ok = True", ["ok = (False)"]),
        ("ok = 0.0", ["ok = (0.25)"]),
        ("ok = min(a)", ["ok = (max(a))"]),
        ("'ä' in 'ä', n == 1", ["('ä' not in 'ä'), n == 1", "'ä' in 'ä', (n != 1)", "'ä' in 'ä', n == (2)"]),
        ("zip(a, b, strict=True)", []),
        ("f(\n    a\n    - b,\n)", ["f(\n    (a + b),\n)"]),
        ("if TYPE_CHECKING:\n    a < b", []),
    ],
)
def test_one_thing_is_changed_at_a_time(text: str, changed: list[str]) -> None:
    from mutants import mutants

    assert sorted(one.text for one in mutants(text)) == sorted(changed)


def test_every_fault_of_a_module_can_be_read_by_python() -> None:
    from mutants import mutants

    text = (ROOT / "inventory" / "ledger" / "fifo.py").read_text(encoding="utf-8")
    found = list(mutants(text))
    assert len(found) > 10
    whole = ast.dump(ast.parse(text))
    assert all(ast.dump(ast.parse(one.text)) != whole for one in found)
