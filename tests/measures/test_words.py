"""Yes and no as people put them into cells."""

from __future__ import annotations

import pytest

from inventory.errors import BadMeasure
from inventory.measures.words import read_yes_or_no


@pytest.mark.parametrize("text", ["yes", " Yes ", "Y", "TRUE", "1", "x", "✓"])
def test_yes(text: str) -> None:
    """A word, its letter, a mark, and what a spreadsheet makes of a tick."""
    assert read_yes_or_no(text)


@pytest.mark.parametrize("text", ["no", "NO", "n", "False", "0", "-"])
def test_no(text: str) -> None:
    """Likewise."""
    assert not read_yes_or_no(text)


@pytest.mark.parametrize("text", ["", "perhaps", "2", "yes and no"])
def test_neither(text: str) -> None:
    """Refused with what is accepted."""
    with pytest.raises(BadMeasure, match="neither yes nor no") as found:
        read_yes_or_no(text)
    assert found.value.hint == "Write yes or no."
