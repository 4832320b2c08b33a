"""What C prints while a solver runs is heard nowhere; what is printed before and after is."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from inventory.solving import STDOUT, unheard

SAYS = """
import ctypes, sys
from inventory.solving import unheard
libc = ctypes.cdll.ucrtbase if sys.platform == "win32" else ctypes.CDLL(None)
print("before")
with unheard():
    libc.puts(b"a line of the solver")
    1 / (len(sys.argv) - 1)
print("after")
"""


@pytest.mark.parametrize(("more", "said", "code"), [(["1"], "before\nafter\n", 0), ([], "before\n", 1)])
def test_only_the_program_is_heard(more: list[str], said: str, code: int) -> None:
    """In a pipe, where C holds its lines back; an error goes on."""
    run = subprocess.run([sys.executable, "-c", SAYS, *more], capture_output=True, text=True, check=False)
    assert (run.stdout, run.returncode) == (said, code)


def test_where_nobody_hears_anyway(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a stdout there is nothing to keep out."""

    def none(number: int) -> int:
        raise OSError(number)

    monkeypatch.setattr(os, "dup", none)
    with unheard():
        os.write(STDOUT, b"")
