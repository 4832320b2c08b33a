"""A progress bar for work that takes longer than a second, on a terminal only."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from time import monotonic

PATIENCE = 1.0
Step = Callable[[int, int], None]


@contextmanager
def progress(label: str) -> Iterator[Step]:
    """A function to call with (done, of how many; 0 where unknown). Nothing shows within the first second."""
    bar = _Bar(label)
    try:
        yield bar.step
    finally:
        bar.end()


class _Bar:
    def __init__(self, label: str) -> None:
        self.label = label
        self.since = monotonic()
        self.last = 0.0
        self.shown = False

    def step(self, done: int, total: int) -> None:
        """Redraw at most ten times a second."""
        now = monotonic()
        if now - self.since < PATIENCE or now - self.last < 0.1 or not sys.stderr.isatty():
            return
        self.last, self.shown = now, True
        share = f" {_blocks(done / total)} {done / total:4.0%}" if total else ""
        sys.stderr.write(f"\r{self.label}: {done:,}{f' of {total:,}' if total else ''}{share}\x1b[K")
        sys.stderr.flush()

    def end(self) -> None:
        """Wipe the line."""
        if self.shown:
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()


def _blocks(share: float, width: int = 24) -> str:
    full = round(min(max(share, 0.0), 1.0) * width)
    return "█" * full + "░" * (width - full)
