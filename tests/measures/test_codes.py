"""Codes of parts: every wrong digit is noticed, and what is read is what was printed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.measures.codes import check_digit, misread, number_in, part_code

numbers = st.integers(1, 999_999_999)


@pytest.mark.outside
def test_check_digits_are_those_of_the_standard() -> None:
    """ISO/IEC 7064, MOD 11,10: the standard's own example 0794 has 5 (from memory)."""
    assert check_digit("0794") == 5


@given(numbers)
def test_what_is_printed_is_read(number: int) -> None:
    """In small letters or capitals, with blanks around it."""
    code = part_code(number)
    assert number_in(code) == number_in(f" {code.upper()} ") == number
    assert not misread(code)


@given(numbers, st.data())
def test_a_wrong_digit_is_noticed(number: int, data: st.DataObject) -> None:
    """Wherever it stands."""
    code = part_code(number)
    at = data.draw(st.sampled_from([at for at, sign in enumerate(code) if sign.isdigit()]))
    other = data.draw(st.sampled_from([digit for digit in "0123456789" if digit != code[at]]))
    wrong = code[:at] + other + code[at + 1 :]
    assert number_in(wrong) is None
    assert misread(wrong) or wrong[1] == "0"


@pytest.mark.parametrize("text", ["", "p", "p42", "42-1", "p042-1", "p42-22", "tube 7 x 53", "p0-2"])
def test_what_is_no_code(text: str) -> None:
    """Is none."""
    assert number_in(text) is None
