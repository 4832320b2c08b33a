"""Money: exact coins, each currency with its own, nothing exchanged and nothing rounded in silence."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.errors import BadMeasure
from inventory.measures import (
    Currency,
    currency,
    read_money,
    read_unit_price,
    show_money,
    show_unit_price,
)
from inventory.measures.tables import rows

CODES = [row["code"] for row in rows("currencies")]
EUR, JPY, KWD = Currency("EUR", 2), Currency("JPY", 0), Currency("KWD", 3)


@pytest.mark.parametrize(
    ("text", "code", "minor"),
    [
        ("12.50", "EUR", 1250),
        ("12,50", "EUR", 1250),
        ("12.5", "EUR", 1250),
        ("12", "EUR", 1200),
        (".50", "EUR", 50),
        ("€12.50", "EUR", 1250),
        ("€ 12,50", "EUR", 1250),
        ("12.50 €", "EUR", 1250),
        ("12.50 EUR", "EUR", 1250),
        ("EUR 12.50", "EUR", 1250),
        ("eur12.50", "EUR", 1250),
        ("1,234.50", "EUR", 123450),
        ("1.234,50 €", "EUR", 123450),
        ("1'234.50", "CHF", 123450),
        ("Fr. 12.50", "CHF", 1250),
        ("$5", "USD", 500),
        ("$5", "CAD", 500),
        ("£5.99", "GBP", 599),
        ("kr 25", "SEK", 2500),
        ("25 kr.", "DKK", 2500),
        ("¥1250", "JPY", 1250),
        ("1250", "JPY", 1250),
        ("1.250", "KWD", 1250),
        ("0", "EUR", 0),
    ],
)
def test_a_sum_becomes_whole_coins(text: str, code: str, minor: int) -> None:
    """Sign or code, before or after; either decimal mark."""
    assert minor == read_money(text, currency(code))


@pytest.mark.parametrize(
    ("text", "money", "message", "hint"),
    [
        ("$5", EUR, "not in EUR", "nothing is exchanged"),
        ("5 USD", EUR, "not in EUR", "nothing is exchanged"),
        ("£5", EUR, "not in EUR", "nothing is exchanged"),
        ("€5 USD", EUR, "not in EUR", "nothing is exchanged"),
        ("5 shells", EUR, "not a currency", "12.50 EUR"),
        ("12.505", EUR, "smallest coin of EUR, 0.01 EUR", "12.50 EUR"),
        ("12.5", JPY, "smallest coin of JPY, 1 JPY", "12 JPY"),
        ("0.0005", KWD, "smallest coin of KWD, 0.001 KWD", "0.000 KWD"),
        ("1,234", EUR, "two ways", "1234 or 1.234"),
        ("-5", EUR, "negative", "minus"),
        ("-€5", EUR, "negative", "minus"),
        ("€-5", EUR, "negative", "minus"),
        ("1000000001", EUR, "more money", "digits"),
        ("1e9", EUR, "not a sum", "12.50 EUR"),
        ("free", EUR, "not a sum", "12.50 EUR"),
        ("inf", EUR, "not a sum", "12.50 EUR"),
        ("", EUR, "empty", "Write the sum"),
        ("5 5", EUR, "not a number", "12.5"),
        ("9" * 400, EUR, "too long", "alone"),
    ],
)
def test_what_is_no_sum_in_this_currency_is_refused(
    text: str, money: Currency, message: str, hint: str
) -> None:
    """Another currency is named, the smallest coin too."""
    with pytest.raises(BadMeasure) as refusal:
        read_money(text, money)
    assert message in refusal.value.message
    assert hint in refusal.value.hint


def test_a_price_may_be_finer_than_a_coin() -> None:
    """An eighth of a euro is twelve and a half cents, exactly; beyond a millionth of a cent it is a slip."""
    assert Fraction(25, 2) == read_unit_price("0.125 EUR", EUR)
    assert Fraction(1, 8) == read_unit_price("0.125", JPY)
    with pytest.raises(BadMeasure, match="more decimals"):
        read_unit_price("0.123456789", EUR)
    with pytest.raises(BadMeasure, match="negative"):
        read_unit_price("-1", EUR)


@pytest.mark.parametrize(
    ("minor", "money", "shown"),
    [
        (1250, EUR, "12.50 EUR"),
        (5, EUR, "0.05 EUR"),
        (-5, EUR, "-0.05 EUR"),
        (0, EUR, "0.00 EUR"),
        (1250, JPY, "1250 JPY"),
        (1250, KWD, "1.250 KWD"),
    ],
)
def test_a_sum_is_shown_with_every_decimal(minor: int, money: Currency, shown: str) -> None:
    """As many decimals as the currency has, and its code."""
    assert shown == show_money(minor, money)


@pytest.mark.parametrize(
    ("price", "shown"),
    [
        (Fraction(1250), "12.50 EUR"),
        (Fraction(25, 2), "0.125 EUR"),
        (Fraction(100, 3), "0.33333333 EUR"),
        (Fraction(0), "0.00 EUR"),
    ],
)
def test_a_unit_price_is_shown_as_fine_as_it_is(price: Fraction, shown: str) -> None:
    """Coin decimals at least, eight at most."""
    assert shown == show_unit_price(price, EUR)


@pytest.mark.outside
@pytest.mark.parametrize(
    ("exponent", "codes"),
    [
        (0, "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF"),
        (3, "BHD IQD JOD KWD LYD OMR TND"),
        (4, "CLF UYW"),
    ],
)
def test_currencies_without_two_decimals(exponent: int, codes: str) -> None:
    """ISO 4217, list one: every currency in use with other than two decimals (from memory)."""
    assert codes.split() == [row["code"] for row in rows("currencies") if int(row["exponent"]) == exponent]


def test_the_table_is_sound() -> None:
    """Three capital letters each, once."""
    assert len(CODES) == len(set(CODES)) > 150
    assert all(len(code) == 3 and code.isalpha() and code.isupper() for code in CODES)


@pytest.mark.parametrize("code", ["XXX", "DEM", "EURO", "€", "", "E\u00dcR"])
def test_an_unknown_code_is_refused(code: str) -> None:
    """Currencies of the past and signs are no codes."""
    with pytest.raises(BadMeasure):
        currency(code)


def test_a_code_is_taken_in_any_case() -> None:
    """eur is EUR."""
    assert currency(" eur ") == EUR
    assert (JPY.scale, EUR.scale, KWD.scale) == (1, 100, 1000)


@given(st.integers(-(10**11), 10**11), st.sampled_from(CODES))
def test_shown_money_reads_back(minor: int, code: str) -> None:
    """In every currency, to the last coin."""
    money = currency(code)
    bounded = max(-money.scale * 10**9, min(minor, money.scale * 10**9))
    assert bounded == read_money(show_money(bounded, money), money, signed=True)


@given(st.fractions(min_value=0, max_value=10**9), st.sampled_from(CODES))
def test_shown_unit_prices_read_back(price: Fraction, code: str) -> None:
    """Within half a millionth of a coin, and exactly where the price is no finer."""
    money = currency(code)
    again = read_unit_price(show_unit_price(price, money), money)
    assert abs(again - price) <= Fraction(1, 2_000_000)
    assert again == read_unit_price(show_unit_price(again, money), money)
