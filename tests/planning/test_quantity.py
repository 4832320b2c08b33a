"""Order sizes and reorder levels against the worked examples of a textbook."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.errors import BadInput
from inventory.planning.reorder.quantity import eoq, eoq_all_units


@pytest.mark.outside
def test_economic_order_quantity() -> None:
    """Snyder & Shen, 2nd ed., example 3.1 (read in a public copy of its data): fixed 8, holding 0.225, demand 1300."""
    size = eoq(8, 0.225, 1300)
    assert size.quantity == pytest.approx(304.0467800264368, rel=1e-12)
    assert size.cost == pytest.approx(68.41052550594829, rel=1e-12)


@pytest.mark.outside
@pytest.mark.parametrize(
    ("fixed", "rate", "demand", "breaks", "quantity", "cost"),
    [
        (8, 0.3, 1300, [(0, 0.75), (400, 0.72), (800, 0.68)], 800, 978.6),
        (8, 0.2, 600, [(0, 0.30), (500, 0.29), (1000, 0.28)], 500, 198.1),
    ],
    ids=["Snyder & Shen, data of section 3.5", "Nahmias, the example of trash bags"],
)
def test_all_units_discount(
    fixed: float, rate: float, demand: float, breaks: list[tuple[float, float]], quantity: float, cost: float
) -> None:
    """The best order is at the last break in both published cases."""
    size = eoq_all_units(fixed, rate, demand, breaks)
    assert size.quantity == pytest.approx(quantity, rel=1e-12)
    assert size.cost == pytest.approx(cost, rel=1e-9)


@pytest.mark.outside
def test_economic_order_quantity_with_waiting() -> None:
    """Snyder & Shen, example 3.8 (read in a public copy of its data): a penalty of 5 besides."""
    size = eoq(8, 0.225, 1300, 5)
    assert size.quantity == pytest.approx(310.81255515896464, rel=1e-12)
    assert size.short == pytest.approx(0.0430622009569378, rel=1e-12)
    assert size.cost == pytest.approx(66.92136355097325, rel=1e-12)


@given(
    st.floats(1, 100), st.floats(0.05, 0.5), st.floats(10, 5000), st.lists(st.floats(0.7, 0.99), max_size=3)
)
def test_no_quantity_on_a_grid_costs_less(
    fixed: float, rate: float, demand: float, cuts: list[float]
) -> None:
    """The closed form against the cost of every quantity from 1 to 2000."""
    breaks, price = [(0.0, 5.0)], 5.0
    for number, cut in enumerate(cuts, 1):
        price *= cut
        breaks.append((150.0 * number, price))
    best = eoq_all_units(fixed, rate, demand, breaks)
    for quantity in range(1, 2001, 7):
        at = [one for start, one in breaks if start <= quantity][-1]
        assert best.cost <= (at * demand + fixed * demand / quantity + rate * at * quantity / 2) * (1 + 1e-12)


def test_figures_that_cannot_be_are_refused() -> None:
    """With what is accepted."""
    with pytest.raises(BadInput, match="Fixed must be above 0"):
        eoq(0, 1, 1)
    with pytest.raises(BadInput, match="Every price must be above 0"):
        eoq_all_units(1, 1, 1, [])
    with pytest.raises(BadInput, match="Every price must be above 0"):
        eoq_all_units(1, 1, 1, [(0, 1.0), (5, 0.0)])
    for breaks in ([(5, 1.0)], [(0, 1.0), (0, 0.5)]):
        with pytest.raises(BadInput, match="out of order"):
            eoq_all_units(1, 1, 1, breaks)
