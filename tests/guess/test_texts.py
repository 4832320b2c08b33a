"""What single texts say: counts, prices, days, names. Common practice, no source, but where one is named."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest

from inventory.sheets.files import letters
from inventory.sheets.guess.cells import Cell
from inventory.sheets.guess.guesses import worst
from inventory.sheets.guess.rows.headings import role_of
from inventory.sheets.guess.rows.telling import is_place, is_sentence
from inventory.sheets.guess.texts.amounts import amount_in, read_amount
from inventory.sheets.guess.texts.days import day_in, easter
from inventory.sheets.guess.texts.naming import taken_apart
from inventory.sheets.guess.texts.platings import plating_of
from inventory.sheets.guess.texts.prices import price_in, read_price
from inventory.sheets.guess.texts.sizes import drill_in
from inventory.sheets.guess.texts.words import likeness, plainly

TODAY = date(2026, 11, 28)

COUNTS = [
    ("12", "12", "", "read"),
    ("12 Stk.", "12", "piece", "read"),
    ("1 1/2 bottles", "3/2", "bottle", "read"),
    ("½", "1/2", "", "read"),
    ("2½", "5/2", "", "read"),
    ("1,5", "3/2", "", "read"),
    ("ca. 4", "4", "", "guessed"),
    ("about a dozen", "12", "", "guessed"),
    ("2×5", "10", "", "guessed"),
    ("3+2", "5", "", "guessed"),
    ("2 packs of 10", "20", "", "guessed"),
    ("2 x 10er Pack", "20", "", "guessed"),
    ("zwei Flaschen", "2", "bottle", "read"),
    ("half a bottle", "1/2", "bottle", "read"),
    ("eine halbe Flasche", "1/2", "bottle", "guessed"),
    ("une douzaine", "12", "", "read"),
    ("none", "0", "", "read"),
    ("leer", "0", "", "read"),
    ("-", "0", "", "guessed"),
    ("a few", "3", "", "asked"),
    ("quelques", "3", "", "asked"),
    ("yes", "1", "", "asked"),
    ("4?", "4", "", "asked"),
    ("10-12", "10", "", "asked"),
    ("7 or 8", "7", "", "asked"),
    ("1.000", "1", "", "asked"),
    ("10+", "10", "", "guessed"),
    ("half full", "1/2", "bottle", "guessed"),
    ("fast leer", "1/10", "bottle", "asked"),
    ("3 and a half", "7/2", "", "read"),
]


@pytest.mark.practice
@pytest.mark.parametrize(("text", "value", "unit", "grade"), COUNTS)
def test_counts_as_people_write_them(text: str, value: str, unit: str, grade: str) -> None:
    """A count, its unit and how sure it is."""
    found = amount_in(text)
    assert found is not None
    assert (found.value, found.unit) == (Fraction(value), unit)
    assert found.grade == grade or {found.grade, grade} == {"read", "guessed"}


@pytest.mark.parametrize("text", ["walnut", "", "see drawer", "x" * 500])
def test_what_is_no_count_is_none(text: str) -> None:
    """Words that say no number give none, and are not guessed at."""
    assert amount_in(text) is None


PRICES = [
    ("3,20", "3.2", "", "", "read"),
    ("EUR 3.20", "3.2", "EUR", "", "read"),
    ("1.234,50 €", "1234.5", "EUR", "", "read"),
    ("3 for 10", "10", "", "3", "read"),
    ("10 pour 25 €", "25", "EUR", "10", "read"),
    ("à 4,10", "4.1", "", "each", "read"),
    ("£3.99 ea", "3.99", "GBP", "each", "read"),
    ("je 3,20 €", "3.2", "EUR", "each", "read"),
    ("5,40/Pack", "5.4", "", "pack", "read"),
    ("12.50 in all", "12.5", "", "all", "read"),
    ("12,-", "12", "", "", "read"),
    ("2 x 4.10", "4.1", "", "each", "guessed"),
    ("12.50/10", "12.5", "", "10", "guessed"),
    ("gift", "0", "", "all", "guessed"),
    ("~5", "5", "", "", "guessed"),
    ("4.10?", "4.1", "", "", "asked"),
    ("1,250", "1.25", "", "", "asked"),
    ("3.20 or 4.10", "3.2", "", "", "asked"),
    ("4.10 + post", "4.1", "", "", "guessed"),
]


@pytest.mark.practice
@pytest.mark.parametrize(("text", "value", "coin", "per", "grade"), PRICES)
def test_prices_as_people_write_them(text: str, value: str, coin: str, per: str, grade: str) -> None:
    """A sum, its coin, what it was for, and how sure that is."""
    found = price_in(text)
    assert found is not None
    assert (found.value, found.coin, found.per, found.grade) == (Fraction(value), coin, per, grade)


@pytest.mark.parametrize("text", ["?", "don't know", "-", "unbekannt"])
def test_a_price_nobody_knows_is_none(text: str) -> None:
    """It is understood, and no sum is made of it."""
    found = price_in(text)
    assert found is not None
    assert (found.value, found.why) == (None, "not known")


DAYS = [
    ("19.12.", "2026-12-19", "guessed"),
    ("19.12.2026", "2026-12-19", "read"),
    ("2027-01-05", "2027-01-05", "read"),
    ("before Easter", "2027-03-27", "guessed"),
    ("by Christmas", "2026-12-24", "guessed"),
    ("avant Noël", "2026-12-24", "guessed"),
    ("bis Ostern", "2027-03-27", "guessed"),
    ("end of November", "2026-11-30", "guessed"),
    ("Ende Jan", "2027-01-31", "guessed"),
    ("mid December", "2026-12-15", "guessed"),
    ("4. Dezember", "2026-12-04", "guessed"),
    ("Dec 19, 2026", "2026-12-19", "read"),
    ("12/19", "2026-12-19", "asked"),
    ("3/4", "2027-04-03", "asked"),
    ("19/12/2026", "2026-12-19", "read"),
    ("19.12.26", "2026-12-19", "guessed"),
    ("early March", "2027-03-01", "guessed"),
]


@pytest.mark.practice
@pytest.mark.parametrize(("text", "day", "grade"), DAYS)
def test_days_as_people_write_them(text: str, day: str, grade: str) -> None:
    """A day and how sure it is; days without a year are the next ones."""
    found = day_in(text, TODAY)
    assert found is not None
    assert (str(found.day), found.grade) == (day, grade)


@pytest.mark.parametrize("text", ["asap", "next week", "so schnell wie möglich"])
def test_a_day_that_is_none_is_asked(text: str) -> None:
    """Words of haste are no day."""
    found = day_in(text, TODAY)
    assert found is not None
    assert (found.day, found.grade) == (None, "asked")


@pytest.mark.parametrize("text", ["31.2.2026", "walnut", "2026-13-01"])
def test_no_day_is_none(text: str) -> None:
    """A day that does not exist is none."""
    found = day_in(text, TODAY)
    assert found is None or found.day is None


@pytest.mark.outside
@pytest.mark.parametrize(
    "day", ["1818-03-22", "1943-04-25", "2000-04-23", "2008-03-23", "2024-03-31", "2025-04-20", "2038-04-25"]
)
def test_easter_falls_on_its_published_days(day: str) -> None:
    """Easter Sundays as calendars print them (from memory); 1818 and 1943 are the earliest and latest there are."""
    assert easter(int(day[:4])) == date.fromisoformat(day)


NAMES = [
    ("Dunlin slim pen kit, chrome", "kit", "Dunlin slim", "chrome"),
    ("Bausatz Dunlin vergoldet", "kit", "Dunlin", "gold"),
    ("Kit Dunlin or 24 carats", "kit", "Dunlin", "24k gold"),
    ("Godwit seam ripper kit gold", "kit", "Godwit seam ripper", "gold"),
    ("bushings for Dunlin kit", "tool", "", ""),
    ("walnut blank", "blank", "", ""),
    ("tube 7 x 53", "tube", "", ""),
    ("CA thin 50 ml", "supply", "", ""),
    ("gift box", "packaging", "", ""),
    ("box elder burl", "blank", "", ""),
    ("porte-mine Barge", "kit", "porte-mine Barge", ""),
    ("recharge bille bleue", "refill", "", ""),
]


@pytest.mark.practice
@pytest.mark.parametrize(("text", "kind", "family", "plating"), NAMES)
def test_names_are_taken_apart(text: str, kind: str, family: str, plating: str) -> None:
    """What it is, and of a kit its family and its plating."""
    named = taken_apart(text)
    assert named.kind == kind
    if family:
        assert (named.family, named.plating) == (family, plating)


COUNTED = [
    ("3 x Dunlin kit chrome", "3"),
    ("Dunlin kit chrome (3)", "3"),
    ("Dunlin kit chrome - 3", "3"),
    ("Minen blau: 8", "8"),
    ("two bottles CA thin", "2"),
    ("walnut 11 blanks", "11"),
    ("dunlin gunmetal none left", "0"),
    ("½ bottle epoxy", "1/2"),
    ("Dunlin kit chrome 3 pcs", "3"),
    ("dunlin gold 3 (one has no clip)", "3"),
    ("cherry blank 6", "6"),
]


@pytest.mark.practice
@pytest.mark.parametrize(("text", "count"), COUNTED)
def test_a_name_may_hold_its_count(text: str, count: str) -> None:
    """At its begin, at its end, in words, before its last word."""
    amount = taken_apart(text, counted=True).amount
    assert amount is not None
    assert amount.value == Fraction(count)


@pytest.mark.parametrize("text", ["7 mm tube", "27/64 drill", "24k gold", "sandpaper P240", "drill 7"])
def test_a_size_is_no_count(text: str) -> None:
    """Seven millimetres are not seven."""
    assert taken_apart(text, counted=True).amount is None


@pytest.mark.parametrize(
    ("text", "plating", "grade"),
    [
        ("Chrome", "chrome", "read"),
        ("verchromt", "chrome", "read"),
        ("Chorme", "chrome", "guessed"),
        ("gun metl", "gunmetal", "guessed"),
        ("GM", "gunmetal", "asked"),
        ("gold?", "gold", "asked"),
        ("champagne", "champagne", "guessed"),
        ("chrome / gold", "chrome", "asked"),
        ("blk ti", "black titanium", "read"),
    ],
)
def test_platings(text: str, plating: str, grade: str) -> None:
    """Known words are read, slips guessed, short forms and doubts asked."""
    found = plating_of(text)
    assert found is not None
    assert (found.plating, found.grade) == (plating, grade)


def test_no_plating_is_none() -> None:
    """A dash says nothing."""
    assert plating_of("-") is None


@pytest.mark.parametrize(
    ("text", "drill"),
    [
        ("7", "7 mm"),
        ("10,5", "10.5 mm"),
        ('27/64"', "27/64"),
        ("O", "letter O"),
        ("#7", "#7"),
        ("bit 7 mm", "7 mm"),
        ("none", ""),
    ],
)
def test_drills(text: str, drill: str) -> None:
    """Designations of four systems."""
    assert drill_in(text) == drill


@pytest.mark.parametrize(
    ("text", "what", "per"),
    [
        ("How many", "quantity", ""),
        ("Stückpreis", "paid", "each"),
        ("P.U.", "paid", "each"),
        ("Paid (in all) €", "paid", "all"),
        ("Where I bought", "supplier", ""),
        ("Bezeichung", "what", ""),
        ("€", "paid", ""),
        ("Payé la pièce", "paid", "each"),
        ("How many have I got", "quantity", ""),
    ],
)
def test_headings(text: str, what: str, per: str) -> None:
    """Words of three languages, with slips, coins and what a price is for."""
    role = role_of(text)
    assert role is not None
    assert (role.what, role.per) == (what, per)


@pytest.mark.parametrize("text", ["Wobble", "", "x" * 80])
def test_no_heading_is_none(text: str) -> None:
    """What no list has is nobody's heading."""
    assert role_of(text) is None


def test_cells_that_hold_no_text() -> None:
    """Truth values, dates and negative numbers are asked about, never taken."""

    def cell(raw: object) -> Cell:
        return Cell("S", 1, 0, raw, str(raw))

    for raw in (True, date(2026, 1, 2), -3, float("1e300")):
        amount = read_amount(cell(raw))
        assert amount is not None
        assert amount.grade == "asked"
    for raw in (True, date(2026, 1, 2), -3):
        price = read_price(cell(raw))
        assert price is not None
        assert price.grade == "asked"


def test_small_tellings() -> None:
    """Places, sentences, columns, the least sure of several, and how words meet."""
    assert is_place("Drawer 3")
    assert is_place("Top shelf")
    assert not is_place("walnut")
    assert is_sentence("Next time order more chrome before the market!")
    assert not is_sentence("Dunlin kit")
    assert (letters(0), letters(26), letters(701)) == ("A", "AA", "ZZ")
    assert worst(("read", "asked", "guessed")) == "asked"
    assert plainly("Découd-vite  ÉTUI") == "decoud-vite etui"
    assert likeness("chorme", "chrome") > 0.9
    assert likeness("walnut", "chrome") == 0
