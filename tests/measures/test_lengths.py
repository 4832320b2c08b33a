"""Lengths: every notation of the trade, exact millimetres, and the sentences where one cannot be read."""

from __future__ import annotations

from fractions import Fraction

import pytest
import registry
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.errors import BadMeasure
from inventory.measures import Length, millimetres, read_length, show_length, show_mm

READINGS = [
    ("7 mm", "7", "7 mm"),
    ("7mm", "7", "7 mm"),
    ("7", "7", "7 mm"),
    ("7.0", "7", "7 mm"),
    ("1", "1", "1 mm"),
    ("7,5 mm", "7.5", "7.5 mm"),
    ("7.5MM", "7.5", "7.5 mm"),
    ("12-mm", "12", "12 mm"),
    ("1 250 mm", "1250", "1250 mm"),
    ("0.35 mm", "0.35", "0.35 mm"),
    ("½ mm", "0.5", "1/2 mm"),
    ("2 cm", "20", "2 cm"),
    ("1,5 m", "1500", "1.5 m"),
    ("10 m", "10000", "10 m"),
    ("1 inch", "25.4", "1 in"),
    ('1"', "25.4", "1 in"),
    ("0.316 in", "8.0264", "0.316 in"),
    (".5 in.", "12.7", "0.5 in"),
    ("8 thou", "0.2032", "8 thou"),
    ("½\u201d", "12.7", "1/2 in"),
    ("½''", "12.7", "1/2 in"),
    ("1½ in", "38.1", "1-1/2 in"),
    ("1-3/16 in", "30.1625", "1-3/16 in"),
    ('1 3/16"', "30.1625", "1-3/16 in"),
    ("1\u20133/16\u2033", "30.1625", "1-3/16 in"),
    ("\ufeff3\u20448\u00a0in", "9.525", "3/8 in"),
    ("8/16", "12.7", "1/2 in"),
    ("27 / 64", "10.715625", "27/64 in"),
    ("1 3 / 16-in", "30.1625", "1-3/16 in"),
    ("Ø 7 mm", "7", "7 mm"),
    ("⌀27/64", "10.715625", "27/64 in"),
    ("64/64", "25.4", "1 in"),
    ("#7", "5.1054", "#7"),
    ("No. 7", "5.1054", "#7"),
    ("no 7", "5.1054", "#7"),
    ("№7", "5.1054", "#7"),
    ("O", "8.0264", "O"),
    ("letter O", "8.0264", "O"),
    ("Letter o", "8.0264", "O"),
    ("z", "10.4902", "Z"),
    ("27/64 in (10.72 mm)", "10.715625", "27/64 in"),
    ("O (8.03 mm)", "8.0264", "O"),
]


@pytest.mark.parametrize(("text", "mm", "written"), READINGS, ids=[row[0] for row in READINGS])
def test_every_notation_is_read_exactly(text: str, mm: str, written: str) -> None:
    """The millimetres are exact and the designation is kept in one spelling."""
    length = read_length(text)
    assert (Fraction(mm), written) == (length.mm, length.written)


REFUSALS = [
    ("", "empty", "Write the length"),
    (" \u00a0 ", "empty", "Write the length"),
    ("0", "zero", "letter O"),
    ("0 mm", "zero", "letter O"),
    ("0/8", "zero", "letter O"),
    ("0.316", "0.316 mm or 0.316 in", "0.316 mm or 0.316 in"),
    ("0,25", "0.25 mm or 0.25 in", "0.25 mm or 0.25 in"),
    ("Ø", "not a length", "7 mm"),
    ("-7 mm", "negative", "7 mm"),
    ("7x", "not a length", "7 mm"),
    ("7 9", "not a number", "number"),
    ("7 mm wide", "not a length", "7 mm"),
    ("1O mm", "not a length", "letter O where a digit 0"),
    ("O.5 in", "not a length", "letter O where a digit 0"),
    ("O mm", "not a length", "letter O where a digit 0"),
    ("seven", "not a length", "7 mm"),
    ("7'", "not a length", "7 mm"),
    ("1,234 mm", "two ways", "1234 or 1.234"),
    ("11 m", "longer than 10 m", "unit"),
    ("400 in", "longer than 10 m", "unit"),
    ("27/65", "inch rule", "128ths"),
    ("1/0", "divides by zero", "7 mm"),
    ("1 9/8", "mixed number", "7 mm"),
    ("#0", "no number drill", "#1 to #80"),
    ("#81", "no number drill", "#1 to #80"),
    ("AA", "not a length", "letter O"),
    ("7 mm (9 mm)", "two different lengths", "one of them"),
    ("9" * 81, "too long", "alone"),
    ("9" * 400, "too long", "alone"),
    ("9" * 30, "too many digits", "number"),
]


@pytest.mark.parametrize(
    ("text", "message", "hint"), REFUSALS, ids=[row[0][:12] or "none" for row in REFUSALS]
)
def test_what_cannot_be_read_is_refused_with_a_sentence(text: str, message: str, hint: str) -> None:
    """The refusal says what is wrong and what to write instead."""
    with pytest.raises(BadMeasure) as refusal:
        read_length(text)
    assert message in refusal.value.message
    assert hint in refusal.value.hint


FRACTIONS = [
    ("9/32", "7.144"),
    ("5/16", "7.938"),
    ("3/8", "9.525"),
    ("25/64", "9.922"),
    ("27/64", "10.716"),
    ("15/32", "11.906"),
    ("31/64", "12.303"),
    ("1/2", "12.700"),
    ("33/64", "13.097"),
    ("35/64", "13.891"),
    ("37/64", "14.684"),
    ("5/8", "15.875"),
    ("81/128", "16.073"),
]


@pytest.mark.outside
@pytest.mark.parametrize(("text", "mm"), FRACTIONS, ids=[row[0] for row in FRACTIONS])
def test_inch_fractions_match_the_decimal_equivalents_of_the_shop_chart(text: str, mm: str) -> None:
    """Decimal-equivalent chart figures to three places (25.4 mm to the inch, NIST SP 811; chart from memory)."""
    assert abs(read_length(text).mm - Fraction(mm)) <= Fraction("0.0005")


@pytest.mark.outside
@pytest.mark.parametrize(
    ("text", "name"),
    [("1 in", "inch"), ("1 thou", "thou"), ("1 cm", "centimeter"), ("1 m", "meter"), ("1 mm", "millimeter")],
)
def test_units_of_length_agree_with_an_independent_library(text: str, name: str) -> None:
    """The registry of pint, computing in fractions, gives the same exact size."""
    assert registry.exact().Quantity(Fraction(1), name).to("mm").magnitude == read_length(text).mm


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("27/64", "27/64 in (10.72 mm)"),
        ("O", "O (8.03 mm)"),
        ("#7", "#7 (5.11 mm)"),
        ("7", "7 mm"),
        ("2 cm", "2 cm (20 mm)"),
        ("1/2", "1/2 in (12.7 mm)"),
    ],
)
def test_a_length_is_shown_as_a_maker_reads_it(text: str, shown: str) -> None:
    """The designation, and millimetres where it does not give them."""
    assert shown == show_length(read_length(text)) == str(read_length(text))


@pytest.mark.parametrize(
    ("mm", "places", "shown"),
    [
        ("10.715625", 2, "10.72 mm"),
        ("10.715625", 3, "10.716 mm"),
        ("7", 2, "7 mm"),
        ("0", 2, "0 mm"),
        ("-0.05", 2, "-0.05 mm"),
        ("0.0004", 2, "0.0004 mm"),
        ("10.7", 0, "11 mm"),
    ],
)
def test_millimetres_are_rounded_without_idle_zeros(mm: str, places: int, shown: str) -> None:
    """Rounding never turns something into nothing."""
    assert shown == show_mm(Fraction(mm), places)


def test_lengths_compare_by_size_alone() -> None:
    """Half an inch written two ways is one length; order and hash follow the millimetres."""
    half, metric, longer = read_length("1/2"), read_length("12.7 mm"), read_length("13 mm")
    assert half == metric
    assert len({half, metric, longer}) == 2
    assert sorted([longer, half]) == [half, longer]
    assert half.written != metric.written


def test_a_computed_length_is_written_in_millimetres() -> None:
    """Also where no number of decimals writes it."""
    assert Length(Fraction(21, 2), "10.5 mm") == millimetres(Fraction(21, 2))
    assert millimetres(Fraction(22, 7)).written == "3-1/7 mm"
    with pytest.raises(BadMeasure, match="zero"):
        millimetres(0)
    with pytest.raises(BadMeasure, match="negative"):
        millimetres(-1)


def _texts() -> st.SearchStrategy[str]:
    decimals = st.decimals(min_value=1, max_value=390, places=3).map(lambda value: f"{value} ")
    with_unit = st.tuples(decimals, st.sampled_from(["mm", "in", "thou", "cm"])).map("".join)
    sixteenths = st.integers(1, 127).map(lambda parts: f"{parts}/128")
    mixed = st.tuples(st.integers(1, 300), sixteenths).map(lambda parts: f"{parts[0]}-{parts[1]} in")
    drills = st.one_of(st.integers(1, 80).map("#{}".format), st.sampled_from("ABCDEFGHIJKLMNOPQRSTUVWXYZ"))
    return st.one_of(with_unit, sixteenths, mixed, drills)


@given(_texts())
@examples(90)
def test_what_is_shown_reads_back(text: str) -> None:
    """show and read are inverse: the same millimetres and the same designation."""
    length = read_length(text)
    again = read_length(show_length(length))
    assert (length.mm, length.written) == (again.mm, again.written)


@given(st.fractions(min_value=Fraction(1, 1000), max_value=9999, max_denominator=9999))
@examples(90)
def test_any_size_reads_back_from_its_rounded_forms(mm: Fraction) -> None:
    """Millimetres read back within their rounding, a computed length exactly."""
    assert millimetres(mm) == read_length(str(millimetres(mm)))
    assert abs(read_length(show_mm(mm)).mm - mm) <= Fraction("0.005")


def test_two_notations_may_differ_by_a_twentieth_of_a_millimetre() -> None:
    """What a caliper and a rounded label differ by is one length; the first is meant."""
    assert read_length("7 mm (7.05 mm)").mm == 7
    with pytest.raises(BadMeasure, match="two different lengths"):
        read_length("7 mm (7.051 mm)")
