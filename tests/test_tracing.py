"""Leaving a call uncounted loses no line around it. Needs no source: checked against coverage.py itself."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from coverage import CoverageData

CALLER = """
from library import long_call, untraced

long_call = untraced(long_call)


def inner():
    long_call()
    return 1


def outer():
    found = inner()
    long_call()
    found += 1
    return found


outer()
"""

LIBRARY = """
import sys
sys.path.insert(0, {tests!r})
from tracing import untraced


def long_call():
    return 2
"""


def test_lines_around_a_call_that_is_not_counted_are(tmp_path: Path) -> None:
    (tmp_path / "caller.py").write_text(CALLER)
    (tmp_path / "library.py").write_text(LIBRARY.format(tests=str(Path(__file__).parent)))
    subprocess.run(
        [sys.executable, "-m", "coverage", "run", "--branch", "caller.py"], cwd=tmp_path, check=True
    )
    data = CoverageData(str(tmp_path / ".coverage"))
    data.read()
    (caller,) = (name for name in data.measured_files() if name.endswith("caller.py"))
    counted = set(data.lines(caller) or ())
    assert {8, 9, 13, 14, 15, 16} <= counted
    (library,) = (name for name in data.measured_files() if name.endswith("library.py"))
    assert 8 not in set(data.lines(library) or ())
