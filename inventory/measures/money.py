"""Money: exact integers of a currency's smallest coin, by the exponents of ISO 4217."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from inventory.errors import BadMeasure
from inventory.measures.numbers import fixed, read_number, show_number
from inventory.measures.tables import rows
from inventory.measures.text import plain, said

MOST = 10**9
"""Units of any currency; more in one sum is a slip."""
FINEST = 10**6
"""A unit price may be this much finer than the smallest coin."""

_SIGNS = {
    "€": "EUR",
    "£": "GBP EGP FKP GIP LBP SDG SHP SSP SYP",
    "¥": "JPY CNY",
    "₹": "INR",
    "₩": "KRW KPW",
    "₺": "TRY",
    "₴": "UAH",
    "₽": "RUB",
    "₪": "ILS",
    "₫": "VND",
    "฿": "THB",
    "zł": "PLN",
    "kč": "CZK",
    "ft": "HUF",
    "kr": "DKK ISK NOK SEK",
    "fr": "CHF",
    "r": "ZAR",
    "$": "ARS AUD BBD BMD BND BSD BZD CAD CLP COP CUP DOP FJD GYD HKD JMD KYD LRD MXN NAD NZD SBD SGD SRD TTD"
    " TWD USD UYU XCD",
}
_SUM = re.compile(r"([^\W\d_]+\. |[^0-9.,+-]*)([-+]?)([^0-9.,+-]*)([0-9.,][0-9.,' ]*)([^0-9]*)")


@dataclass(frozen=True, slots=True)
class Currency:
    """An ISO 4217 code and the decimals of its smallest coin: EUR 2, JPY 0, KWD 3."""

    code: str
    exponent: int

    @property
    def scale(self) -> int:
        """Smallest coins in one unit."""
        return int(10**self.exponent)


def currency(code: str) -> Currency:
    """The currency in use under an ISO 4217 `code`, in capitals or not. Raises BadMeasure."""
    tidy = plain(code, "currency code")
    exponent = _exponents().get(tidy.upper())
    if exponent is None:
        hint = "Write the three letters of ISO 4217, such as EUR, GBP or USD."
        raise BadMeasure(f"There is no currency in use with the code {said(tidy)}.", hint=hint)
    return Currency(tidy.upper(), exponent)


def read_money(text: str, money: Currency, *, signed: bool = False) -> int:
    """The sum in `text` as a whole number of smallest coins of `money`.

    `12.50`, `12,50`, `€12.50`, `12.50 EUR`, `EUR 12.50`. Another currency, decimals finer than the smallest
    coin and (unless `signed`) a minus are refused. Raises BadMeasure.
    """
    tidy = plain(text, "sum of money")
    minor = _minor(tidy, money, signed)
    if minor.denominator != 1:
        raise BadMeasure(
            f"{said(tidy)} is finer than the smallest coin of {money.code}, {show_money(1, money)}.",
            hint=f"Write {show_money(round(minor), money)}.",
        )
    return minor.numerator


def read_unit_price(text: str, money: Currency) -> Fraction:
    """A price per unit in smallest coins of `money`, exact; it may be finer than a coin (`0.125 EUR` is 12½).

    Raises BadMeasure as `read_money` does, and beyond a millionth of a coin.
    """
    tidy = plain(text, "price")
    minor = _minor(tidy, money, signed=False)
    if (minor * FINEST).denominator != 1:
        raise BadMeasure(
            f"{said(tidy)} has more decimals than a price needs.",
            hint="Write fewer: a millionth of the smallest coin is the finest.",
        )
    return minor


def show_money(minor: int, money: Currency) -> str:
    """`minor` smallest coins with every decimal and the code: `12.50 EUR`, `1250 JPY`, `12.500 KWD`."""
    return f"{fixed(minor, money.exponent)} {money.code}"


def show_unit_price(price: Fraction, money: Currency) -> str:
    """A unit price in smallest coins, with at least the coin's decimals: `12.50 EUR`, `0.125 EUR`."""
    if price.denominator == 1:
        return show_money(price.numerator, money)
    places = money.exponent + 6
    rounded = Fraction(round(price * FINEST), 10**places)
    return f"{show_number(rounded)} {money.code}"


@cache
def _exponents() -> dict[str, int]:
    return {row["code"]: int(row["exponent"]) for row in rows("currencies")}


def _minor(tidy: str, money: Currency, signed: bool) -> Fraction:
    found = _SUM.fullmatch(tidy)
    if not found:
        hint = f"Write {show_money(1250, money)}, with or without the code."
        raise BadMeasure(f"{said(tidy)} is not a sum of money.", hint=hint)
    before, sign, between, digits, after = (part.strip() for part in found.groups())
    for mark in filter(None, (before, between, after)):
        _same_currency(mark, money, tidy)
    value = read_number(sign + digits)
    if value < 0 and not signed:
        raise BadMeasure(f"A price cannot be negative: {said(tidy)}.", hint="Write it without the minus.")
    if abs(value) > MOST:
        raise BadMeasure(
            f"{said(tidy)} is more money than this book keeps.", hint=f"Check the digits: at most {MOST:,}."
        )
    return value * money.scale


def _same_currency(mark: str, money: Currency, tidy: str) -> None:
    if mark.upper() == money.code:
        return
    codes = _SIGNS.get(mark.casefold().removesuffix("."), "").split()
    if money.code in codes:
        return
    if codes or mark.upper() in _exponents():
        hint = f"Write the sum in {money.code}; nothing is exchanged here."
        raise BadMeasure(f"{said(tidy)} is not in {money.code}, the currency kept here.", hint=hint)
    hint = f"Write {show_money(1250, money)}, with or without the code."
    raise BadMeasure(f"{said(mark)} in {said(tidy)} is not a currency.", hint=hint)
