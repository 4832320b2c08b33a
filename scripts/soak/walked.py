"""Which tests walk which line of a room, counted once for each module of tests and kept in `.mutations/`.

A module is counted again when it changes; all are when a room changes, or what tests of the folder are helped by. A
count that is stopped goes on where it was, some modules at a time.
"""

from __future__ import annotations

import hashlib
import json
import shutil
import subprocess
import sys
import time
import xml.etree.ElementTree as ET  # a report that this script's own child wrote
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from environment import ROOT, surroundings

NEAR: Mapping[str, Sequence[str]] = {
    "measures": ("measures", "catalogue", "sheets"),
    "catalogue": ("catalogue", "sheets", "jobs"),
    "ledger": ("ledger", "jobs", "store"),
    "making": ("making", "jobs"),
    "buying": ("buying", "jobs"),
    "planning": ("planning", "jobs"),
    "jobs": ("jobs", "hours", "commands"),
    "store/commit": ("store", "commands"),
}
"""The folders of tests that say what a room is to do: its own and those of whoever uses it."""
KEPT = ROOT / ".mutations"
TOLD = "counted.json"
AT_ONCE = 12
"""Modules of tests counted in one run."""
BUDGET = 240.0
"""Seconds, as counted, of tests run against one fault: the quickest that walk its line, as far as this goes; less
makes a run shorter and can only miss more."""


@dataclass(frozen=True)
class Walked:
    """Which tests walk which line, and what each takes. lines: by path below the project and line; seconds: by test."""

    lines: dict[str, dict[int, set[str]]] = field(default_factory=dict)
    seconds: dict[str, float] = field(default_factory=dict)
    budget: float = BUDGET

    def tests(self, path: str, line: int) -> list[str]:
        """Tests of a line, the quickest first, as many as the budget holds."""
        chosen: list[str] = []
        left = self.budget
        walking = self.lines.get(path, {}).get(line, set())
        for test in sorted(walking, key=lambda one: (self.seconds.get(one, 1.0), one)):
            left -= self.seconds.get(test, 1.0)
            if left < 0 and chosen:
                break
            chosen.append(test)
        return chosen

    def add(self, run: Path, modules: set[str]) -> None:
        """What one run counted, of these modules of tests."""
        from coverage import CoverageData

        self.seconds.update({test: took for test, took in _times(run / "times.xml") if _in(test, modules)})
        data = CoverageData(str(run / "coverage"))
        data.read()
        for file in data.measured_files():
            named = {
                line: {test for one in names if one and _in(test := _test(one), modules)}
                for line, names in data.contexts_by_lineno(file).items()
            }
            everyone = set().union(*named.values())
            of_file = self.lines.setdefault(_path(Path(file)), {})
            for line, names in named.items():
                of_file.setdefault(line, set()).update(names or everyone)


def walked_near(room: str, cores: int, budget: float = BUDGET) -> Walked:
    """Which tests near a room walk which of its lines; what is not kept, or holds no more, is counted."""
    walked = Walked(budget=budget)
    whole = next(known for known in NEAR if f"{room}/".startswith(f"{known}/"))
    for folder in NEAR[whole]:
        for number, modules in _counted(folder, whole, cores).items():
            walked.add(KEPT / folder / number, modules)
    return walked


def files_of(room: str) -> Iterator[Path]:
    """The modules of a room, or of a part of one."""
    place = ROOT / "inventory" / room
    yield from place.rglob("*.py") if place.is_dir() else [place.with_suffix(".py")]


def _counted(folder: str, room: str, cores: int) -> dict[str, set[str]]:
    """Modules of a folder of tests by the run that counted them."""
    kept, now = KEPT / folder, {_path(file): _digest([file]) for file in _modules(folder)}
    told = _told(kept, folder, room)
    left = [one for one in now if told["tests"].get(one) != now[one]]
    while left:
        some, left = left[:AT_ONCE], left[AT_ONCE:]
        run = str(1 + max(map(int, told["runs"].values()), default=0))
        _count(kept / run, some, len(left), cores)
        told["tests"] |= {one: now[one] for one in some}
        told["runs"] |= dict.fromkeys(some, run)
        (kept / TOLD).write_text(json.dumps(told), encoding="utf-8")
    runs: dict[str, set[str]] = {}
    for one in now:
        runs.setdefault(told["runs"][one], set()).add(one)
    return runs


def _told(kept: Path, folder: str, room: str) -> dict[str, dict[str, str]]:
    """What was counted of a folder: digests of rooms, helpers and tests then, and each module's run."""
    rooms = {known: _digest(files_of(known)) for known in NEAR}
    helpers = {folder: _digest(_helpers(folder))}
    if (kept / TOLD).exists():
        told: dict[str, dict[str, str]] = json.loads((kept / TOLD).read_text(encoding="utf-8"))
        if told["helpers"] == helpers and told["rooms"].get(room) == rooms[room]:
            return told
    shutil.rmtree(kept, ignore_errors=True)
    return {"rooms": rooms, "helpers": helpers, "tests": {}, "runs": {}}


def _count(run: Path, modules: Sequence[str], more: int, cores: int) -> None:
    """Run modules of tests once with lines counted by test."""
    shutil.rmtree(run, ignore_errors=True)
    run.mkdir(parents=True)
    print(
        f"Counting what {modules[0]} to {Path(modules[-1]).stem} walk; {more} modules more", file=sys.stderr
    )
    started = time.monotonic()
    counting = (
        "-p",
        "forgetting",
        "--cov",
        "--cov-context=test",
        "--cov-report=",
        f"--junitxml={run / 'times.xml'}",
    )
    subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-n", str(cores), *counting, *modules],
        cwd=ROOT,
        env=surroundings(COVERAGE_FILE=str(run / "coverage"), PYTHONPATH=str(Path(__file__).parent)),
        stdout=subprocess.DEVNULL,
        check=False,
    )
    print(f"… {time.monotonic() - started:.0f} s", file=sys.stderr, flush=True)


def _modules(folder: str) -> list[Path]:
    return sorted((ROOT / "tests" / folder).rglob("test_*.py"))


def _helpers(folder: str) -> Iterator[Path]:
    """What a folder's tests are helped by."""
    for place in (ROOT / "tests").glob("*.py"), (ROOT / "tests" / folder).rglob("*.py"):
        yield from (file for file in place if not file.name.startswith("test_"))


def _digest(files: Iterable[Path]) -> str:
    digest = hashlib.sha256()
    for file in sorted(files):
        digest.update(file.read_bytes())
    return digest.hexdigest()


def _path(file: Path) -> str:
    return file.relative_to(ROOT).as_posix()


def _test(context: str) -> str:
    return context.rpartition("|")[0] or context


def _in(test: str, modules: set[str]) -> bool:
    return test.partition("::")[0] in modules


def _times(report: Path) -> Iterator[tuple[str, float]]:
    for case in ET.parse(report).iter("testcase"):  # noqa: S314  # our own child's
        module = Path(*case.attrib["classname"].split(".")).with_suffix(".py").as_posix()
        yield f"{module}::{case.attrib['name']}", float(case.attrib["time"])
