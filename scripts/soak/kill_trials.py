"""Kill commands that write, at random moments, and print a table of what came of it.

python3 scripts/soak/kill_trials.py --trials 300                    # an engine; some 20 minutes each on two cores
python3 scripts/soak/kill_trials.py --trials 60 --only promise
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import ROOT, elsewhere

if __name__ == "__main__" and (code := elsewhere(__file__, sys.argv[1:], "test")) is not None:
    sys.exit(code)  # what follows is installed only there
sys.path.insert(0, str(ROOT / "tests"))

import postgres
from faults.kills import Kills, Row
from faults.shop import ENGINES, Shop, made, on_server
from faults.trials import TRIALS, Trial
from faults.warm import Warm

HEADING = (
    "engine",
    "command",
    "trials",
    "killed mid-way",
    "whole all the same",
    "done before",
    "lost",
    "half-done",
)


def main(arguments: Sequence[str]) -> int:
    """Run the trials; 1 where anything was lost, half-done or stuck."""
    parser = argparse.ArgumentParser(description="Kill commands that write and look what is left.")
    parser.add_argument("--trials", type=int, default=300, help="kills on each engine, over all commands")
    parser.add_argument("--only", default="", help="only ways of writing with this in their words")
    parser.add_argument("--engine", choices=ENGINES, action="append", help="only this engine")
    parser.add_argument("--seed", type=int, default=int(time.time()))
    said = parser.parse_args(arguments)
    print(f"seed {said.seed}", flush=True)
    rows = []
    with shop() as (warm, made_shop):
        kills = Kills(warm, made_shop, said.seed)
        for engine in said.engine or ENGINES:
            resolved = [one for one in TRIALS if engine in one.engines and said.only in one.words]
            for trial, many in zip(resolved, shares(said.trials, len(resolved)), strict=True):
                rows.append(shown(kills, trial, engine, many))
            print(line(sum_of([row for row in rows if row.engine == engine])), flush=True)
    return 1 if any(row.lost or row.half_done or row.wrong for row in rows) else 0


def shares(trials: int, many: int) -> list[int]:
    """The trials dealt out evenly."""
    return [trials // many + (number < trials % many) for number in range(many)]


@contextmanager
def shop() -> Iterator[tuple[Warm, Shop]]:
    """The shop of the trials, in a file and on a server of its own."""
    watched = postgres.Watched()
    try:
        server = postgres.asked(watched.folder)
        with (
            tempfile.TemporaryDirectory() as name,
            Warm() as warm,
            on_server(made(warm, Path(name)), server) as found,
        ):
            print(line(HEADING), flush=True)
            yield warm, found
    finally:
        watched.end()


def shown(kills: Kills, trial: Trial, engine: str, many: int) -> Row:
    """The row of one way of writing, printed at once."""
    row = kills.row(trial, engine, many)
    print(line(cells(row)), flush=True)
    for wrong in row.wrong:
        print(f"    {wrong}", file=sys.stderr, flush=True)
    return row


def cells(row: Row) -> tuple[str, ...]:
    """A row as text."""
    numbers = (row.trials, row.midway, row.wholly_there, row.done, row.lost, row.half_done)
    return (row.engine, row.command, *map(str, numbers))


def sum_of(rows: Sequence[Row]) -> tuple[str, ...]:
    """The last line of an engine."""
    sums = (
        sum(int(cell) for cell in column) for column in zip(*(cells(row)[2:] for row in rows), strict=True)
    )
    return (rows[0].engine, "together", *map(str, sums))


def line(cells: Sequence[str]) -> str:
    """A line of the table."""
    return f"| {' | '.join(cells)} |"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
