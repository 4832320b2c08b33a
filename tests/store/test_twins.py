"""The Core twins say the same as the SQLModel tables they stand for."""

from __future__ import annotations

import pytest

import inventory.store.schema.models  # noqa: F401 - fills METADATA
from inventory.store.schema import core
from inventory.store.schema.models.base import METADATA


def test_every_table_has_a_twin() -> None:
    """No table is missing among the twins, and none is made up."""
    assert set(core.METADATA.tables) == set(METADATA.tables)


@pytest.mark.parametrize("name", sorted(METADATA.tables))
def test_a_twin_has_the_same_columns(name: str) -> None:
    """Names, order, types, keys and references are those of the declared table."""

    def told(metadata: object) -> list[tuple[str, str, bool, list[str]]]:
        columns = metadata.tables[name].columns  # type: ignore[attr-defined]  # both are MetaData
        return [
            (c.name, str(c.type), c.primary_key, [key.target_fullname for key in c.foreign_keys])
            for c in columns
        ]

    assert told(core.METADATA) == told(METADATA)
