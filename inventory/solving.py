"""What a numerical solver says past Python, kept out of the answers: a line of its own would break `--json`.

HiGHS has lines that no option of its turns off, printed by C where it finds a list in another shape of the model.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager

STDOUT = 1


@contextmanager
def unheard() -> Iterator[None]:
    """While this lasts what C prints goes nowhere; Python's own stdout is flushed before, and works again after."""
    sys.stdout.flush()
    try:
        kept = os.dup(STDOUT)
    except OSError:  # there is none: nothing could be heard
        yield
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, STDOUT)
        yield
    finally:
        _flushed()
        os.dup2(kept, STDOUT)
        os.close(kept)
        os.close(nowhere)


def _flushed() -> None:
    """What C still holds back is written while it goes nowhere."""
    import ctypes

    libc = ctypes.cdll.ucrtbase if sys.platform == "win32" else ctypes.CDLL(None)
    libc.fflush(None)
