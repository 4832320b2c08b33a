"""The room's door: everything public is reached from the package, and opening it costs next to nothing."""

from __future__ import annotations

import doctest
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

from inventory import measures


@pytest.mark.parametrize("name", measures.__all__)
def test_every_public_name_is_reached_from_the_package(name: str) -> None:
    """Each loads its module on first use."""
    assert getattr(measures, name) is not None


def test_a_name_that_is_not_there_is_an_attribute_error() -> None:
    """A misspelt import fails as Python's own do."""
    with pytest.raises(AttributeError, match="read_lenght"):
        measures.read_lenght  # noqa: B018 - the access is the test


def test_the_examples_in_the_docstrings_hold() -> None:
    """Each is run as written."""
    folder = Path(measures.__file__).parent
    names = [path.stem for path in folder.glob("*.py") if path.stem != "__init__"]
    results = [doctest.testmod(import_module(f"inventory.measures.{name}")) for name in names]
    assert sum(result.attempted for result in results) >= 4
    assert not any(result.failed for result in results)


def _loaded(code: str) -> set[str]:
    script = f"import sys; {code}; print(*sys.modules)"
    return set(
        subprocess.run(
            [sys.executable, "-c", script], check=True, capture_output=True, text=True
        ).stdout.split()
    )


def test_opening_the_room_loads_none_of_its_modules() -> None:
    """Tables and heavy libraries wait until they are needed."""
    assert not {
        name for name in _loaded("import inventory.measures") if name.startswith("inventory.measures.")
    }


def test_reading_needs_no_library() -> None:
    """Amounts in any unit, drills, money and dates load the standard library alone."""
    own = "from inventory.measures import *; read_amount('2 kg', 'g'); read_amount('2 oz', 'g'); "
    own += "read_drill('#7'); read_grit('P400'); "
    own += "read_money('5', currency('EUR')); read_date('2026-11-25')"
    assert not {"pint", "numpy", "pandas", "scipy"} & _loaded(own)
