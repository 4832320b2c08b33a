"""What a weighed container holds, and what it cannot."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from inventory.catalogue import Part, Supply
from inventory.ledger.bottles.scales import Impossible, Scale, scale_of

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


@pytest.mark.parametrize(("step", "density", "error"), [(1000, "1", 408), (1000, "0.8", 510), (100, "1", 41)])
def test_two_readings_of_a_scale_differ_by_its_rounding(step: int, density: str, error: int) -> None:
    """A reading is off by anything up to half a step, each as likely: its variance is step²/12 (rectangular
    distribution, JCGM 100:2008, 4.3.7), that of the difference of two twice as much: step / √6."""
    assert Scale(GLUE, 10_000, Fraction(density), 50_000).error(step) == error


def test_how_a_supply_is_weighed() -> None:
    """What is counted in grams needs no density; what is in millilitres does; neither goes without a tare."""
    grams = Part("wax", Supply("finish", 100_000, 10_000), "g")
    assert scale_of(grams) == Scale(grams, 10_000, Fraction(1), 100_000)
    dense = replace(grams, detail=Supply("finish", 100_000, 10_000, density=Fraction(4, 5)))
    assert scale_of(dense).density == 1
    oil = replace(dense, unit="ml")
    assert scale_of(oil).density == Fraction(4, 5)
    with pytest.raises(Impossible, match="The density of wax is not known"):
        scale_of(replace(grams, unit="ml"))
    with pytest.raises(Impossible, match="The empty weight of wax is not known"):
        scale_of(replace(grams, detail=Supply("finish", 100_000)))
