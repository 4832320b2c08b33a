"""How many small faults the tests notice, room by room.

    python3 scripts/soak/mutations.py                       40 faults a room
    python3 scripts/soak/mutations.py --room making --each 200 --seed 7
    python3 scripts/soak/mutations.py --room buying/hints --room buying/knapsack

One operator, bound or constant is changed at a time in a copy of the project, and the tests that walk the changed line
(of a line that is read with its module: that walk the module) are run, the quickest first, until one fails that does
not fail without the fault. Only tests near the room are asked (`NEAR`), so that a fault others would stumble over by
chance counts as missed. Which tests walk a line is counted once and kept (`walked.py`): a test added is a minute, not
the whole again.

Prints the share noticed by room; what nobody noticed is in `.mutations/survivors of ROOM.txt`, to be looked at one by
one. A change that makes no difference to any answer goes into `no_difference.txt` with the reason, and is not counted
again. What only the pace of a search hangs on - where it looks first, how long it tries - is named with its reason in
`pace.txt`; faults there are not tried, and how many the sample met on its way stands in a column of its own. Left out
from the start are modules that are nothing else (`SPEED`). No part of the suite, and only where a process can fork.
"""

from __future__ import annotations

import argparse
import os
import random
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, replace
from importlib import import_module
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from copied import OPTIONS, Copied
from environment import ROOT, elsewhere
from mutants import Mutant, mutants
from swapping import Swapping
from walked import BUDGET, KEPT, NEAR, Walked, files_of, walked_near

SPEED = (
    "buying/search/branching",
    "buying/heuristics/improve",
    "buying/bounds/multipliers",
    "buying/bounds/mixture",
)
"""Which only suggest where to look, or multipliers any of which give a bound: right answers, sooner or later."""
LIBRARIES = "pytest hypothesis numpy openpyxl pandas scipy.optimize scipy.special scipy.stats sqlalchemy sqlmodel typer"
EQUAL = Path(__file__).with_name("no_difference.txt")
PACE = Path(__file__).with_name("pace.txt")
Known = tuple[str, ...]


@dataclass(frozen=True)
class Sample:
    """Faults to be made, and how many of those drawn before them make no difference, or one of pace alone."""

    chosen: list[tuple[str, Mutant]]
    equal: int
    pace: int


def main(arguments: Sequence[str]) -> int:
    """Try so many faults of each room and print the table."""
    said = _options(arguments)
    for name in LIBRARIES.split():
        import_module(name)
    print(f"{'room':20} {'faults':>7} {'noticed':>8} {'share':>6} {'no difference':>14} {'pace':>5}")
    for room in said.room or NEAR:
        walked = walked_near(room, said.cores, said.budget)
        child = os.fork()  # each room reads its tests anew
        if child == 0:
            code = 1
            try:
                code = _room_tried(room, walked, said)
            finally:
                os._exit(code)
        if os.waitpid(child, 0)[1]:
            return 1
    return 0


def _room_tried(room: str, walked: Walked, said: argparse.Namespace) -> int:
    """Print a room's line of the table."""
    import pytest

    survivors = KEPT / f"survivors of {room.replace('/', ' ')}.txt"
    only = _blocks(survivors) if said.again else None
    drawn = sample(room, walked, said.each, random.Random(f"{said.seed} {room}"), only)
    chosen = drawn.chosen
    if not chosen:
        print(f"{room:20} {'nothing':>7} is walked by a test", flush=True)
        return 0

    def trial(swapping: Swapping) -> None:
        swapping.must_pass(sorted({walked.tests(path, one.line)[0] for path, one in chosen}))
        missed = 0
        survivors.write_text("", encoding="utf-8")
        with tempfile.TemporaryDirectory(prefix="mutations") as folder:
            files = Copied(Path(folder) / "project")
            for path, one in chosen:
                tests = walked.tests(path, one.line)
                noticed = swapping.noticed(ROOT / path, one.text, tests)
                if noticed is None:
                    noticed = files.noticed(path, one, tests)
                if not noticed:
                    missed += 1
                    with survivors.open("a", encoding="utf-8") as file:
                        file.write("\n  ".join((*_known(path, one), f"line {one.line}: ")) + "\n\n")
                sys.stderr.write(".")
        share = 1 - missed / max(len(chosen), 1)
        print(
            f"\r{room:20} {len(chosen):7} {len(chosen) - missed:8} {share:6.0%} {drawn.equal:14} {drawn.pace:5}",
            flush=True,
        )

    named = {test for path, one in chosen for test in walked.tests(path, one.line)}
    files = sorted({test.partition("::")[0] for test in named})
    modules = sorted({path.removesuffix(".py").replace("/", ".") for path, _ in chosen})
    os.chdir(ROOT)
    # Quieter by one: pytest has no test to its name, as forks run them, and would end with "no tests ran".
    return int(pytest.main([*OPTIONS, "-q", "-s", "--no-header", *files], plugins=[Swapping(trial, modules)]))


def sample(
    room: str, walked: Walked, each: int, draw: random.Random, only: set[Known] | None = None
) -> Sample:
    """Faults of a room, drawn at random from the lines some test walks.

    only: of these alone.
    """
    found = [
        (path, one)
        for file in sorted(files_of(room))
        for path in (file.relative_to(ROOT).as_posix(),)
        if not path.removeprefix("inventory/").startswith(SPEED)
        for one in mutants(file.read_text(encoding="utf-8"))
        if walked.tests(path, one.line) and (only is None or _known(path, one) in only)
    ]
    draw.shuffle(found)
    known, named, drawn = _blocks(EQUAL), _named(PACE), Sample([], 0, 0)
    for path, one in found:
        if len(drawn.chosen) == each:
            break
        if _known(path, one) in known:
            drawn = replace(drawn, equal=drawn.equal + 1)
        elif any((path, name) in named for name in one.named):
            drawn = replace(drawn, pace=drawn.pace + 1)
        else:
            drawn.chosen.append((path, one))
    return drawn


def _named(file: Path) -> set[tuple[str, str]]:
    """The functions and constants that a file names: (path, name)."""
    parted = (block.strip().splitlines() for block in file.read_text(encoding="utf-8").split("\n\n"))
    return {(lines[0], name) for lines in parted if len(lines) > 2 for name in lines[1].split()}


def _blocks(file: Path) -> set[Known]:
    """The changes that a file of them tells."""
    blocks = file.read_text(encoding="utf-8").split("\n\n")
    parted = (block.strip().splitlines() for block in blocks)
    return {tuple(line.strip() for line in lines[:4]) for lines in parted if len(lines) > 3}


def _known(path: str, of: Mutant) -> Known:
    """What a change is known by, wherever its line moves to: the file, the line, what was there, what is there now."""
    line = (ROOT / path).read_text(encoding="utf-8").splitlines()[of.line - 1]
    return path, line.strip(), f"- {of.before}", f"+ {of.after}"


def _options(arguments: Sequence[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument(
        "--room", action="append", help="a room below inventory/, or a part of one; all without it"
    )
    parser.add_argument("--each", type=int, default=40, help="faults a room")
    parser.add_argument("--cores", type=int, default=2, help="processes that count which tests walk a line")
    parser.add_argument("--seed", default="1")
    parser.add_argument("--budget", type=float, default=BUDGET, help="seconds of tests against one fault")
    parser.add_argument("--again", action="store_true", help="only what nobody noticed last time")
    return parser.parse_args(arguments)


if __name__ == "__main__":
    os.environ.pop("PYTHONPATH", None)
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    if (code := elsewhere(__file__, sys.argv[1:], "test")) is not None:
        sys.exit(code)
    sys.exit(main(sys.argv[1:]))
