"""Lint, types and every test, in the project's own `.venv`.

    python3 scripts/test.py                 everything
    python3 scripts/test.py --coverage      the same, counting lines and branches: twice as long, with its gate
    python3 scripts/test.py tests/ledger    lint, types, and only these tests; whatever follows is pytest's

Exit code 0 only when every step passed.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from environment import ROOT, ready, surroundings

COVERED = 97
"""Per cent of lines and branches the tests must reach."""

CHECKS = (
    ("bytecode", ("-m", "compileall", "-q", "-j", "2", "inventory", "tests")),
    ("lint", ("-m", "ruff", "check", "--quiet", ".")),
    ("layout", ("-m", "ruff", "format", "--check", "--quiet", ".")),
    ("types", ("-m", "mypy")),
)
PYTEST = ("-m", "pytest", "-q", "-n", "2")
PLAIN = "--assert=plain"
"""Asserts as they are written: to have each say what it compared, every process would write 400 modules anew first."""
AGAIN = ("--last-failed", "--last-failed-no-failures=none")
"""What failed, once more: then asserts say what they compared."""
CORES = {"MYPY_NUM_WORKERS": "2", "OPENBLAS_NUM_THREADS": "1"}
"""mypy takes two cores; linear algebra one thread, for two workers of pytest would fight over them."""
COUNTING = "--coverage"
GATE = ("--cov", f"--cov-fail-under={COVERED}")
"""What counting asks of pytest. It is no part of the everyday run: on Python 3.11 it doubles what a test takes."""


MEMORY = "/dev/shm"  # noqa: S108 - a folder of our own is made in it
ROOM = 4 << 30
"""Bytes that must be free there: a whole run writes some hundreds of megabytes."""


def main(arguments: Sequence[str]) -> int:
    """Every step, whether or not an earlier one failed; pytest last, so that its sum is the last line."""
    python = ready("test")
    failed = [name for name, words in CHECKS if step(python, name, words)]
    chosen = [word for word in arguments if word != COUNTING]
    with in_memory() as place:
        if step(
            python, "tests", (*PYTEST, PLAIN, *(GATE if COUNTING in arguments else ()), *chosen), **place
        ):
            failed.append("tests")
            step(python, "what failed, once more", (*PYTEST, *AGAIN, *chosen), **place)
    if failed:
        print(f"Failed: {', '.join(failed)}.", file=sys.stderr)
    return 1 if failed else 0


@contextmanager
def in_memory() -> Iterator[dict[str, str]]:
    """What tells pytest to write into memory, where there is room; gone afterwards.

    Books are written so that a disk without power forgets nothing, and thousands of tests would wait for it.
    """
    roomy = os.access(MEMORY, os.W_OK) and shutil.disk_usage(MEMORY).free > ROOM
    if not roomy:
        yield {}
        return
    with tempfile.TemporaryDirectory(prefix="kitdrawer-tests-", dir=MEMORY) as folder:
        os.chmod(folder, 0o755)  # noqa: S103 - some tests are of somebody who may do little
        yield {"PYTEST_DEBUG_TEMPROOT": folder}


def step(python: Path, name: str, words: Sequence[str], **more: str) -> int:
    """Run one step, saying its name before and its time after; its exit code. more: of its environment."""
    print(f"-- {name}: {' '.join(words)}", flush=True)
    started = time.monotonic()
    code = subprocess.run(
        [str(python), *words], cwd=ROOT, env=surroundings(**CORES, **more), check=False
    ).returncode
    if "pytest" not in words:  # it says its own time, and its line is to be the last
        print(f"   {'failed' if code else 'fine'}, {time.monotonic() - started:.1f} s", flush=True)
    return code


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
