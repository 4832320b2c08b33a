"""What a weighed container holds, and what it cannot."""

from __future__ import annotations

from fractions import Fraction

import pytest

from inventory.catalogue import Part, Supply
from inventory.ledger.bottles.scales import Impossible, Scale

GLUE = Part("glue", Supply("adhesive"), "ml")
BOTTLE = Scale(GLUE, tare=10_000, density=Fraction(21, 20), net=50_000)


def test_a_bottle_may_be_a_little_overfull() -> None:
    """Makers fill with a margin: a twentieth more than its net is a full bottle, an eighth more is another bottle."""
    assert BOTTLE.inside(10_000 + 52_500 * 21 // 20, "after g") == 52_500
    with pytest.raises(Impossible, match="a full one holds 50"):
        BOTTLE.inside(10_000 + 56_250 * 21 // 20, "after g")


def test_a_bottle_weighs_what_it_weighs_empty_or_more() -> None:
    assert BOTTLE.inside(10_000, "after g") == 0
    with pytest.raises(Impossible, match="less than the empty bottle, 10 g"):
        BOTTLE.inside(9_999, "after g")
