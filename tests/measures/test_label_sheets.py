"""The measures of a sheet of labels: what is accepted and what is not."""

from __future__ import annotations

import pytest

from inventory.errors import BadMeasure
from inventory.measures.labels import read_label_sheet


def test_a_label_of_a_centimetre_is_the_least() -> None:
    """At the least it is taken, a hundredth of a millimetre under it, either way, it is not."""
    assert read_label_sheet("1x1, 10x10, 0+0").size == "10x10"
    for less in ("9.99x10", "10x9.99"):
        with pytest.raises(BadMeasure, match="at least 10 mm wide and high"):
            read_label_sheet(f"1x1, {less}, 0+0")


def test_labels_without_a_gap_are_side_by_side() -> None:
    """Where no gap is said there is none: the second label begins where the first ends."""
    sheet = read_label_sheet("2x2, 70x42.4, 35+20")
    assert not sheet.across
    assert not sheet.down
    places = [tuple(map(float, sheet.place(at))) for at in range(4)]
    assert places == [(35, 20), (105, 20), (35, 62.4), (105, 62.4)]
