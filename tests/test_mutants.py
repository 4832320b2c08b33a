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


def test_modules_left_out_for_their_pace_are_there() -> None:
    """Whoever renames one changes its name in `scripts/soak/mutations.py` too."""
    tree = ast.parse((SOAK / "mutations.py").read_text(encoding="utf-8"))
    (left_out,) = (
        ast.literal_eval(node.value)
        for node in tree.body
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "SPEED"
    )
    assert left_out
    assert [name for name in left_out if not (ROOT / "inventory" / f"{name}.py").is_file()] == []


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


def test_a_fault_is_known_by_the_function_or_the_constant_it_is_in() -> None:
    from mutants import mutants

    text = "A, B = 1, 2\n\nclass C:\n    def d(self):\n        return 3\n\ndef e():\n    return 4\n"
    assert [sorted(one.named) for one in mutants(text)] == [["A", "B"], ["A", "B"], ["C.d"], ["e"]]


def test_what_is_said_to_be_of_pace_alone_is_there() -> None:
    """Every file and name of `pace.txt`, each with a reason."""
    from mutants import names_at

    blocks = (SOAK / "pace.txt").read_text(encoding="utf-8").split("\n\n")[1:]
    for block in blocks:
        path, names, why = block.strip().splitlines()
        known = set().union(*names_at(ast.parse((ROOT / path).read_text(encoding="utf-8"))).values())
        assert why.strip()
        assert set(names.split()) <= known, path
