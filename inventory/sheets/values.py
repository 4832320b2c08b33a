"""Money and amounts as cells hold them."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import ceil

from inventory.measures import Currency, show_amount


def coins(amount: int | Fraction, coin: Currency) -> Decimal:
    """Minor units as the decimal people read, rounded up to a whole coin."""
    return Decimal(ceil(amount)).scaleb(-coin.exponent)


def money_format(coin: Currency, *, code: bool = True) -> str:
    """A spreadsheet's number format for sums of this coin."""
    places = "." + "0" * coin.exponent if coin.exponent else ""
    return f"#,##0{places}" + (f' "{coin.code}"' if code else "")


def amount_cell(steps: int, unit: str) -> str | int:
    """An amount for a cell: a count as a number, anything else with its unit."""
    text = show_amount(steps, unit)
    return int(text) if text.isdecimal() else text
