"""Fresh books for the model, in files and on a server."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import postgres
import pytest
from sqlalchemy import make_url

from .machine import TODAY, Places
from .tool import Tool


@pytest.fixture(scope="module")
def fresh(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of a book with the little shop's names in it, and nothing on the shelf."""
    folder = tmp_path_factory.mktemp("fresh")
    with pytest.MonkeyPatch.context() as patch:
        Tool(str(folder / "fresh.kitdrawer"), folder, patch, TODAY).begin()
    return folder / "fresh.kitdrawer"


@pytest.fixture
def files(fresh: Path, tmp_path: Path) -> Places:
    """Books in files: a copy of the fresh one, always in the same place."""

    @contextmanager
    def copied() -> Iterator[str]:
        path = tmp_path / "book.kitdrawer"
        for old in tmp_path.glob("book.kitdrawer*"):
            old.unlink()
        shutil.copy(fresh, path)
        yield str(path)

    return copied


@pytest.fixture
def databases(server: str, tmp_path: Path) -> Iterator[Places]:
    """Books on a server, each a copy of one database."""
    with postgres.database(server) as url, pytest.MonkeyPatch.context() as patch:
        Tool(url, tmp_path, patch, TODAY).begin()
        name = str(make_url(url).database)

        yield lambda: postgres.database(server, name)
