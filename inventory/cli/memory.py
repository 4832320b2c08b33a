"""Memory: when Python searches for objects nobody uses, and when that would find nothing worth its time."""

from __future__ import annotations

import atexit
import gc
from collections.abc import Iterator
from contextlib import contextmanager

_SELDOM = (200_000, 20, 100)
"""New objects before a search, and searches of the young before one of the older: see `gc.set_threshold`."""


def short_lived() -> None:
    """This process runs one command and ends: what loading makes stays, and the last search at its end is in vain.

    The two are a sixth of the processor time of a looking command.
    """
    gc.set_threshold(*_SELDOM)
    atexit.register(gc.freeze)


@contextmanager
def no_collecting() -> Iterator[None]:
    """Python's search for unused objects rests meanwhile: over 200,000 living ones it costs a fifth of a load."""
    running = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if running:
            gc.enable()
