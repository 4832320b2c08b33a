"""A part's short code: what stands on its label, and what every command takes for its name.

    p42-5     p, the number the book gave the part when it first came into it, and a check digit

The number is the part's for good, whatever it is called later; a part that was merged into another leads to that one.
The check digit is that of ISO/IEC 7064, MOD 11,10: every wrong digit is noticed, and nearly all that change places.
A part whose very name looks like a code is found by its name first.
"""

from __future__ import annotations

import re

_CODE = re.compile(r"p([1-9][0-9]{0,8})-([0-9])")


def check_digit(digits: str) -> int:
    """ISO/IEC 7064, MOD 11,10.

    p = 10; for each digit s = (p + digit) mod 10, 10 where that is 0, and p = 2·s mod 11; the check is (11 - p) mod 10.
    """
    product = 10
    for digit in digits:
        product = 2 * ((product + int(digit)) % 10 or 10) % 11
    return (11 - product) % 10


def part_code(number: int) -> str:
    """The code of the part with this number in the book.

    >>> part_code(42)
    'p42-2'
    """
    return f"p{number}-{check_digit(str(number))}"


def number_in(text: str) -> int | None:
    """The number a code stands for; None where it is none, or its check digit says that something was misread."""
    found = _CODE.fullmatch(text.strip().casefold())
    if found is None or check_digit(found[1]) != int(found[2]):
        return None
    return int(found[1])


def misread(text: str) -> bool:
    """Whether this looks like a code but its check digit does not fit."""
    return _CODE.fullmatch(text.strip().casefold()) is not None and number_in(text) is None
