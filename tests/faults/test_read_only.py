"""Where one may only look: every way of writing is refused in a sentence, and nothing is touched."""

from __future__ import annotations

import os
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from sqlalchemy import make_url

from inventory.store.copies.roles import rights

from .referee import untold
from .shop import Shop
from .trials import TRIALS, Run, Trial, begun, half_done
from .warm import Warm
from .worlds import STORE, asked

MODES = ((0o444, 0o555), (0o444, 0o777), (0o644, 0o555))
"""Of the book and of its folder, for who does not own them."""
IN_FILES = [one for one in TRIALS if "sqlite" in one.engines and not one.empty and not one.damaged]
ON_SERVERS = [one for one in TRIALS if "postgresql" in one.engines and not one.empty]


def refused(trial: Trial, run: Run, warm: Warm, store: str, *, nobody: bool) -> list[str]:
    """What is wrong with how a command that may not write ended; commands that only save a sheet may do so."""
    before = run.world()
    with TemporaryDirectory() as aside:
        Path(aside).chmod(0o755)
        said = warm.call(store, *run.words, folder=Path(aside), nobody=nobody)
    found = run.world()
    wrong = [*untold(said)]
    if found[STORE] != before[STORE]:
        wrong.append("the book was changed")
    if said.code != 1 and found == before:
        wrong.append(f"it says that it is done: {said}")
    if said.code == 1:
        wrong += half_done(trial, before, {STORE: found[STORE], **found}, {**found, **before})
    return wrong


@pytest.mark.soak
@pytest.mark.parametrize(("file_mode", "folder_mode"), MODES)
@pytest.mark.parametrize("trial", IN_FILES, ids=str)
def test_in_a_file(warm: Warm, shop: Shop, trial: Trial, file_mode: int, folder_mode: int) -> None:
    """As somebody who may read the file and its folder, or write in the folder alone."""
    if os.geteuid():
        pytest.skip("only root can act as somebody else")
    with TemporaryDirectory(prefix="fault") as name:
        folder = Path(name)
        with begun(trial, shop, "sqlite", folder) as run:
            Path(run.store).chmod(file_mode)
            folder.chmod(folder_mode)
            sheets = [shop.sheets, *shop.sheets.parents]
            closed = [place for place in sheets if place.stat().st_mode & 0o055 != 0o055]
            for place in closed:
                place.chmod(0o755)
            for sheet in shop.sheets.rglob("*"):  # copies are their owner's alone
                sheet.chmod(sheet.stat().st_mode | 0o044)
            assert refused(trial, run, warm, run.store, nobody=True) == []
            folder.chmod(0o755)


@contextmanager
def looking(url: str) -> Iterator[str]:
    """The same database as a role that may only look."""
    name, secret = f"look_{secrets.token_hex(6)}", secrets.token_hex(8)
    asked_of = make_url(url)
    try:
        for line in (f"CREATE ROLE {name} LOGIN PASSWORD '{secret}'", *rights(name, look=True)):
            if line.strip() and not line.startswith("--"):
                _do(url, line)
        yield asked_of.set(username=name, password=secret).render_as_string(hide_password=False)
    finally:
        _do(url, f"DROP OWNED BY {name}")
        _do(url, f"DROP ROLE {name}")


def _do(url: str, statement: str) -> None:
    import psycopg

    with psycopg.connect(url, autocommit=True) as server:
        server.execute(statement.encode())


@pytest.mark.soak
@pytest.mark.parametrize("trial", ON_SERVERS, ids=str)
def test_on_a_server(warm: Warm, shop: Shop, tmp_path: Path, trial: Trial) -> None:
    """As a role that was admitted to look: nothing is booked, sheets and copies may be saved."""
    version = "SELECT version FROM shop"
    with begun(trial, shop, "postgresql", tmp_path) as run, looking(run.store) as url:
        before = asked(run.store, version)
        assert refused(trial, run, warm, url, nobody=False) == []
        assert asked(run.store, version) == before
