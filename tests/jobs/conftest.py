"""The store of one planned Saturday, made once and copied for each test."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from inventory.jobs.sessions.planning import Ask
from inventory.store import Store, open_store
from jobs.sessions import SATURDAY, opened, planned, promised
from jobs.weekend_case import KNOT, REED, STALL, TERN


@pytest.fixture(scope="session")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store with three promised orders and stall pieces, all planned for Saturday: rows 1 to 4."""
    path = tmp_path_factory.mktemp("weekend") / "book.kitdrawer"
    with opened(path) as store:
        promised(store, REED, TERN, KNOT)
        planned(store, Ask((SATURDAY,), ("Reed", "Tern", "Knot"), (STALL,)))
    return path


@pytest.fixture
def store(template: Path, tmp_path: Path) -> Iterator[Store]:
    """A copy of it for one test."""
    with open_store(shutil.copy(template, tmp_path)) as found:
        yield found
