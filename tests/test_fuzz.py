"""The targets of scripts/soak/fuzz.py: all that reads what people write, and nothing but refusals comes out."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path
from random import Random
from typing import Any

import pytest
from measures.laws import LAWS

SCRIPTS = Path(__file__).resolve().parent.parent / "scripts" / "soak"


@pytest.fixture
def fuzz(monkeypatch: pytest.MonkeyPatch) -> Any:
    """Both scripts, as they find each other."""
    monkeypatch.syspath_prepend(str(SCRIPTS))
    return import_module("fuzz_targets"), import_module("fuzz")


def test_every_target_takes_its_seeds_and_changes_of_them(fuzz: Any) -> None:
    """A few bytes changed, cut or doubled by chance: read or refused."""
    targets, rng = fuzz[0].targets(), Random(7)
    assert set(targets) >= {name.replace(", ", " ") for name in LAWS} | set(fuzz[0].SHEETS)
    for name, target in targets.items():
        for seed in (b"", *fuzz[0].seeds(name)):
            target(seed)
            for _ in range(3):
                data = bytearray(seed * rng.choice((1, 2)) or b"\xff")
                data[rng.randrange(len(data))] = rng.randrange(256)
                target(bytes(data[: rng.choice((len(data), len(data) // 2))]))


def test_what_the_fuzzer_says_is_read(fuzz: Any) -> None:
    """Executions and edges of a sound run; the traceback and the input of a finding."""
    said = "#12\tNEW    cov: 70 ft: 9 corp: 1/1b\n#90\tDONE   cov: 77 ft: 9 corp: 1/1b\nDone 90 runs in 4 second(s)\n"
    assert fuzz[1].outcome(0, said, []) == fuzz[1].Run(90, 77)
    said += "\n === Uncaught Python exception: ===\nValueError: x\nstat::number_of_executed_units: 95\n"
    run = fuzz[1].outcome(77, said, [b"1/0"])
    assert (run.executions, run.edges) == (95, 77)
    assert "ValueError: x" in run.finding
    assert "b'1/0'" in run.finding
