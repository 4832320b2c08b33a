"""How many small faults the tests notice, room by room.

    python3 scripts/soak/mutations.py                       40 faults a room
    python3 scripts/soak/mutations.py --room making --each 200 --seed 7
    python3 scripts/soak/mutations.py --room buying/hints --room buying/knapsack

One operator, bound or constant is changed at a time in a copy of the project, and the tests that walk the changed line
(of a line that is read with its module: that walk the module) are run, the quickest first, until one fails that does
not fail without the fault. Only tests near the room are asked (`NEAR`), so that a fault others would stumble over by
chance counts as missed. Which tests walk a line is counted once for each folder of tests and kept in `.mutations/`
until those tests or the room change: a test added is a minute, not the whole again.

Prints the share noticed by room; what nobody noticed is in `.mutations/survivors of ROOM.txt`, to be looked at one by
one. A change that makes no difference to any answer goes into `no_difference.txt` with the reason, and is not counted
again. Left out from the start is what only the speed of the basket's search hangs on (`SPEED`). No part of the suite,
and only where a process can fork.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import random
import re
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree as ET  # a report that this script's own child wrote
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from importlib import import_module
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import ROOT, Stopped, elsewhere, surroundings
from mutants import Mutant, mutants
from swapping import Swapping

NEAR: Mapping[str, Sequence[str]] = {
    "measures": ("measures", "catalogue", "sheets"),
    "catalogue": ("catalogue", "sheets", "jobs"),
    "ledger": ("ledger", "jobs", "store"),
    "making": ("making", "jobs"),
    "buying": ("buying", "jobs"),
    "jobs": ("jobs", "commands"),
    "store/commit": ("store", "commands"),
}
"""The folders of tests that say what a room is to do: its own and those of whoever uses it."""
SPEED = (
    "buying/search/branching",
    "buying/heuristics/improve",
    "buying/bounds/multipliers",
    "buying/bounds/mixture",
)
"""Which only suggest where to look, or multipliers any of which give a bound: right answers, sooner or later."""
KEPT = ROOT / ".mutations"
OPTIONS = (
    *("-q", "-x", "-rf", "-n", "0", "-p", "no:cacheprovider", "-p", "no:randomly"),
    *("-W", "ignore::pytest.PytestAssertRewriteWarning"),  # of libraries that are read already
)
LIBRARIES = "pytest hypothesis numpy openpyxl pandas scipy.optimize scipy.special scipy.stats sqlalchemy sqlmodel typer"
FEW = 12
"""Tests run first: reading the files of all others takes longer."""
BROKEN = 99
"""Exit code of a child in which not even the tests began."""
EQUAL = Path(__file__).with_name("no_difference.txt")
Known = tuple[str, ...]
BUDGET = 240.0
"""Seconds, as counted, of tests run against one fault: the quickest that walk its line, as far as this goes."""
ENDLESS = 180
"""Processor seconds after which tests no longer end."""


@dataclass(frozen=True)
class Walked:
    """Which tests walk which line, and what each takes. lines: by path below the project and line; seconds: by test."""

    lines: dict[str, dict[int, set[str]]] = field(default_factory=dict)
    seconds: dict[str, float] = field(default_factory=dict)

    def tests(self, path: str, line: int) -> list[str]:
        """Tests of a line, the quickest first, as many as the budget holds."""
        chosen: list[str] = []
        left = BUDGET
        walking = self.lines.get(path, {}).get(line, set())
        for test in sorted(walking, key=lambda one: (self.seconds.get(one, 1.0), one)):
            left -= self.seconds.get(test, 1.0)
            if left < 0 and chosen:
                break
            chosen.append(test)
        return chosen

    def add(self, folder: Path) -> None:
        """What was counted of one folder of tests."""
        from coverage import CoverageData

        self.seconds.update(_times(folder / "times.xml"))
        data = CoverageData(str(folder / "coverage"))
        data.read()
        for file in data.measured_files():
            named = {
                line: {_test(one) for one in names if one}
                for line, names in data.contexts_by_lineno(file).items()
            }
            everyone = set().union(*named.values())
            of_file = self.lines.setdefault(Path(file).relative_to(ROOT).as_posix(), {})
            for line, names in named.items():
                of_file.setdefault(line, set()).update(names or everyone)


class Trial:
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
        """The exit code and the test that failed, if it came so far.

        In a child of this process, which has read the libraries already: they cost more than most tests.
        """
        listed, told = self.copy / "tests.txt", self.copy / "told.txt"
        listed.write_text("\n".join(tests), encoding="utf-8")
        told.write_text("", encoding="utf-8")
        child = os.fork()
        if child == 0:
            code = BROKEN
            try:
                code = self._tested(listed, told)
            finally:
                os._exit(code)
        code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        if code == BROKEN:
            raise Stopped(f"The tests cannot be run: {told.read_text(encoding='utf-8')}")
        found = re.search(r"^FAILED (.+?)(?: - .*)?$", told.read_text(encoding="utf-8"), re.MULTILINE)
        return code, found[1] if found and found[1] in tests else None

    def _tested(self, listed: Path, told: Path) -> int:
        """In the child: run the tests, with an end to its time."""
        resource.setrlimit(resource.RLIMIT_CPU, (ENDLESS, ENDLESS + 5))
        signal.alarm(10 * ENDLESS)  # for what waits for ever
        with told.open("w", encoding="utf-8") as file:
            os.dup2(file.fileno(), 1)
            os.dup2(file.fileno(), 2)
        os.chdir(self.copy)
        sys.path.insert(0, str(self.copy))
        os.environ["PYTHONPATH"] = str(self.copy)
        import pytest

        try:
            return int(pytest.main([*OPTIONS, f"@{listed}"]))
        finally:
            sys.stdout.flush()


def main(arguments: Sequence[str]) -> int:
    """Try so many faults of each room and print the table."""
    said = _options(arguments)
    for name in LIBRARIES.split():
        import_module(name)
    print(f"{'room':20} {'faults':>7} {'noticed':>8} {'share':>6} {'no difference':>14}")
    for room in said.room or NEAR:
        walked = walked_near(room)
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
    chosen, equal = sample(room, walked, said.each, random.Random(f"{said.seed} {room}"), only)

    def trial(swapping: Swapping) -> None:
        swapping.must_pass(sorted({walked.tests(path, one.line)[0] for path, one in chosen}))
        missed = 0
        survivors.write_text("", encoding="utf-8")
        with tempfile.TemporaryDirectory(prefix="mutations") as folder:
            files = Trial(Path(folder) / "project")
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
        print(f"\r{room:20} {len(chosen):7} {len(chosen) - missed:8} {share:6.0%} {equal:14}", flush=True)

    named = {test for path, one in chosen for test in walked.tests(path, one.line)}
    files = sorted({test.partition("::")[0] for test in named})
    os.chdir(ROOT)
    return int(pytest.main([*OPTIONS, "-s", "--no-header", *files], plugins=[Swapping(trial)]))


def sample(
    room: str, walked: Walked, each: int, draw: random.Random, only: set[Known] | None = None
) -> tuple[list[tuple[str, Mutant]], int]:
    """Faults of a room, drawn at random from the lines some test walks; how many drawn ones make no difference.

    only: of these alone.
    """
    found = [
        (path, one)
        for file in sorted(_room(room))
        for path in (file.relative_to(ROOT).as_posix(),)
        if not path.removeprefix("inventory/").startswith(SPEED)
        for one in mutants(file.read_text(encoding="utf-8"))
        if walked.tests(path, one.line) and (only is None or _known(path, one) in only)
    ]
    draw.shuffle(found)
    known, chosen, equal = _blocks(EQUAL), list[tuple[str, Mutant]](), 0
    for path, one in found:
        if len(chosen) == each:
            break
        if _known(path, one) in known:
            equal += 1
        else:
            chosen.append((path, one))
    return chosen, equal


def _blocks(file: Path) -> set[Known]:
    """The changes that a file of them tells."""
    blocks = file.read_text(encoding="utf-8").split("\n\n")
    parted = (block.strip().splitlines() for block in blocks)
    return {tuple(line.strip() for line in lines[:4]) for lines in parted if len(lines) > 3}


def _known(path: str, of: Mutant) -> Known:
    """What a change is known by, wherever its line moves to: the file, the line, what was there, what is there now."""
    line = (ROOT / path).read_text(encoding="utf-8").splitlines()[of.line - 1]
    return path, line.strip(), f"- {of.before}", f"+ {of.after}"


def walked_near(room: str) -> Walked:
    """Which tests near a room walk which of its lines; what is not kept, or holds no more, is counted."""
    walked = Walked()
    whole = next(known for known in NEAR if f"{room}/".startswith(f"{known}/"))
    for folder in NEAR[whole]:
        kept = KEPT / folder
        if not _holds(kept, folder, whole):
            _count(kept, folder)
        walked.add(kept)
    return walked


def _holds(kept: Path, folder: str, room: str) -> bool:
    """Whether neither these tests nor the room have changed since they were counted."""
    stamp = kept / "stamp.json"
    if not stamp.exists():
        return False
    said = json.loads(stamp.read_text(encoding="utf-8"))
    same_tests: bool = said["tests"] == _digest(_tests_of(folder))
    return same_tests and bool(said["rooms"].get(room) == _digest(_room(room)))


def _count(kept: Path, folder: str) -> None:
    """Run a folder's tests once with lines counted by test."""
    shutil.rmtree(kept, ignore_errors=True)
    kept.mkdir(parents=True)
    print(f"Counting which of tests/{folder} walk which line …", file=sys.stderr, flush=True)
    started = time.monotonic()
    stamp = {
        "tests": _digest(_tests_of(folder)),
        "rooms": {room: _digest(_room(room)) for room in NEAR},
    }
    counting = ("--cov", "--cov-context=test", "--cov-report=", f"--junitxml={kept / 'times.xml'}")
    subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-n", "2", *counting, f"tests/{folder}"],
        cwd=ROOT,
        env=surroundings(COVERAGE_FILE=str(kept / "coverage")),
        stdout=subprocess.DEVNULL,
        check=False,
    )
    (kept / "stamp.json").write_text(json.dumps(stamp), encoding="utf-8")
    print(f"… {time.monotonic() - started:.0f} s", file=sys.stderr, flush=True)


def _room(room: str) -> Iterator[Path]:
    place = ROOT / "inventory" / room
    yield from place.rglob("*.py") if place.is_dir() else [place.with_suffix(".py")]


def _tests_of(folder: str) -> Iterator[Path]:
    """A folder's tests and what they are helped by."""
    yield from (file for file in (ROOT / "tests").glob("*.py") if not file.name.startswith("test_"))
    yield from (ROOT / "tests" / folder).rglob("*.py")


def _digest(files: Iterable[Path]) -> str:
    digest = hashlib.sha256()
    for file in sorted(files):
        digest.update(file.read_bytes())
    return digest.hexdigest()


def _test(context: str) -> str:
    return context.rpartition("|")[0] or context


def _times(report: Path) -> Iterator[tuple[str, float]]:
    for case in ET.parse(report).iter("testcase"):  # noqa: S314  # our own child's
        module = Path(*case.attrib["classname"].split(".")).with_suffix(".py").as_posix()
        yield f"{module}::{case.attrib['name']}", float(case.attrib["time"])


def _options(arguments: Sequence[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument(
        "--room", action="append", help="a room below inventory/, or a part of one; all without it"
    )
    parser.add_argument("--each", type=int, default=40, help="faults a room")
    parser.add_argument("--seed", default="1")
    parser.add_argument("--again", action="store_true", help="only what nobody noticed last time")
    return parser.parse_args(arguments)


if __name__ == "__main__":
    os.environ.pop("PYTHONPATH", None)
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    if (code := elsewhere(__file__, sys.argv[1:], "test")) is not None:
        sys.exit(code)
    sys.exit(main(sys.argv[1:]))
