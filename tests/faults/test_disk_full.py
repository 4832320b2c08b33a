"""A full disk, over every way of writing: a sentence, nothing half-done, and all of it once room is made."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from .kills import FINE, Kills
from .referee import untold
from .shop import Shop
from .trials import TRIALS, Run, Trial, begun, half_done
from .warm import Said, Warm
from .worlds import STORE

DISK = 24 << 20
ROOMS = (0, 20_000, 40_000, 90_000, 300_000)
"""Bytes that are left: for nothing, for no log, for no sheet beside it, for no long log, for most commands."""


@contextmanager
def small_disk(place: Path, size: int) -> Iterator[Path]:
    """A disk of so many bytes; where none can be made, the test is skipped."""
    place.mkdir()
    command = ["mount", "-t", "tmpfs", "-o", f"size={size}", "none", str(place)]
    if not shutil.which("mount") or subprocess.run(command, capture_output=True, check=False).returncode:
        pytest.skip("only who may mount can make a small disk")
    try:
        yield place
    finally:
        subprocess.run(["umount", "-l", str(place)], check=True)


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    """A small disk of its own."""
    with small_disk(tmp_path / "disk", DISK) as place:
        yield place


def fill_up(disk: Path, room: int) -> Path:
    """Leave so many bytes; the file that takes the rest."""
    ballast = disk / ".ballast"
    with ballast.open("wb") as file:
        file.write(bytes(max(shutil.disk_usage(disk).free - room, 0)))
    return ballast


def on_full_disk(trial: Trial, kills: Kills, disk: Path, aside: Path, room: int) -> tuple[Said, list[str]]:
    """One command on a disk with so much room; what it said, and what is wrong with what came of it."""
    whole = kills.whole(trial, "sqlite")
    folder = disk / f"room-{room}"
    folder.mkdir()
    with begun(trial, kills.shop, "sqlite", folder) as run:
        ballast = fill_up(disk, room)
        said = kills.warm.call(run.store, *run.words, folder=aside)
        ballast.unlink()
        found = run.world()
        wrong = [*untold(said), *half_done(trial, whole.before, found, whole.after)]
        if trial.told(said.out) and said.code in FINE and found != whole.after:
            wrong.append("it was told as done, and is not")
        if said.code not in FINE and found != whole.before and STORE not in found:
            wrong.append("the book is gone")
        wrong += after_room_is_made(trial, kills, run, aside, found == whole.before)
    shutil.rmtree(folder)
    return said, wrong


def after_room_is_made(trial: Trial, kills: Kills, run: Run, aside: Path, again: bool) -> Iterator[str]:
    """The book is sound, and the command does what it did not do before."""
    if again:
        said = kills.warm.call(run.store, *run.words, folder=aside)
        if said.code not in FINE or not trial.told(said.out):
            yield f"with room: {said}"
    if not trial.damaged and Path(run.store).exists():
        said = kills.warm.call(run.store, "verify", folder=aside)
        if said.code:
            yield f"verify: {said}"


def tried(trial: Trial, kills: Kills, disk: Path, aside: Path) -> None:
    """A command with every amount of room: refused at least once, and never wrong."""
    heard = [on_full_disk(trial, kills, disk, aside, room) for room in ROOMS]
    assert [(said, wrong) for said, wrong in heard if wrong] == []
    assert any(said.code == 1 for said, _ in heard), heard
    if os.environ.get("KITDRAWER_TELL"):
        for said, _ in heard:
            print(f"{trial.name}: {said.code} {' '.join(said.err.split())}")  # noqa: T201  # asked for


def test_a_promise(light: Warm, small_shop: Shop, disk: Path, tmp_path: Path) -> None:
    """No room for its lines: said, nothing changed, and promised once there is room."""
    promise = next(one for one in TRIALS if one.command == "promise")
    said, wrong = on_full_disk(promise, Kills(light, small_shop, seed=3), disk, tmp_path, 0)
    assert (said.code, wrong) == (1, [])
    assert "room" in said.err


@pytest.mark.soak
@pytest.mark.parametrize("trial", [one for one in TRIALS if "sqlite" in one.engines], ids=str)
def test_every_way_of_writing(warm: Warm, shop: Shop, disk: Path, tmp_path: Path, trial: Trial) -> None:
    """With no room, a little and almost enough: a sentence, or all of it."""
    tried(trial, Kills(warm, shop, seed=3), disk, tmp_path)
