"""A fresh, empty store per test, once on SQLite and once on PostgreSQL; see `tests/conftest.py` for the server."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import postgres
import pytest
from sqlalchemy import make_url

from inventory.store import Store, begin, open_store

from .shop import filled

HERE = Path(__file__).parent


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Of tables tried in a file and on a server every fourth row is tried on the server, the others in the soak."""
    for item in items:
        called = getattr(item, "callspec", None)
        if item.path.parent != HERE or called is None or called.params.get("where") != "postgresql":
            continue
        if sum(at for name, at in called.indices.items() if name != "where") % 4:
            item.add_marker(pytest.mark.soak)


@pytest.fixture(params=["sqlite", "postgresql"])
def where(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """A place where nothing is yet; for a test that takes `store` too, where that one is."""
    full = "store" in request.fixturenames
    if request.param == "postgresql":
        template = request.getfixturevalue("template_database") if full else "template1"
        return str(request.getfixturevalue("new_database")(template))
    path = tmp_path / "book.kitdrawer"
    if full:
        shutil.copy(request.getfixturevalue("template"), path)
    return str(path)


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


@pytest.fixture(scope="session")
def template_database(server: str) -> Iterator[str]:
    """The name of a database with the same in it, made once for the same reason."""
    with postgres.database(server) as url:
        with begin(url, "EUR") as begun:
            filled(begun)
        yield str(make_url(url).database)


@pytest.fixture
def store(where: str) -> Iterator[Store]:
    """A store with the little shop's catalogue and its opening count: 10 kits, 5 blanks, 100 ml of glue."""
    with open_store(where) as copied:
        yield copied


@pytest.fixture
def book_file(tmp_path: Path, template: Path) -> Path:
    """The file of a closed store with the little shop in it."""
    return Path(shutil.copy(template, tmp_path / "book.kitdrawer"))
