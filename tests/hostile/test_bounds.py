"""Huge sheets end in a sentence, in bounded time and memory, and nothing of them is loaded."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from .huge import HUGE

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="limits and their units differ elsewhere")

MOST_SECONDS = 20
"""Of work, on a machine that was idle; the slowest took 14 on a busy one."""
MOST_MB = 700
"""Of memory at its peak; 55 are the program itself, and the greediest took 378."""
ADDRESSES = 2 << 30
"""Bytes of memory the program may ask for at all: libraries reserve more than they use."""
FEW = ("ten million rows", "a billion laughs")
"""Those that are written quickly run with all tests."""
LIMITED = f"""
import atexit, resource, sys
resource.setrlimit(resource.RLIMIT_AS, ({ADDRESSES}, {ADDRESSES}))
resource.setrlimit(resource.RLIMIT_CPU, ({3 * MOST_SECONDS}, {3 * MOST_SECONDS}))
peak = open(sys.argv.pop(1), "w")
@atexit.register
def told():
    peak.write(next(line.split()[1] for line in open("/proc/self/status") if line.startswith("VmHWM")))
    peak.close()
from inventory.cli import main
main()
"""
"""Its own peak, in kilobytes: what the system tells of a child counts the process it was split off from."""


@dataclass(frozen=True)
class Ended:
    """How a limited run ended: exit code, what it said, seconds of work, megabytes at its peak."""

    code: int
    out: str
    err: str
    seconds: float
    megabytes: float


def limited(*words: str) -> Ended:
    """Run a command in a process of its own that may take no more than the limits."""
    env = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "PYTHONUTF8": "1"}
    with (
        tempfile.TemporaryFile() as out,
        tempfile.TemporaryFile() as err,
        tempfile.NamedTemporaryFile() as peak,
    ):
        words = (sys.executable, "-c", LIMITED, peak.name, *words)
        child = subprocess.Popen(words, stdout=out, stderr=err, env=env)
        _, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
        said, complained = _read(out), _read(err)
        megabytes = int(_read(peak) or sys.maxsize) / 1024
    return Ended(child.returncode, said, complained, used.ru_utime + used.ru_stime, megabytes)


def _read(file: Any) -> str:
    file.seek(0)
    return str(file.read().decode())


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store with nothing in it."""
    store = tmp_path_factory.mktemp("bounds") / "empty.kitdrawer"
    assert limited("begin", "--store", str(store)).code == 0
    return store


def held(name: str, empty: Path, folder: Path) -> Ended:
    """Load a huge sheet: a refusal with its places, within the bounds, and the store as it was."""
    store = Path(shutil.copy(empty, folder / "book.kitdrawer"))
    path = HUGE[name](folder)
    ended = limited("load", str(path), "--yes", "--json", "--store", str(store))
    assert ended.code == 1, ended.err[-2000:]
    assert ended.err == ""
    error = json.loads(ended.out)["error"]
    assert error["message"].endswith(".")
    assert all(one["problem"].endswith((".", "?", "…")) for one in error["where"])
    assert ended.seconds < MOST_SECONDS, ended.seconds
    assert ended.megabytes < MOST_MB, ended.megabytes
    assert store.read_bytes() == empty.read_bytes()
    return ended


@pytest.mark.parametrize("name", FEW)
def test_a_few_huge_sheets(name: str, empty: Path, tmp_path: Path) -> None:
    """Refused before they are taken in."""
    held(name, empty, tmp_path)


@pytest.mark.soak
@pytest.mark.parametrize("name", sorted(set(HUGE) - set(FEW)))
def test_every_huge_sheet(name: str, empty: Path, tmp_path: Path) -> None:
    """Whatever is huge about them."""
    ended = held(name, empty, tmp_path)
    print(f"{name}: {ended.seconds:.1f} s, {ended.megabytes:.0f} MB")  # noqa: T201 - for `-s`: the margins
    for path in tmp_path.iterdir():
        shutil.rmtree(path) if path.is_dir() else path.unlink()  # hundreds of megabytes, kept by pytest
