"""Whatever is typed, a reader answers or refuses: no other error ever comes out."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from inventory.errors import BadMeasure
from inventory.measures import (
    currency,
    read_amount,
    read_date,
    read_drill,
    read_fraction,
    read_grit,
    read_length,
    read_money,
    read_number,
    read_unit,
    read_unit_price,
)

READERS: dict[str, Callable[[str], object]] = {
    "length": read_length,
    "drill": read_drill,
    "grit": read_grit,
    "number": read_number,
    "share": read_fraction,
    "unit": read_unit,
    "volume": lambda text: read_amount(text, "ml", density=Fraction(1), net=1000, signed=True),
    "count": lambda text: read_amount(text, "piece", whole=True),
    "money": lambda text: read_money(text, currency("EUR")),
    "price": lambda text: read_unit_price(text, currency("JPY")),
    "currency": currency,
    "date": read_date,
}

# Mostly signs that readers know, in no order: far likelier to get deep into a reader than any text.
_SIGNS = [*"0123456789", *".,'/ -+#%()\"", *"½⁄²٣Ⅷ€$POe\u00a0\u202f\x00\n"]
_WORDS = ["mm", "in", "oz", "ml", "kg", "EUR", "CAMI", "Nov", "pcs", "bottles", "fl oz", "letter ", "No. "]
_NEARLY = st.lists(st.sampled_from([*_SIGNS, *_WORDS]), max_size=14).map("".join)


@pytest.mark.parametrize("reader", READERS.values(), ids=READERS.keys())
@given(text=_NEARLY | st.text(max_size=60))
@settings(max_examples=120, deadline=None)
@example(text="9" * 400)
@example(text="9" * 5000)
@example(text="\ufdfa" * 60)
@example(text="1/0")
@example(text="0/0 mm")
@example(text="²")
@example(text="ſ")
@example(text="-")
@example(text=")(")
def test_any_text_is_read_or_refused(reader: Callable[[str], object], text: str) -> None:
    """Only BadMeasure comes out, with a sentence that ends and a hint."""
    refusal = None
    try:
        reader(text)
    except BadMeasure as raised:
        refusal = raised
    if refusal:
        assert refusal.message.endswith(".")
        assert refusal.hint
        assert len(refusal.message) < 200
        assert refusal.message.isprintable()
