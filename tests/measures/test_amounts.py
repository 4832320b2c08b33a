"""Amounts: exact steps, conversions by the book, and the questions asked instead of guesses."""

from __future__ import annotations

from fractions import Fraction

import pytest
import registry
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.errors import BadMeasure
from inventory.measures import STEPS, read_amount, read_unit, show_amount, show_measurable
from inventory.measures.units import UNITS

DENSITY = Fraction("1.05")


@pytest.mark.parametrize(
    ("text", "unit", "steps"),
    [
        ("12", "piece", 12_000),
        ("12 pcs", "piece", 12_000),
        ("12 each", "pieces", 12_000),
        ("1 piece", "pcs", 1_000),
        ("0", "ml", 0),
        ("12.5", "ml", 12_500),
        ("12,5 ml", "ml", 12_500),
        ("12.5ml", "ml", 12_500),
        ("5 ml.", "ml", 5_000),
        ("12.5 mL", "millilitres", 12_500),
        ("0.001", "g", 1),
        ("1 234,5 g", "g", 1_234_500),
        ("0.5 kg", "g", 500_000),
        ("250 mg", "g", 250),
        ("250 g", "kg", 250),
        ("2 cl", "ml", 20_000),
        ("1 litre", "ml", 1_000_000),
        ("0.75 l", "ml", 750_000),
        ("30 cm", "mm", 300_000),
        ("2 in", "mm", 50_800),
        ("3 sheets", "sheet", 3_000),
        ("1 sheet", "sheets", 1_000),
        ("½ sheet", "sheet", 500),
        ("2 boxes", "box", 2_000),
        ("3 bottles", "bottle", 3_000),
        ("1000000000", "piece", 10**12),
    ],
)
def test_an_amount_becomes_exact_steps(text: str, unit: str, steps: int) -> None:
    """A bare number is in the part's own unit; metric units of the same kind convert exactly."""
    assert steps == read_amount(text, unit)


@pytest.mark.outside
@pytest.mark.parametrize(
    ("text", "unit", "size"),
    [
        ("1 oz", "g", "28.349523125"),
        ("2 oz weight", "g", "56.69904625"),
        ("1 lb", "g", "453.59237"),
        ("1 fl oz", "ml", "29.5735295625"),
        ("2 fl. oz.", "ml", "59.147059125"),
        ("1 in", "mm", "25.4"),
        ("16 oz", "lb", "1"),
    ],
)
def test_conversions_match_the_published_factors(text: str, unit: str, size: str) -> None:
    """NIST SP 811, appendix B.8, and NIST Handbook 44, appendix C (both from memory): exact factors."""
    assert round(Fraction(size) * STEPS) == read_amount(text, unit)


@pytest.mark.outside
@pytest.mark.parametrize(("text", "unit", "label"), [("1 fl oz", "ml", "29.5735"), ("1 oz", "g", "28.3495")])
def test_conversions_match_the_values_printed_on_labels(text: str, unit: str, label: str) -> None:
    """16 CFR 500.19 (read) gives six figures for labels."""
    assert abs(Fraction(read_amount(text, unit), STEPS) - Fraction(label)) <= Fraction("0.0005")


@pytest.mark.outside
@pytest.mark.parametrize(
    ("word", "own", "name", "base"),
    [
        *(("mg", "g", "milligram", "gram"), ("kg", "g", "kilogram", "gram"), ("cl", "ml", "cl", "ml")),
        *(("l", "ml", "liter", "ml"), ("cm", "mm", "cm", "mm"), ("m", "mm", "m", "mm")),
        *(("oz weight", "g", "ounce", "gram"), ("lb", "g", "pound", "gram"), ("fl oz", "ml", "floz", "ml")),
    ],
)
def test_units_agree_with_an_independent_library(word: str, own: str, name: str, base: str) -> None:
    """A thousand of each, against the registry of pint computing in fractions."""
    exact = registry.exact().Quantity(Fraction(1000), name).to(base).magnitude
    assert round(exact * STEPS) == read_amount(f"1000 {word}", own)


@pytest.mark.parametrize(
    ("text", "unit", "density", "steps"),
    [
        ("105 g", "ml", DENSITY, 100_000),
        ("100 ml", "g", DENSITY, 105_000),
        ("0.1 l", "kg", DENSITY, 105),
        ("2 oz weight", "ml", DENSITY, 53_999),
        ("2 fl oz", "g", DENSITY, 62_104),
    ],
)
def test_a_density_turns_weight_into_volume(text: str, unit: str, density: Fraction, steps: int) -> None:
    """volume = weight / density and back, density in g/ml."""
    assert steps == read_amount(text, unit, density=density)


@pytest.mark.parametrize(
    ("text", "unit", "net", "steps"),
    [
        ("3 bottles", "ml", 59_000, 177_000),
        ("1 bottle", "ml", 59_147, 59_147),
        ("2.5 tubes", "g", 20_000, 50_000),
        ("2 packs", "sheet", 10_000, 20_000),
        ("0.333 bottles", "ml", 59_147, 19_696),
    ],
)
def test_containers_count_by_their_net_content(text: str, unit: str, net: int, steps: int) -> None:
    """So many times what one holds."""
    assert steps == read_amount(text, unit, net=net)


def test_a_minus_needs_leave() -> None:
    """Differences may be negative, amounts may not."""
    assert read_amount("-2.5 ml", "ml", signed=True) == -2_500
    with pytest.raises(BadMeasure, match="cannot be negative"):
        read_amount("-2.5 ml", "ml")


def test_what_comes_whole_is_not_split() -> None:
    """Half a kit is refused in the words of whoever asks."""
    assert read_amount("2", "piece", whole=True) == 2_000
    with pytest.raises(BadMeasure, match=r"Kits come whole: 2\.5 is not a count\."):
        read_amount("2.5", "piece", whole=True)
    with pytest.raises(BadMeasure, match=r"Tubes come whole: 0\.5 is not a count\."):
        read_amount("½", "piece", whole="Tubes")


@pytest.mark.parametrize(
    ("text", "unit", "density", "message", "hint"),
    [
        ("2 oz", "ml", None, "fluid ounces or ounces of weight", "Write 2 fl oz, or the amount in ml"),
        ("2 oz", "ml", DENSITY, "fluid ounces or ounces of weight", "2 fl oz or 2 oz weight"),
        ("2.5 Ounces", "ml", None, "fluid ounces or ounces of weight", "2.5 fl oz"),
        ("10 g", "ml", None, "without the density", "g/ml"),
        ("10 g", "ml", Fraction(0), "without the density", "g/ml"),
        ("1 fl oz", "g", None, "without the density", "g/ml"),
        ("3 sheets", "strip", None, "cannot be turned into strip", "Write it in strip"),
        ("3 mm", "g", DENSITY, "cannot be turned into g", "Write it in g"),
        ("2 oz", "piece", None, "cannot be turned into piece", "piece"),
        ("3 bottles", "ml", None, "how much a bottle holds", "net content"),
        ("2 cartons", "ml", None, "how much a carton holds", "net content"),
        ("1.2345", "ml", None, "finer than a thousandth", "Write 1.234."),
        ("1/3 sheet", "sheet", None, "finer than a thousandth", "0.333"),
        ("0.0001 mg", "g", None, "less than a thousandth of a g", "g"),
        ("1e3", "ml", None, "exponent", "1200"),
        ("2 E5 ml", "ml", None, "exponent", "1200"),
        ("inf", "ml", None, "not an amount of anything", "12.5 ml"),
        ("nan", "piece", None, "not an amount of anything", "pieces"),
        ("a few", "ml", None, "begin with a number", "12.5 ml"),
        ("2 blobs", "ml", None, "not a unit known here", "fl oz"),
        ("4 %", "ml", None, "not a unit known here", "fl oz"),
        ("1,234", "ml", None, "two ways", "1234 or 1.234"),
        ("1000000001", "ml", None, "more than anyone keeps", "unit"),
        ("1000001 kg", "g", None, "more than anyone keeps", "unit"),
        ("9" * 400, "ml", None, "too long", "alone"),
        ("", "ml", None, "empty", "Write the amount"),
    ],
)
def test_an_amount_that_cannot_be_counted_is_refused(
    text: str, unit: str, density: Fraction | None, message: str, hint: str
) -> None:
    """Every refusal says what would do."""
    with pytest.raises(BadMeasure) as refusal:
        read_amount(text, unit, density=density)
    assert message in refusal.value.message
    assert hint in refusal.value.hint


@pytest.mark.parametrize(
    ("text", "name", "kind"),
    [
        ("ml.", "ml", "volume"),
        ("Grams", "g", "weight"),
        ("pcs.", "piece", "count"),
        ("ML", "ml", "volume"),
        ("brushes", "brush", "count"),
        ("fl. oz.", "fl oz", "volume"),
        ("metres", "m", "length"),
    ],
)
def test_a_unit_has_one_name(text: str, name: str, kind: str) -> None:
    """Plurals, capitals and spellings fold together."""
    unit = read_unit(text)
    assert (name, kind) == (unit.name, unit.kind)


def test_an_unknown_unit_is_refused() -> None:
    """Also as the unit a part is counted in."""
    with pytest.raises(BadMeasure, match="“furlong” is not a unit known here"):
        read_unit("furlong")
    with pytest.raises(BadMeasure, match="not a unit known here"):
        show_amount(1000, "dollop")


@pytest.mark.parametrize(
    ("steps", "unit", "shown"),
    [
        (12_000, "piece", "12"),
        (12_500, "ml", "12.5 ml"),
        (1_000, "sheets", "1 sheet"),
        (3_000, "sheet", "3 sheets"),
        (500, "box", "0.5 boxes"),
        (-1, "g", "-0.001 g"),
        (1_000, "fl oz", "1 fl oz"),
    ],
)
def test_an_amount_is_shown_plainly(steps: int, unit: str, shown: str) -> None:
    """No idle zeros, no word for pieces."""
    assert shown == show_amount(steps, unit)


@given(st.integers(-(10**12), 10**12), st.sampled_from(sorted(UNITS)))
@examples(120)
def test_shown_amounts_read_back(steps: int, unit: str) -> None:
    """In every unit a part can be counted in, to the last step."""
    assert steps == read_amount(show_amount(steps, unit), unit, signed=True)


@given(st.integers(10, 10**6), st.fractions(min_value=Fraction(1, 2), max_value=2, max_denominator=100))
def test_going_to_the_other_kind_and_back_loses_no_more_than_rounding(steps: int, density: Fraction) -> None:
    """Volume to weight and back: half a step of weight, seen as volume, and half a step of volume."""
    weight = read_amount(show_amount(steps, "ml"), "g", density=density)
    back = read_amount(show_amount(weight, "g"), "ml", density=density)
    assert abs(back - steps) <= Fraction(1, 2) / density + Fraction(1, 2)


@pytest.mark.parametrize(
    ("text", "unit", "whole", "said"),
    [
        ("1.000", "piece", "Kits", "1000 or 1"),
        ("12.500 pcs", "piece", "Tubes", "12500 or 12.5"),
        ("1.000", "sheet", "", "1000 or 1"),
        ("2.500 bottles", "ml", "", "2500 or 2.5"),
        ("1.125", "piece", "Kits", "1125 or 1.125"),
    ],
)
def test_a_thousand_with_a_point_is_as_doubtful_as_with_a_comma(
    text: str, unit: str, whole: str, said: str
) -> None:
    """Of counted things half the world writes a thousand so; both readings are named."""
    with pytest.raises(BadMeasure, match=f"can be read in two ways: {said}"):
        read_amount(text, unit, net=30_000, whole=whole or False)


@pytest.mark.parametrize(
    ("text", "unit", "steps"),
    [("1.000", "ml", 1000), ("1.125", "strip", 1125), ("0.500", "strip", 500), ("1.5", "piece", 1500)],
)
def test_decimals_that_can_only_be_decimals(text: str, unit: str, steps: int) -> None:
    """What is measured has decimals; parts of a counted thing are written without idle zeros."""
    assert read_amount(text, unit) == steps


@pytest.mark.practice
@pytest.mark.parametrize(
    ("unit", "up", "down"),
    [
        *(("kg", "2.35 kg", "2.34 kg"), ("lb", "2.35 lb", "2.34 lb"), ("l", "2.35 l", "2.34 l")),
        *(("cl", "2.4 cl", "2.3 cl"), ("fl oz", "2.4 fl oz", "2.3 fl oz")),
        *(
            ("oz weight", "2.4 oz weight", "2.3 oz weight"),
            ("cm", "2.4 cm", "2.3 cm"),
            ("m", "2.35 m", "2.34 m"),
        ),
        *(("in", "2.4 in", "2.3 in"), ("ml", "3 ml", "2 ml"), ("g", "3 g", "2 g"), ("mm", "3 mm", "2 mm")),
        ("sheet", "3 sheets", "2 sheets"),
    ],
)
def test_a_hand_measures_as_finely_as_its_scales(unit: str, up: str, down: str) -> None:
    """Kitchen scales show 10 g, a rule millimetres, a cup tenths (common practice, no source); 2.345 of each."""
    assert show_measurable(2_345, unit) == up
    assert show_measurable(2_345, unit, down=True) == down


@pytest.mark.parametrize(
    ("steps", "shown"), [(1_000, "1 ml"), (1_001, "2 ml"), (999, "1 ml"), (345, "0.4 ml"), (0, "0 ml")]
)
def test_a_little_is_measured_in_tenths(steps: int, shown: str) -> None:
    """Up to one of a unit; above it whole ones."""
    assert show_measurable(steps, "ml") == shown
