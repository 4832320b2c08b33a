"""One PostgreSQL server for a whole test run, started when the first test asks for it.

KITDRAWER_TEST_POSTGRES names another one to test with: the URL of a role that may make databases and roles.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import compiled
import postgres
import pytest
from hypothesis import settings

# How long an example takes says more of what else the machine does than of the program.
settings.register_profile("kitdrawer", deadline=None)
settings.load_profile("kitdrawer")
compiled.share()

UNTRACED = {
    "buying": "basket published_vendors shares",
    "cli": "edges promises_of_the_readme taking_orders",
    "commands": "loading_learned",
    "faults": "kills two_at_once",
    "jobs": "learning_recovery",
    "making": "rates_laws recovery",
    "measures": "amounts",
    "sheets": "only_writers",
    "store": "append_only carrying history processes proof turned undo",
    "tests": "arrows frame scripts",
}
"""Modules that walk where others walk too, for other reasons: many seeds, both engines, large published cases.

Counting covered lines makes a test a third to twice slower; all these together are alone in 2 of 1,000 branches.
"""
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


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call(item: pytest.Item) -> Iterator[None]:
    """Lines and branches are counted where that tells something.

    pytest-cov's own mark for it stops one of the two tracers a worker of xdist has, so that the other goes on.
    """
    tracer = sys.gettrace()
    if item.path.stem.removeprefix("test_") in UNTRACED.get(item.path.parent.name, "").split():
        sys.settrace(None)
    try:
        yield
    finally:
        sys.settrace(tracer)


@pytest.hookimpl(optionalhook=True)
def pytest_configure_node(node: Any) -> None:
    """Called for every worker, where there are some."""
    node.workerinput["server folder"] = node.config.stash.get(FOLDER, "")


def pytest_unconfigure(config: pytest.Config) -> None:
    """The server ends with the run."""
    if WATCHED in config.stash:
        config.stash[WATCHED].end()


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
