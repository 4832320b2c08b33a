"""One PostgreSQL server for a whole test run, started when the first test asks for it.

KITDRAWER_TEST_POSTGRES names another one to test with: the URL of a role that may make databases and roles.
"""

from __future__ import annotations

import gc
import os
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import compiled
import postgres
import pytest
import searching

searching.register()
compiled.share()
compiled.read_commands_once()
compiled.merge_plainly()

WATCHED = pytest.StashKey[postgres.Watched]()
FOLDER = pytest.StashKey[str]()


def pytest_configure(config: pytest.Config) -> None:
    """The process that leads the run starts the watcher; the others are told its folder."""
    told = getattr(config, "workerinput", None)
    if told is not None:
        config.stash[FOLDER] = told.get("server folder", "")
    elif not postgres.missing() and not os.environ.get("KITDRAWER_TEST_POSTGRES"):
        config.stash[WATCHED] = postgres.Watched()
        config.stash[FOLDER] = str(config.stash[WATCHED].folder)


@pytest.hookimpl(optionalhook=True)
def pytest_configure_node(node: Any) -> None:
    """Called for every worker, where there are some."""
    node.workerinput["server folder"] = node.config.stash.get(FOLDER, "")


def pytest_unconfigure(config: pytest.Config) -> None:
    """The server ends with the run."""
    if WATCHED in config.stash:
        config.stash[WATCHED].end()


def pytest_collection_finish() -> None:
    """What is there before the first test stays to the end: looking through it for garbage is a tenth of the work."""
    compiled.make_tables_once()
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 20)


@pytest.fixture(scope="session", autouse=True)
def data_folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """What commands keep for their user is kept for the test run, and not for whoever runs it."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_DATA_HOME", str(tmp_path_factory.mktemp("data")))
        yield


@pytest.fixture(scope="session")
def server(pytestconfig: pytest.Config) -> str:
    """The URL of a PostgreSQL server, as a role that may make databases and roles on it."""
    if reason := postgres.missing():
        pytest.skip(reason)
    other = os.environ.get("KITDRAWER_TEST_POSTGRES")
    return other or postgres.asked(Path(pytestconfig.stash[FOLDER]))


@pytest.fixture
def new_database(server: str) -> Iterator[Callable[..., str]]:
    """Make a database for this test, as often as it is called."""
    with ExitStack() as stack:
        yield lambda template="template1": stack.enter_context(postgres.database(server, template))


@pytest.fixture
def database(new_database: Callable[..., str]) -> str:
    """The URL of an empty database of this test's own."""
    return new_database()
