"""A progress bar for work that takes longer than a second, on a terminal only."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from time import monotonic
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rich.progress import Progress

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
        self.shown: Progress | None = None

    def step(self, done: int, total: int) -> None:
        """How far it is; the bar draws itself ten times a second."""
        if self.shown is None:
            if monotonic() - self.since < PATIENCE or not sys.stderr.isatty():
                return
            self.shown = _begun(self.label)
        self.shown.update(self.shown.task_ids[0], completed=done, total=total or None)

    def end(self) -> None:
        """Wipe the bar."""
        if self.shown is not None:
            self.shown.stop()


def _begun(label: str) -> Progress:
    """A bar on stderr; the library loads only where one is shown."""
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TaskProgressColumn, TextColumn

    # A label is a text of ours, and no place for markup.
    columns = (TextColumn("{task.description}:", markup=False), MofNCompleteColumn(" of "), BarColumn(24))
    bar = Progress(*columns, TaskProgressColumn(), console=Console(file=sys.stderr), transient=True)
    bar.add_task(label, total=None)
    bar.start()
    return bar
