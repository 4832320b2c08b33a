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


Commands = Callable[[Kitdrawer, Path], None]


def after(loaded: Path, folder: Path, commands: Commands) -> Path:
    """A copy of the loaded store in this folder after some commands; the tests of a process work on copies of it."""
    store = Path(shutil.copy(loaded, folder / "book.kitdrawer"))

    def call(*words: str) -> Answer:
        return Answer(run(make_app(words), words), "", "")

    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("KITDRAWER_STORE", str(store))
        patch.setenv("KITDRAWER_TODAY", TODAY)
        commands(call, folder)
    return store


@pytest.fixture(scope="session")
def once_booked(loaded: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample's store after one booked session (document 3)."""
    from .learned import weekend  # which needs this file

    def book(call: Kitdrawer, folder: Path) -> None:
        assert call("weekend", "book", str(weekend(call, folder)), "--yes").code == 0

    return after(loaded, tmp_path_factory.mktemp("booked"), book)


@pytest.fixture
def booked(once_booked: Path, store: Path) -> Path:
    """A copy of that one, known to every command of this test."""
    return Path(shutil.copy(once_booked, store))


@pytest.fixture(scope="session")
def once_promised(loaded: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample's store with S41 and S42 promised (documents 2 and 3)."""

    def promise(call: Kitdrawer, _: Path) -> None:
        for order in ("S41", "S42"):
            assert call("promise", order, "--yes").code in (0, 3)

    return after(loaded, tmp_path_factory.mktemp("promised"), promise)


@pytest.fixture
def both_promised(once_promised: Path, store: Path) -> Path:
    """A copy of that one, known to every command of this test."""
    return Path(shutil.copy(once_promised, store))


@pytest.fixture(scope="session")
def once_ordered(loaded: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample's store with S42 promised and one supplier's part of the list ordered (document 3)."""
    from .buying import SALT  # which needs this file

    def order(call: Kitdrawer, _: Path) -> None:
        assert call("promise", "S42", "--yes").code in (0, 3)
        assert call("placed", "--supplier", SALT, "--yes").code == 0

    return after(loaded, tmp_path_factory.mktemp("ordered"), order)


@pytest.fixture
def ordered(once_ordered: Path, store: Path) -> Path:
    """A copy of that one, known to every command of this test."""
    return Path(shutil.copy(once_ordered, store))
