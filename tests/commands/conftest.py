"""A shop on the command line: the sample stock, loaded once and copied for every test."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from inventory.cli.app import make_app
from inventory.cli.edge import run

SAMPLE = Path(__file__).resolve().parents[2] / "sample_stock"
TODAY = "2026-11-28"


@dataclass(frozen=True)
class Answer:
    """What a command said and how it ended."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """The answer as JSON, numbers exact."""
        return json.loads(self.out, parse_float=Decimal)


Kitdrawer = Callable[..., Answer]


@pytest.fixture(scope="session")
def loaded(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store with the sample stock in it."""
    store = tmp_path_factory.mktemp("loaded") / "book.kitdrawer"
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("KITDRAWER_TODAY", TODAY)
        for words in (["begin", "--rate", "USD=0.92"], ["load", str(SAMPLE), "--yes"]):
            assert run(make_app(words), [*words, "--store", str(store)]) == 0
    return store


@pytest.fixture
def store(loaded: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of it, known to every command of this test."""
    copy = tmp_path / "book.kitdrawer"
    shutil.copy(loaded, copy)
    monkeypatch.setenv("KITDRAWER_STORE", str(copy))
    monkeypatch.setenv("KITDRAWER_TODAY", TODAY)
    monkeypatch.setenv("COLUMNS", "80")
    return copy


@pytest.fixture
def kitdrawer(capsys: pytest.CaptureFixture[str]) -> Kitdrawer:
    """Run a command in this process."""

    def call(*words: str) -> Answer:
        capsys.readouterr()
        code = run(make_app(words), words)
        said = capsys.readouterr()
        return Answer(code, said.out, said.err)

    return call


@pytest.fixture(scope="session")
def once_booked(loaded: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample's store after one booked session (document 3)."""
    from .learned import weekend  # which needs this file

    folder = tmp_path_factory.mktemp("after")
    store = Path(shutil.copy(loaded, folder / "book.kitdrawer"))

    def call(*words: str) -> Answer:
        return Answer(run(make_app(words), words), "", "")

    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("KITDRAWER_STORE", str(store))
        patch.setenv("KITDRAWER_TODAY", TODAY)
        assert call("weekend", "book", str(weekend(call, folder)), "--yes").code == 0
    return store


@pytest.fixture
def booked(once_booked: Path, store: Path) -> Path:
    """A copy of that one, known to every command of this test."""
    return Path(shutil.copy(once_booked, store))
