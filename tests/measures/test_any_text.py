"""Whatever is typed, a reader answers or refuses, and what it answers reads back from its own print."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from searching import examples

from inventory.errors import BadMeasure
from inventory.measures import read_length, read_number

from .laws import LAWS, check, readers

# Mostly signs that readers know, in no order: far likelier to get deep into a reader than any text.
_SIGNS = [*"0123456789", *".,'/ -+#%()\"", *"½⁄²٣Ⅷ⅟１①€$POe\u00a0\u202f\u202e\u200f\x00\n"]
_WORDS = [
    "mm",
    "in",
    "oz",
    "ml",
    "kg",
    "EUR",
    "CAMI",
    "Nov",
    "2026",
    "pcs",
    "bottles",
    "fl oz",
    "letter ",
    "No. ",
]
_NEARLY = st.lists(st.sampled_from([*_SIGNS, *_WORDS]), max_size=14).map("".join)
_ODD = st.text(
    st.characters(codec=None, categories=("Nd", "No", "Nl", "Cs", "Cf", "Zs", "Sc", "Po")), max_size=20
)


@pytest.mark.parametrize("law", LAWS.values(), ids=LAWS.keys())
@given(text=_NEARLY | st.text(max_size=60) | _ODD)
@examples(65)
@example(text="9" * 400)
@example(text="9" * 5000)
@example(text="0" * 79 + "1")
@example(text="1/9" * 26)
@example(text="\ufdfa" * 60)
@example(text="1" + "\u202e" * 60)
@example(text="\ud800")
@example(text="1/0")
@example(text="0/0 mm")
@example(text="²")
@example(text="1 1/3")
@example(text=".233333333333330333333633")
@example(text="-")
@example(text=")(")
def test_any_text_is_read_or_refused(law: object, text: str) -> None:
    """Only BadMeasure comes out, with a short sentence and a hint; a value reads back from what is shown of it."""
    check(law, text)  # type: ignore[arg-type]  # pytest hands on what the table holds


def test_every_reader_has_its_law() -> None:
    """A new public function that reads a text is held to the same promises."""
    assert {law.of for law in LAWS.values()} == readers()
    assert len(readers()) >= 11


def test_laws_see_what_is_broken() -> None:
    """The check fails for a reader that loses something, and lets other errors through."""
    from dataclasses import replace

    with pytest.raises(AssertionError):
        check(replace(LAWS["number"], show=lambda value: str(int(value))), "1.5")
    with pytest.raises(ZeroDivisionError):
        check(replace(LAWS["number"], read=lambda text: 1 // len(text)), "")


@pytest.mark.parametrize("text", ["½3", "½²", "5²", "10³", "①", "1⑩", "²½", "¹⁄₂"])
def test_digits_that_stand_high_low_or_beside_a_fraction_are_refused(text: str) -> None:
    """Folded to plain digits they would be another number: 52, 1/23, 110."""
    for read in (read_length, read_number):
        with pytest.raises(BadMeasure):
            read(text)


@pytest.mark.parametrize(
    ("text", "meant"), [("１½", "1 1/2"), ("1⅟4", "1 1/4"), ("⅟4", "1/4"), ("１２", "12")]
)
def test_wide_digits_and_fractions_are_what_they_look_like(text: str, meant: str) -> None:
    """As keyboards of the far east write them."""
    assert read_number(text) == read_number(meant)
    assert read_length(f"{text} in") == read_length(f"{meant} in")


def test_eighty_characters_are_read_and_one_more_is_not() -> None:
    """After spaces are put together."""
    assert read_number(f"{'0' * 79}1") == 1
    assert read_number(f"  {'0' * 79}1  ") == 1
    with pytest.raises(BadMeasure, match="long"):
        read_number(f"{'0' * 80}1")
