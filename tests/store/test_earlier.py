"""Books of earlier versions open, are brought up to date, and say what they said."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest
from sqlalchemy import Boolean, Connection, Date, MetaData

from inventory.cli.app import make_app
from inventory.cli.edge import run
from inventory.store import open_store, verify
from inventory.store.copies.transfer import digests
from inventory.store.creating import make
from inventory.store.engine import find
from inventory.store.schema import version as schema

EARLIER = Path(__file__).parent / "earlier"
KEPT = sorted(path.stem for path in EARLIER.glob("*.sql"))


def _walked(version: str, folder: Path) -> tuple[str, Path]:
    file = folder / "book.kitdrawer"
    with closing(sqlite3.connect(file)) as connection:
        connection.executescript((EARLIER / f"{version}.sql").read_text(encoding="utf-8"))
    return version, file


@pytest.fixture(params=KEPT)
def kept(request: pytest.FixtureRequest, tmp_path: Path) -> tuple[str, Path]:
    """The version and the file of a walked book of each version one is kept of."""
    return _walked(request.param, tmp_path)


@pytest.fixture(params=[version for version in KEPT if version != f"v{schema.HEAD}"])
def older(request: pytest.FixtureRequest, tmp_path: Path) -> tuple[str, Path]:
    """The version and the file of a walked book of an earlier version."""
    return _walked(request.param, tmp_path)


def test_every_earlier_version_has_its_book() -> None:
    """A book is kept of each version: whoever adds one first keeps a book of the last, where there is none."""
    steps = Path(schema.__file__).parent / "migrations" / "versions"
    versions = {path.stem.split("_")[0] for path in steps.glob("v*.py")}
    assert f"v{schema.HEAD}" in versions
    assert versions - {f"v{schema.HEAD}"} <= set(KEPT) <= versions


def test_steps_make_what_they_made_when_they_were_new(kept: tuple[str, Path], tmp_path: Path) -> None:
    """Tables, indexes and triggers of a version come out word for word as its own program made them."""

    def objects(file: Path) -> set[tuple[str, str]]:
        with closing(sqlite3.connect(file)) as connection:
            rows = connection.execute("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL")
            return {(name, " ".join(sql.split()).replace('"', "")) for name, sql in rows}

    version, file = kept
    made = tmp_path / "made"
    make(find(made), lambda _: None, version.removeprefix("v"))
    assert objects(made) == objects(file)


def test_opens_and_verifies(older: tuple[str, Path]) -> None:
    """A copy is kept beside it, the book agrees with itself, and it has a mark of its own."""
    version, file = older
    with open_store(file) as store:
        assert verify(store) == ()
        with store.reading() as read:
            assert len(read.mark()) == 12
    (copy,) = file.parent.glob(f"*.before-{schema.HEAD}-*")
    with closing(sqlite3.connect(copy)) as connection:
        found = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    assert found == (version.removeprefix("v"),)


def test_says_what_it_said(
    kept: tuple[str, Path], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What its own program answered is what this one answers, whatever has been added since.

    But for what was wrong then, mended in the kept answers: bottles out of date counted as free, and wishes were
    judged each alone, so that one kit served two of them.
    """
    version, file = kept
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-11-28")
    for command in ("shelf", "orders", "due-in"):
        wanted = json.loads((EARLIER / f"{version}-{command}.json").read_text(encoding="utf-8"))
        assert _asked(file, command, "--json") == 0
        _holds(json.loads(capsys.readouterr().out), wanted)


def _asked(file: Path, *words: str) -> int:
    words = (*words, "--store", str(file))
    return run(make_app(words), words)


def test_what_was_learned_is_worked_out_anew(
    older: tuple[str, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    """The figures an older program kept are this one's own once the book is brought up to date."""
    _, file = older
    assert _asked(file, "verify") == 0
    said = capsys.readouterr().out
    assert said.startswith("All checks passed, ")
    with open_store(file) as store, store.reading() as read:
        assert all(one.worth > 0 for one in read.learned().losses)


def test_a_server_steps_up_with_its_rows(older: tuple[str, Path], database: str) -> None:
    """What a file's book is after the missing steps, a server's with the same rows is too, under the same names."""
    version, file = older
    place = find(database)
    make(place, lambda connection: _copy_rows(file, connection), version.removeprefix("v"))
    with open_store(database) as here, open_store(file) as there:
        assert verify(here) == ()
        with here.engine.connect() as connection, there.engine.connect() as other:
            kept, wanted = digests(connection), digests(other)
    assert {name for name in wanted if kept[name] != wanted[name]} <= {"shop"}


def _copy_rows(file: Path, to: Connection) -> None:
    """Every row of a file's tables, as they are; a server minds references only when the rows are there."""
    found = MetaData()
    found.reflect(to)
    with closing(sqlite3.connect(file)) as connection:
        connection.row_factory = sqlite3.Row
        for table in found.sorted_tables:
            to.execute(table.delete()) if table.name == "alembic_version" else None
            rows = [dict(row) for row in connection.execute(f"SELECT * FROM {table.name}")]
            days = [column.name for column in table.columns if isinstance(column.type, Date)]
            truths = [column.name for column in table.columns if isinstance(column.type, Boolean)]
            for row in rows:
                row |= {name: row[name] and date.fromisoformat(row[name]) for name in days}
                row |= {name: bool(row[name]) for name in truths}
            if rows:
                to.execute(table.insert(), rows)


def _holds(found: object, wanted: object) -> None:
    """Everything in `wanted` is in `found`; objects may have more fields."""
    if isinstance(wanted, dict):
        assert isinstance(found, dict)
        for key, value in wanted.items():
            _holds(found[key], value)
    elif isinstance(wanted, list):
        assert isinstance(found, list)
        assert len(found) == len(wanted)
        if wanted and isinstance(wanted[0], dict) and "from" in wanted[0]:  # claims stand in no order
            found, wanted = (
                sorted(claims, key=lambda one: (one["part"], one["from"])) for claims in (found, wanted)
            )
        for one, other in zip(found, wanted, strict=True):
            _holds(one, other)
    else:
        assert found == wanted
