"""Prices by margin and markup, and how many pieces pay what is paid once, against what textbooks work out."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.planning.contribution import (
    margin_of,
    markup_of,
    pieces_for,
    price_by_margin,
    price_by_multiple,
)


@pytest.mark.outside
def test_break_even_as_a_textbook_has_it() -> None:
    """Open textbooks: what is paid once, a price, what one more costs.

    Fixed 20,000, price 400, variable 250: each piece lessens the loss by 150 (Penn State, ACCTG 211, §7.2, read). Fixed
    18,000, 100, 20: 225 pieces (OpenStax, *Principles of Accounting* 2, §3.2, from memory).
    Birdhouses at 30, 14.50 each, 13,268 once: 856; for 21,000 more 2,211 whole ones (a worked exercise, read; it rounds
    2,210.8 down).
    """
    assert pieces_for(20_000, 400, Fraction(250)) == 134  # 133⅓
    assert pieces_for(18_000, 100, Fraction(20)) == 225
    assert pieces_for(1_326_800, 3000, Fraction(1450)) == 856
    assert pieces_for(1_326_800, 3000, Fraction(1450), 2_100_000) == 2_211


@pytest.mark.outside
def test_rates_of_markup_as_a_college_has_them() -> None:
    """Markup as a share of the cost, and as a share of the selling price (Centennial College, *Markup*, read).

    A cost of 100 sold at 125 is marked up by 25 % (a worked answer, read), which is 20 % of the price.
    """
    assert markup_of(125, Fraction(100)) == Fraction(1, 4)
    assert margin_of(125, Fraction(100)) == Fraction(1, 5)
    assert price_by_margin(Fraction(100), Fraction(1, 5)) == 125


def test_nothing_is_divided_by_nothing() -> None:
    """A price of nothing has no margin, a cost of nothing no markup, and a loss a piece pays no fee."""
    assert margin_of(0, Fraction(5)) is None
    assert markup_of(5, Fraction(0)) is None
    assert pieces_for(100, 5, Fraction(5)) is None


@examples(30)
@given(cost=st.integers(1, 10**7), percent=st.integers(0, 99), times=st.fractions(1, 20))
def test_the_lowest_whole_price_that_keeps_the_margin(cost: int, percent: int, times: Fraction) -> None:
    """A coin less keeps less than it; m = g / (1 - g)."""
    share = Fraction(percent, 100)
    price = price_by_margin(Fraction(cost), share)
    kept, less = margin_of(price, Fraction(cost)), margin_of(price - 1, Fraction(cost))
    assert kept is not None
    assert kept >= share
    assert less is None or less < share
    assert markup_of(price, Fraction(cost)) == kept / (1 - kept)
    assert 0 <= price_by_multiple(Fraction(cost), times) - cost * times < 1


@examples(30)
@given(fixed=st.integers(0, 10**6), price=st.integers(1, 10**5), variable=st.fractions(0, 10**5))
def test_one_piece_fewer_does_not_pay(fixed: int, price: int, variable: Fraction) -> None:
    """So many pay it, one fewer does not."""
    many = pieces_for(fixed, price, variable)
    if many is None:
        assert price <= variable
        return
    assert many * (price - variable) >= fixed
    assert many == 0 or (many - 1) * (price - variable) < fixed
