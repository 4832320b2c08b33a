"""The columns production works with are the ones the SQLModel classes declare, and no looking command builds those."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from inventory.store.schema import core
from inventory.store.schema.generate import TARGET, generated
from inventory.store.schema.models import METADATA


def test_nothing_was_forgotten_to_be_generated() -> None:
    """Writing the columns anew changes nothing; else run `python -m inventory.store.schema.generate`."""
    assert TARGET.read_text(encoding="utf-8") == generated()


@pytest.mark.parametrize("name", sorted(METADATA.tables))
def test_a_generated_table_is_the_declared_one(name: str) -> None:
    """Names, order, types, keys, references and what may be empty are those of the class."""

    def told(metadata: object) -> list[tuple[object, ...]]:
        columns = metadata.tables[name].columns  # type: ignore[attr-defined]  # both are MetaData
        return [
            (c.name, str(c.type), c.primary_key, c.nullable, [key.target_fullname for key in c.foreign_keys])
            for c in columns
        ]

    assert told(core.every_table()) == told(METADATA)


@pytest.mark.parametrize("command", ["shelf", "orders", "due-in", "shopping"])
def test_a_looking_command_builds_no_classes(command: str, book_file: Path) -> None:
    """SQLModel and its classes cost more than the look itself: neither is loaded for it, nor are pandas and alembic."""
    asked = (
        "import sys; from inventory.cli import main\n"
        "try:\n    main()\n"
        "except SystemExit:\n    pass\n"
        "print(*sys.modules, file=sys.stderr)"
    )
    told = subprocess.run(
        [sys.executable, "-c", asked, command, "--store", str(book_file)],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "KITDRAWER_TODAY": "2026-11-28"},
    )
    loaded = set(told.stderr.split())
    assert "inventory.store.schema.core" in loaded
    assert loaded.isdisjoint({"sqlmodel", "pandas", "alembic", "inventory.store.schema.models"})
