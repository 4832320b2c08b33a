"""Lint, types and every test, in the project's own `.venv`.

    python3 scripts/test.py                 everything
    python3 scripts/test.py --coverage      the same, counting lines and branches: twice as long, with its gate
    python3 scripts/test.py tests/ledger    lint, types, and only these tests; whatever follows is pytest's

Exit code 0 only when every step passed.
"""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

from environment import ROOT, ready, surroundings

COVERED = 97
"""Per cent of lines and branches the tests must reach."""

CHECKS = (
    ("lint", ("-m", "ruff", "check", "--quiet", ".")),
    ("layout", ("-m", "ruff", "format", "--check", "--quiet", ".")),
    ("types", ("-m", "mypy")),
)
PYTEST = ("-m", "pytest", "-q", "-n", "2")
COUNTING = "--coverage"
GATE = ("--cov", f"--cov-fail-under={COVERED}")
"""What counting asks of pytest. It is no part of the everyday run: on Python 3.11 it doubles what a test takes."""


def main(arguments: Sequence[str]) -> int:
    """Every step, whether or not an earlier one failed; pytest last, so that its sum is the last line."""
    python = ready("test")
    failed = [name for name, words in CHECKS if step(python, name, words)]
    chosen = [word for word in arguments if word != COUNTING]
    if step(python, "tests", (*PYTEST, *(GATE if COUNTING in arguments else ()), *chosen)):
        failed.append("tests")
    if failed:
        print(f"Failed: {', '.join(failed)}.", file=sys.stderr)
    return 1 if failed else 0


def step(python: Path, name: str, words: Sequence[str]) -> int:
    """Run one step, saying its name before and its time after; its exit code."""
    print(f"-- {name}: {' '.join(words)}", flush=True)
    started = time.monotonic()
    # One thread for linear algebra: two workers on two cores would otherwise fight over them.
    code = subprocess.run(
        [str(python), *words], cwd=ROOT, env=surroundings(OPENBLAS_NUM_THREADS="1"), check=False
    ).returncode
    if name != "tests":  # pytest says its own time, and its line is to be the last
        print(f"   {'failed' if code else 'fine'}, {time.monotonic() - started:.1f} s", flush=True)
    return code


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
