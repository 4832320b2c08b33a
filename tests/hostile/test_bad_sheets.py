"""Hostile and messy sheets through the command line: loaded rightly, or refused in a sentence with nothing booked.

A few seeds of every kind run with all tests; `python3 scripts/soak.py tests/hostile` runs over a thousand cases.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from .running import KINDS, TODAY, Case, Ran, Stores

FEW, MANY = range(1), range(1, 20)
MOST_SECONDS = 15
"""Of work for one case, of which the longest takes under 2 on an idle machine."""


@pytest.fixture(scope="module")
def stores(tmp_path_factory: pytest.TempPathFactory) -> Stores:
    """The empty store and the clean shop's book."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("KITDRAWER_TODAY", TODAY)
        return Stores(tmp_path_factory.mktemp("stores"))


@pytest.fixture(autouse=True)
def surroundings(monkeypatch: pytest.MonkeyPatch) -> None:
    """The day every case is loaded on."""
    monkeypatch.setenv("KITDRAWER_TODAY", TODAY)


def check(case: Case, ran: Ran, stores: Stores, *, as_json: bool) -> None:
    """A case has to end as it must, in time, and the book is the clean one or untouched."""
    wanted = {"same": {"loaded"}, "refused": {"refused"}, "either": {"loaded", "refused"}}[case.kind.end]
    assert ran.became in wanted, (case, ran.out, ran.err)
    assert ran.seconds < MOST_SECONDS
    if ran.became == "loaded":
        assert ran.book == stores.clean
        return
    assert ran.same_as_before
    if not as_json:
        lines = ran.err.rstrip("\n").split("\n")
        assert all(line.isprintable() for line in lines), ran.err
        assert lines[-1].endswith((".", "like.")), ran.err
        return
    error = ran.error
    assert error["message"].endswith("."), error
    assert error["hint"] or error["where"], error
    odd = [one for one in error["where"] if not _is_sentence(one["problem"]) or not one["file"]]
    assert odd == []


def _is_sentence(text: str) -> bool:
    return text.endswith((".", "?", "…")) and text.isprintable() and len(text) < 600


@pytest.mark.skipif(os.name != "posix", reason="pipes and rings of links are POSIX")
@pytest.mark.parametrize("name", sorted(KINDS))
def test_a_few_of_every_kind(
    name: str, stores: Stores, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """As JSON and on a screen."""
    for seed in FEW:
        run_one(Case(KINDS[name], seed), stores, tmp_path, capsys)


@pytest.mark.soak
@pytest.mark.skipif(os.name != "posix", reason="pipes and rings of links are POSIX")
@pytest.mark.parametrize("name", sorted(KINDS))
def test_many_of_every_kind(
    name: str, stores: Stores, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The same with other seeds."""
    for seed in MANY:
        run_one(Case(KINDS[name], seed), stores, tmp_path, capsys)


def run_one(case: Case, stores: Stores, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Run one case in a folder of its own and look at what became of it."""
    as_json = case.seed % 2 == 0
    inner = folder / str(case.seed)
    inner.mkdir()
    check(case, stores.ran(case, inner, capsys, as_json=as_json), stores, as_json=as_json)


def test_there_are_enough_of_them() -> None:
    """At least 30 kinds, and over 1,000 cases in all."""
    assert len(KINDS) >= 30
    assert len(KINDS) * (len(FEW) + len(MANY)) >= 1000


def test_the_same_seed_writes_the_same_case(tmp_path: Path) -> None:
    """A case that fails can be made again."""
    from random import Random

    for name in ("day numbers", "noise", "rotten bytes"):
        seen = []
        for at in range(2):
            folder = tmp_path / f"{name}{at}"
            folder.mkdir()
            KINDS[name].write(Random(f"{name} 3"), folder)
            seen.append({path.name: path.stat().st_size for path in folder.rglob("*")})
        assert seen[0] == seen[1]
