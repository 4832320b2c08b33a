"""Many at once on one book: never oversold, never lost, every loser told, nobody kept waiting for ever."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from inventory.cli.booking import FREE_TRIES, LOCKED_TRIES
from inventory.store.engine import BUSY_SECONDS

from .crowd import asked_of, together
from .referee import faults
from .shop import ENGINES, Shop
from .warm import Said, Warm
from .worlds import asked

LONGEST = (FREE_TRIES + LOCKED_TRIES) * (BUSY_SECONDS + 2)
"""Seconds a command may take: it waits so often for the lock, so long each time, then says so; and a little for the
few times it works things out."""


def booked_together(
    warm: Warm, shop: Shop, engine: str, folder: Path, *, workers: int, commands: int, seed: int
) -> list[Said]:
    """Let them all work at once and judge what came of it; everything everybody was told."""
    with shop.copied(engine, folder) as store:
        opening = int(asked(store, "SELECT max(id) FROM document")[0][0])
        wanted = [asked_of(number, shop, folder, commands, seed=seed) for number in range(workers)]
        heard = together(warm, store, wanted, folder)
        assert list(faults(store, heard, opening)) == []
        assert [len(one) for one in heard] == [commands] * workers
        nothing_held(store)
        for words in (("verify",), ("load", str(shop.sheets / "next"), "--yes")):
            said = warm.call(store, *words, folder=folder)
            assert said.code == 0, said
        return [said for one in heard for said in one]


def nothing_held(store: str) -> None:
    """On a server: nobody is left, nobody waits, and no deadlock was ever counted."""
    if "://" in store:
        others = "FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()"
        assert asked(store, f"SELECT pid, state, query {others} AND state <> 'idle'") == []
        ours = "pid IN (SELECT pid FROM pg_stat_activity WHERE datname = current_database())"
        assert asked(store, f"SELECT pid FROM pg_locks WHERE NOT granted AND {ours}") == []
        assert asked(store, "SELECT deadlocks FROM pg_stat_database WHERE datname = current_database()") == [
            (0,)
        ]


@pytest.mark.parametrize("engine", ENGINES)
def test_four_at_once(light: Warm, small_shop: Shop, tmp_path: Path, engine: str) -> None:
    """Four processes promise, give up, load and undo side by side: the book is what they were told."""
    said = booked_together(light, small_shop, engine, tmp_path, workers=4, commands=2, seed=5)
    assert {one.code for one in said} <= {0, 1, 3}
    assert sum(one.code in (0, 3) for one in said) >= len(said) // 2


@pytest.mark.soak
@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.parametrize("engine", ENGINES)
def test_sixteen_at_once(warm: Warm, shop: Shop, tmp_path: Path, engine: str, seed: int) -> None:
    """Sixteen processes with 320 commands: the same, no deadlock, and the longest wait is bounded."""
    said = booked_together(warm, shop, engine, tmp_path, workers=16, commands=20, seed=seed)
    longest = max(said, key=lambda one: one.seconds)
    done = sum(one.code in (0, 3) for one in said)
    refused = sorted({" ".join(one.err.split()) for one in said if one.code == 1})
    sys.stderr.write(
        f"\n{engine}, seed {seed}: {len(said)} commands, {done} done, {len(said) - done} refused, longest "
        f"{longest.seconds:.1f} s ({' '.join(longest.words[:2])})\n"
        + "".join(f"  {one}\n" for one in refused)
    )
    assert longest.seconds < LONGEST
    assert done > len(said) // 2
    assert refused
