"""How many small faults the tests notice, room by room.

    python3 scripts/soak/mutations.py                       40 faults a room
    python3 scripts/soak/mutations.py --room making --each 200 --seed 7

One operator, bound or constant is changed at a time in a copy of the project, and the tests that walk the changed line
(of a line that is read with its module: that walk the module) are run, the quickest first, until one fails. Which tests
walk a line is found by one counted run (ten minutes) and kept in `.mutations/` until the program or its tests change.
Prints the share noticed by room; what nobody noticed is in `.mutations/survivors.txt`, to be looked at one by one: some
changes make no difference. No part of the suite.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree as ET  # a report that this script's own child wrote
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import ROOT, elsewhere, surroundings
from mutants import Mutant, mutants

ROOMS = ("measures", "catalogue", "ledger", "making", "buying", "jobs", "store/commit")
KEPT = ROOT / ".mutations"
BUDGET = 120.0
"""Seconds of tests run against one fault: the quickest that walk its line, as far as this goes."""


@dataclass(frozen=True)
class Walked:
    """Which tests walk which line, and what each takes. lines: by path below the project and line; seconds: by test."""

    lines: Mapping[str, Mapping[int, Sequence[str]]]
    seconds: Mapping[str, float]

    def tests(self, path: str, line: int) -> list[str]:
        """Tests of a line, the quickest first, as many as the budget holds."""
        chosen: list[str] = []
        left = BUDGET
        for test in sorted(
            self.lines.get(path, {}).get(line, ()), key=lambda one: self.seconds.get(one, 1.0)
        ):
            left -= self.seconds.get(test, 1.0)
            if left < 0 and chosen:
                break
            chosen.append(test)
        return chosen


def main(arguments: Sequence[str]) -> int:
    """Try so many faults of each room and print the table."""
    said = _options(arguments)
    walked = kept() or counted()
    survivors: list[str] = []
    print(f"{'room':14} {'faults':>7} {'noticed':>8} {'share':>6}")
    with tempfile.TemporaryDirectory(prefix="mutations") as folder:
        copy = Path(folder) / "project"
        shutil.copytree(
            ROOT, copy, ignore=shutil.ignore_patterns(".git", ".venv", ".mutations", ".*_cache", "*.pyc")
        )
        for room in said.room or ROOMS:
            chosen = sample(room, walked, said.each, random.Random(f"{said.seed} {room}"))
            missed = [
                f"{path}:{one.line}\n  - {one.before}\n  + {one.after}\n"
                for path, one in chosen
                if not noticed(copy, path, one, walked.tests(path, one.line))
            ]
            survivors += missed
            share = 1 - len(missed) / max(len(chosen), 1)
            print(f"{room:14} {len(chosen):7} {len(chosen) - len(missed):8} {share:6.0%}", flush=True)
            (KEPT / "survivors.txt").write_text("\n".join(survivors), encoding="utf-8")
    return 0


def sample(room: str, walked: Walked, each: int, draw: random.Random) -> list[tuple[str, Mutant]]:
    """Faults of a room, drawn at random from the lines some test walks."""
    found = [
        (path, one)
        for file in sorted((ROOT / "inventory" / room).rglob("*.py"))
        for path in (file.relative_to(ROOT).as_posix(),)
        for one in mutants(file.read_text(encoding="utf-8"))
        if walked.tests(path, one.line)
    ]
    return draw.sample(found, min(each, len(found)))


def noticed(copy: Path, path: str, mutant: Mutant, tests: Sequence[str]) -> bool:
    """Whether a test fails, or no longer ends, with the fault in the copy."""
    file = copy / path
    whole = file.read_text(encoding="utf-8")
    file.write_text(mutant.text, encoding="utf-8")
    listed = copy / "tests.txt"
    listed.write_text("\n".join(tests), encoding="utf-8")
    options = ("-q", "-x", "-p", "no:cacheprovider", "-p", "no:randomly", "-n", "0")
    words = [sys.executable, "-m", "pytest", *options, f"@{listed}"]
    try:
        run = subprocess.run(
            words,
            cwd=copy,
            env=surroundings(PYTHONPATH=str(copy), OPENBLAS_NUM_THREADS="1"),
            capture_output=True,
            timeout=3 * BUDGET,
            check=False,
        )
    except subprocess.TimeoutExpired:
        return True
    finally:
        file.write_text(whole, encoding="utf-8")
    return run.returncode != 0


def fingerprint() -> str:
    """What the kept counts hold for: every source of the program and its tests."""
    digest = hashlib.sha256()
    for file in sorted((*(ROOT / "inventory").rglob("*.py"), *(ROOT / "tests").rglob("*.py"))):
        digest.update(file.read_bytes())
    return digest.hexdigest()


def counted() -> Walked:
    """Run every test once with lines counted by test; what it found is kept."""
    shutil.rmtree(KEPT, ignore_errors=True)
    KEPT.mkdir()
    print("Counting which tests walk which line …", file=sys.stderr, flush=True)
    started = time.monotonic()
    words = (
        "-q",
        "-n",
        "2",
        "--cov",
        "--cov-context=test",
        "--cov-report=",
        f"--junitxml={KEPT / 'times.xml'}",
    )
    environment = surroundings(COVERAGE_FILE=str(KEPT / "coverage"), OPENBLAS_NUM_THREADS="1")
    subprocess.run([sys.executable, "-m", "pytest", *words], cwd=ROOT, env=environment, check=False)
    (KEPT / "stamp").write_text(fingerprint(), encoding="utf-8")
    print(f"… {time.monotonic() - started:.0f} s", file=sys.stderr, flush=True)
    return _read()


def kept() -> Walked | None:
    """What an earlier run counted; None where the program or its tests have changed since."""
    stamp = KEPT / "stamp"
    if not stamp.exists() or stamp.read_text(encoding="utf-8") != fingerprint():
        return None
    return _read()


def _read() -> Walked:
    from coverage import CoverageData

    data = CoverageData(str(KEPT / "coverage"))
    data.read()
    lines: dict[str, dict[int, list[str]]] = {}
    for file in data.measured_files():
        contexts = data.contexts_by_lineno(file)
        path = Path(file).relative_to(ROOT).as_posix()
        named = {line: {_test(one) for one in names if one} for line, names in contexts.items()}
        all_of_it = set().union(*named.values())
        lines[path] = {line: sorted(names or all_of_it) for line, names in named.items()}
    return Walked(lines, dict(_times()))


def _test(context: str) -> str:
    return context.rpartition("|")[0] or context


def _times() -> Iterator[tuple[str, float]]:
    for case in ET.parse(KEPT / "times.xml").iter("testcase"):  # noqa: S314  # our own child's
        module = Path(*case.attrib["classname"].split(".")).with_suffix(".py").as_posix()
        yield f"{module}::{case.attrib['name']}", float(case.attrib["time"])


def _options(arguments: Sequence[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--room", action="append", help="a room below inventory/; all pure rooms without it")
    parser.add_argument("--each", type=int, default=40, help="faults a room")
    parser.add_argument("--seed", default="1")
    return parser.parse_args(arguments)


if __name__ == "__main__":
    os.environ.pop("PYTHONPATH", None)
    if (code := elsewhere(__file__, sys.argv[1:], "test")) is not None:
        sys.exit(code)
    sys.exit(main(sys.argv[1:]))
