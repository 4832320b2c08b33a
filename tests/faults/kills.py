"""`kill -9` in the midst of a command: at a random moment of it, or at one of its steps; and what is found afterwards.

What this shows: a process that dies at once, whatever it was doing, loses nothing it said was done and leaves nothing
half-done. It does not show what a disk without power forgets of what it was told to keep, for the system's own memory
outlives the process. That rests on SQLite's `synchronous = FULL`, on fsync before a name is given to a file, and on the
server's `fsync`; `test_power.py` holds those.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from signal import SIGKILL
from tempfile import TemporaryDirectory

from .shop import Shop
from .trials import Run, Trial, begun, half_done
from .warm import Said, Warm
from .worlds import STORE, World, asked, there

BEYOND = 1.05
"""Random moments reach a little beyond the command's own duration."""
FINE = (0, 3)
"""Exit codes of a command that did its work."""


@dataclass(frozen=True)
class Whole:
    """An unkilled run: what there was before and after it, how long it took, how many steps it has."""

    before: World
    after: World
    seconds: float
    steps: int


@dataclass
class Row:
    """What came of the trials of one command on one engine."""

    command: str
    engine: str
    trials: int = 0
    midway: int = 0
    done: int = 0
    wholly_there: int = 0
    lost: int = 0
    half_done: int = 0
    wrong: list[str] = field(default_factory=list)


class Kills:
    """Trials of kill -9 in a shop, over a forking process."""

    def __init__(self, warm: Warm, shop: Shop, seed: int) -> None:
        self.warm, self.shop, self.dice = warm, shop, Random(seed)

    def row(self, trial: Trial, engine: str, trials: int) -> Row:
        """So many trials of one command: every second one at a random moment, the others at a random step."""
        row, whole = Row(trial.name, engine), self.whole(trial, engine)
        for number in range(trials):
            with self._run(trial, engine) as run:
                if number % 2:
                    said = self._call(run, step=self.dice.randint(1, whole.steps))
                else:
                    said = self._call(run, after=self.dice.uniform(0, whole.seconds * BEYOND))
                self._judge(trial, row, whole, run, said)
        return row

    def whole(self, trial: Trial, engine: str) -> Whole:
        """Run a command to its end."""
        with self._run(trial, engine) as run:
            before = run.world()
            said = self._call(run, step=0)
            assert said.code in FINE, said
            assert trial.told(said.out), said
            after = run.world()
            assert before != after, said
            steps = int((run.folder / ".said.steps").read_text(encoding="utf-8"))
        return Whole(before, after, said.seconds, steps)

    @contextmanager
    def _run(self, trial: Trial, engine: str) -> Iterator[Run]:
        with (
            TemporaryDirectory(prefix="fault") as name,
            begun(trial, self.shop, engine, Path(name)) as run,
        ):
            yield run

    def _call(self, run: Run, after: float | None = None, step: int | None = None) -> Said:
        said = self.warm.call(run.store, *run.words, folder=run.folder, after=after, step=step)
        for store in (run.store, run.other):
            quiet(store)
        return said

    def _judge(self, trial: Trial, row: Row, whole: Whole, run: Run, said: Said) -> None:
        told, killed = trial.told(said.out), said.code == -SIGKILL
        row.trials += 1
        row.midway += killed and not told
        row.done += told
        if not killed and said.code not in FINE:
            row.wrong.append(f"ended by itself: {said}")
        row.wrong += self._unsound(trial, run)
        found = run.world()
        wrong = half_done(trial, whole.before, found, whole.after)
        row.half_done += bool(wrong)
        row.lost += told and found != whole.after
        row.wholly_there += not told and found == whole.after
        row.wrong += wrong
        row.wrong += self._stuck(whole, run, found)

    def _unsound(self, trial: Trial, run: Run) -> Iterator[str]:
        """What the program's own proof says of the book that is there."""
        if there(run.store) and not (trial.damaged and not self._restored(run)):
            said = self.warm.call(run.store, "verify", folder=run.folder)
            if said.code:
                yield f"verify: {said}"

    def _restored(self, run: Run) -> bool:
        return Path(run.store).read_bytes().startswith(b"SQLite format 3")

    def _stuck(self, whole: Whole, run: Run, found: World) -> Iterator[str]:
        """The same command does it all now where nothing was done; else another one is booked at once."""
        if found == whole.before:
            said = self._call(run)
            if said.code not in FINE or run.world() != whole.after:
                yield f"a second run did not do it: {said}"
        elif STORE in found:
            said = self.warm.call(
                run.store, "load", str(self.shop.sheets / "next"), "--yes", folder=run.folder
            )
            if said.code:
                yield f"nothing can be booked: {said}"


def quiet(store: str) -> None:
    """Wait until a server has noticed that whoever was killed is gone: until then it may still be finishing."""
    if not store.startswith("postgresql://"):
        return
    others = (
        "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()"
    )
    until = time.monotonic() + 20
    while asked(store, others) != [(0,)]:
        assert time.monotonic() < until, "somebody is still at work on the server"
        time.sleep(0.005)
