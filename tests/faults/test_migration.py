"""Killed while an old book is brought up to date: it is old or new, whole, and a copy of the old one is kept."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

import postgres
import pytest
from sqlalchemy import MetaData, create_engine, make_url

from inventory.store import Store, open_store, verify
from inventory.store import engine as engines
from inventory.store.copies.copy import copy_file
from inventory.store.copies.upgrade import bring_up_to_date
from inventory.store.schema import version as schema

from .kills import quiet
from .shop import ENGINES
from .warm import TESTS, Child, Said, Warm, heard
from .worlds import asked, picture

OLD = TESTS / "store" / "earlier" / "v0001.sql"
VERSION = "SELECT version_num FROM alembic_version"


@pytest.fixture(scope="module")
def old_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of a book of the first version."""
    file = tmp_path_factory.mktemp("old") / "book"
    with closing(sqlite3.connect(file)) as connection:
        connection.executescript(OLD.read_text(encoding="utf-8"))
    return file


@pytest.fixture(scope="module")
def old_database(server: str, old_book: Path) -> Iterator[str]:
    """The name of a database with the same book."""
    with postgres.database(server) as url:
        _carried(old_book, url)
        yield str(make_url(url).database)


def _carried(old_book: Path, url: str) -> None:
    """The tables of the first version on a server, and the rows of the file in them."""
    from alembic import command
    from alembic.config import Config

    file, there = create_engine(f"sqlite:///{old_book}"), create_engine(url.replace("://", "+psycopg://", 1))
    with file.connect() as source, there.begin() as target:
        config = Config()
        config.set_main_option("script_location", str(Path(schema.__file__).parent / "migrations"))
        config.set_main_option("path_separator", "os")
        config.attributes["connection"] = target
        command.upgrade(config, "0001")
        made = MetaData()
        made.reflect(target)
        for table in made.sorted_tables:
            rows = [dict(row._mapping) for row in source.execute(table.select())]
            if rows and table.name != "alembic_version":
                target.execute(table.insert(), rows)
    file.dispose()
    there.dispose()


@contextmanager
def old(engine: str, request: pytest.FixtureRequest) -> Iterator[tuple[str, Path]]:
    """An old book of one's own, and its folder."""
    with TemporaryDirectory(prefix="fault") as name:
        if engine == "sqlite":
            yield str(shutil.copy(request.getfixturevalue("old_book"), f"{name}/book")), Path(name)
            return
        template = request.getfixturevalue("old_database")
        with postgres.database(request.getfixturevalue("server"), template) as url:
            yield url, Path(name)


def opened(warm: Warm, store: str, folder: Path, after: float | None = None, step: int | None = None) -> Said:
    """Open it by looking at its shelf."""
    said = warm.call(store, "shelf", folder=folder, after=after, step=step)
    quiet(store)
    return said


def kill_and_look(warm: Warm, engine: str, request: pytest.FixtureRequest, trials: int) -> tuple[int, int]:
    """Kill the bringing up to date so often; how often it was old afterwards, and how often new."""
    dice = Random(f"{engine} {trials}")
    with old(engine, request) as (store, folder):
        was = picture(store)
        said = opened(warm, store, folder, step=0)
        assert said.code == 0, said
        new, steps = picture(store), int((folder / ".said.steps").read_text(encoding="utf-8"))
    found = [0, 0]
    for number in range(trials):
        with old(engine, request) as (store, folder):
            if number % 2:
                opened(warm, store, folder, step=dice.randint(1, steps))
            else:
                opened(warm, store, folder, after=dice.uniform(0, said.seconds))
            ((version,),) = asked(store, VERSION)
            assert picture(store) == {"0001": was, schema.HEAD: new}[version]
            found[version == schema.HEAD] += 1
            copies = [path for path in folder.rglob("*.before-*") if path.name[0] != "."]
            assert all(picture(str(copy)) == was for copy in copies)
            assert copies or version != schema.HEAD
            for words in (("shelf",), ("verify",)):
                again = warm.call(store, *words, folder=folder)
                assert again.code == 0, again
            assert picture(store) == new
            for copy in copies:
                rehearsed(warm, copy, folder, new)
    return found[0], found[1]


def rehearsed(warm: Warm, copy: Path, folder: Path, new: str) -> None:
    """The copy of the old book, of a file or a server, is put where nothing is, and opens there."""
    place = folder / f"rehearsed {copy.name}"
    said = warm.call(str(place), "restore", str(copy), "--yes", folder=folder)
    assert said.code == 0, said
    assert warm.call(str(place), "verify", folder=folder).code == 0
    assert picture(str(place)) == new
    assert not list(folder.glob(f"*{place.name}*.before-*"))  # nor is a second copy of the old one left


def test_killed_once(light: Warm, request: pytest.FixtureRequest) -> None:
    """One kill; `scripts/soak.py` tries many, on a server too."""
    assert sum(kill_and_look(light, "sqlite", request, 1)) == 1


@pytest.mark.soak
@pytest.mark.parametrize("engine", ENGINES)
def test_killed_at_any_moment(warm: Warm, request: pytest.FixtureRequest, engine: str) -> None:
    """Thirty kills on each engine, at random moments and steps."""
    was, became = kill_and_look(warm, engine, request, 30)
    assert was > 0
    assert was + became == 30


@pytest.mark.parametrize("engine", ENGINES)
def test_two_in_the_same_second(
    request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch, engine: str
) -> None:
    """Of two who both found it old the first brings it up to date and keeps a copy; the second has nothing to do."""
    with old(engine, request) as (store, folder):
        monkeypatch.setenv("XDG_DATA_HOME", str(folder))
        was = picture(store)
        kept = []
        for _ in range(2):
            place = engines.find(store)
            with Store(place, engines.engine(place)) as found:
                kept.append(bring_up_to_date(found))
        assert kept[0] is not None
        assert kept[1] is None
        assert picture(str(kept[0])) == was
        assert [path for path in folder.rglob("*.before-*") if path.is_file()] == [kept[0]]
        with open_store(store) as found:
            assert (verify(found), found.kept) == ((), None)


@pytest.mark.soak
def test_four_at_the_same_moment(light: Warm, old_book: Path, tmp_path: Path) -> None:
    """Four who open an old book at once all get in; it is brought up to date once."""
    copy_file(old_book, tmp_path / "book")
    logs = [tmp_path / f".heard-{number}" for number in range(4)]
    env = {"KITDRAWER_STORE": str(tmp_path / "book")}
    light.run(*(Child([("shelf",), ("orders",)], str(log), env) for log in logs))
    said = [one for log in logs for one in heard(log)]
    assert [one.code for one in said] == [0] * 8
    assert sorted(one.err.partition(" As it was")[0] for one in said) == [""] * 7 + [
        "The book was brought up to date."
    ]
    assert asked(str(tmp_path / "book"), VERSION) == [(schema.HEAD,)]
