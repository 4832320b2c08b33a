"""Faults made in a copy of the project, whose tests are run by a process of their own.

Slower than `swapping.py`, whose processes have read everything already: for what is worked out while a module is read.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from environment import ROOT, Stopped, surroundings
from mutants import Mutant
from swapping import ENDLESS, limited

OPTIONS = (
    *("-q", "-x", "-rf", "-n", "0", "-p", "no:cacheprovider", "-p", "no:randomly"),
    *("-W", "ignore::pytest.PytestAssertRewriteWarning"),  # of libraries that are read already
)
FEW = 12
"""Tests run first: reading the files of all others takes longer."""


class Copied:
    """A copy of the project in which faults are made."""

    def __init__(self, copy: Path) -> None:
        self.copy = copy
        self._sound: set[str] = set()
        left_out = shutil.ignore_patterns(".git", ".venv", ".mutations", ".*_cache", "*.pyc")
        shutil.copytree(ROOT, copy, ignore=left_out)

    def noticed(self, path: str, mutant: Mutant, tests: Sequence[str]) -> bool:
        """Whether a test fails, or no longer ends, that does not do so without the fault; a few first."""
        few, rest = tests[:FEW], tests[FEW:]
        return self._noticed(path, mutant, few) or self._noticed(path, mutant, rest)

    def _noticed(self, path: str, mutant: Mutant, tests: Sequence[str]) -> bool:
        file, left = self.copy / path, list(tests)
        whole = file.read_text(encoding="utf-8")
        while left:
            file.write_text(mutant.text, encoding="utf-8")
            try:
                code, failed = self._run(left)
            finally:
                file.write_text(whole, encoding="utf-8")
            if code == 0:
                return False
            if failed is None and not self._is_sound(left[0]):
                raise Stopped(f"{left[0]} cannot be run in {self.copy}, with or without a fault.")
            if failed is None or self._is_sound(failed):
                return True
            left.remove(failed)
        return False

    def _is_sound(self, test: str) -> bool:
        """Whether it passes without any fault."""
        if test not in self._sound and self._run([test])[0] == 0:
            self._sound.add(test)
        return test in self._sound

    def _run(self, tests: Sequence[str]) -> tuple[int, str | None]:
        """The exit code and the test that failed, if it came so far."""
        listed = self.copy / "tests.txt"
        listed.write_text("\n".join(tests), encoding="utf-8")
        try:
            done = subprocess.run(
                [sys.executable, "-m", "pytest", *OPTIONS, f"@{listed}"],
                cwd=self.copy,
                env=surroundings(PYTHONPATH=str(self.copy)),
                capture_output=True,
                text=True,
                timeout=10 * ENDLESS,  # for what waits for ever
                preexec_fn=limited,  # nothing here has threads
                check=False,
            )
        except subprocess.TimeoutExpired:
            return 1, None
        found = re.search(r"^FAILED (.+?)(?: - .*)?$", done.stdout, re.MULTILINE)
        return done.returncode, found[1] if found and found[1] in tests else None
