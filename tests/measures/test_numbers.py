"""Numbers and shares: both decimal marks, grouped thousands, and what could be two numbers."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.errors import BadMeasure
from inventory.measures import exact, read_fraction, read_number, show_number
from inventory.measures.numbers import fixed


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12", "12"),
        ("007", "7"),
        ("12.5", "12.5"),
        ("12,5", "12.5"),
        (".5", "0.5"),
        ("0,250", "0.25"),
        ("1.234", "1.234"),
        ("1234,567", "1234.567"),
        ("1,234.5", "1234.5"),
        ("1.234,5", "1234.5"),
        ("1,234,567", "1234567"),
        ("1.234.567", "1234567"),
        ("1,234,567.89", "1234567.89"),
        ("1 234", "1234"),
        ("1\u202f234,5", "1234.5"),
        ("1\u2019234.50", "1234.5"),
        ("+3", "3"),
        ("\u22123", "-3"),
        ("- 3", "-3"),
        ("½", "0.5"),
        ("1½", "1.5"),
        ("-1 1/4", "-1.25"),
        ("1/3", "1/3"),
        ("１２．５", "12.5"),
        ("1" * 24, "1" * 24),
    ],
)
def test_a_number_is_read_exactly(text: str, value: str) -> None:
    """Decimal comma or point, grouped or not, full-width digits, vulgar fractions."""
    assert Fraction(value) == read_number(text)


@pytest.mark.parametrize(
    ("text", "message", "hint"),
    [
        ("1,234", "two ways: 1234 or 1.234", "Write 1234 or 1.234"),
        ("999,000", "two ways: 999000 or 999.000", "Write 999000 or 999.000"),
        ("1e3", "exponent", "1200"),
        ("1.5E-3", "exponent", "1200"),
        ("inf", "not an amount of anything", "12.5"),
        ("-Infinity", "not an amount of anything", "12.5"),
        ("NaN", "not an amount of anything", "12.5"),
        ("--3", "not a number", "12.5"),
        ("-", "not a number", "12.5"),
        ("1,23,456", "not a number", "12.5"),
        ("1.2.3", "not a number", "12.5"),
        ("12.", "not a number", "12.5"),
        ("3/2", "not a proper fraction", "1 1/2"),
        ("25/11", "not a proper fraction", "1 1/2"),
        ("03/04", "not a number", "12.5"),
        ("٣", "not a number", "12.5"),
        ("twelve", "not a number", "12.5"),
        ("1" * 25, "too many digits", "12.5"),
        ("1" * 400, "too long", "alone"),
        ("", "empty", "number"),
    ],
)
def test_what_is_no_number_is_refused(text: str, message: str, hint: str) -> None:
    """Two readings are both named; slips get a sentence."""
    with pytest.raises(BadMeasure) as refusal:
        read_number(text)
    assert message in refusal.value.message
    assert hint in refusal.value.hint


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("4 %", "0.04"),
        ("4%", "0.04"),
        ("0.04", "0.04"),
        ("0,04", "0.04"),
        ("12,5 percent", "0.125"),
        ("1 %", "0.01"),
        ("0", "0"),
        ("99.9 %", "0.999"),
    ],
)
def test_a_share_is_read_with_or_without_its_sign(text: str, value: str) -> None:
    """A percentage or a plain share, exactly."""
    assert Fraction(value) == read_fraction(text)


@pytest.mark.parametrize(
    ("text", "message", "hint"),
    [
        ("4", "everything or more", "write 4 %"),
        ("1", "everything or more", "write 1 %"),
        ("100 %", "everything or more", "below 100 %"),
        ("250%", "everything or more", "below 100 %"),
        ("-4 %", "negative", "4 %"),
        ("%", "empty", "number"),
        ("some", "not a number", "12.5"),
    ],
)
def test_a_share_of_everything_or_without_its_sign_is_refused(text: str, message: str, hint: str) -> None:
    """4 may be 4 % or 400 %: it is asked, not guessed."""
    with pytest.raises(BadMeasure) as refusal:
        read_fraction(text)
    assert message in refusal.value.message
    assert hint in refusal.value.hint


@given(st.integers(-(10**12), 10**12), st.integers(0, 6))
def test_shown_numbers_read_back(units: int, places: int) -> None:
    """Both ways of showing give the number they came from."""
    value = Fraction(units, 10**places)
    assert value == read_number(show_number(value))
    assert value == read_number(fixed(units, places))


@given(st.decimals(min_value=0, max_value=10**9, places=2))
def test_grouping_changes_nothing(value: Decimal) -> None:
    """The same number with thousands parted in the English, continental, spaced and Swiss ways."""
    english = f"{value:,.2f}"
    continental = english.translate(str.maketrans(",.", ".,"))
    forms = (english, continental, english.replace(",", "\u00a0"), english.replace(",", "’"))
    assert {Fraction(value)} == {read_number(form) for form in forms}


def test_a_fraction_that_never_ends_is_shown_as_one() -> None:
    """No rounding in silence."""
    assert show_number(Fraction(1, 3)) == "1/3"


@given(st.integers(-(10**18), 10**18), st.integers(0, 6))
def test_exact_decimals_carry_no_error_and_no_idle_zeros(steps: int, places: int) -> None:
    """What goes into JSON is the integer divided, to the last digit."""
    value = exact(steps, 10**places)
    assert Fraction(steps, 10**places) == Fraction(value)
    assert "E" not in str(value)
    assert "." not in str(value) or not str(value).endswith("0")


@pytest.mark.parametrize("scale", [0, -10, 2, 3, 999])
def test_a_scale_that_is_no_power_of_ten_is_a_mistake_of_the_caller(scale: int) -> None:
    """A number of places mistaken for a divisor shows at once."""
    with pytest.raises(ValueError, match="power of ten"):
        exact(5, scale)
