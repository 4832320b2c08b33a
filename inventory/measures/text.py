"""What people type, made plain before it is read: one kind of space, dash, quote, digit and fraction."""

from __future__ import annotations

import re
import unicodedata

from inventory.errors import BadMeasure

LONGEST = 80
"""Characters; no measure needs more, and a reader must not chew on a pasted page."""

_CHARACTERS = str.maketrans(
    {
        **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212\ufe63\uff0d", "-"),
        **dict.fromkeys("\u2044\u2215\uff0f", "/"),
        **dict.fromkeys("\u201c\u201d\u201e\u201f\u02ba\u3003", '"'),
        **dict.fromkeys("\u2018\u2019\u02b9\u2032\u00b4`", "'"),
        **dict.fromkeys("\u200b\u200c\u200d\u200e\u200f\u2060\ufeff\u00ad"),
        "\u00d7": "x",
    }
)

_FRACTION = re.compile("[\u00bc-\u00be\u2150-\u215f\u2189]")
_BEFORE = re.compile(rf"(?<=\w)(?={_FRACTION.pattern})")
_AFTER = re.compile(r"(?<=[\u00bc-\u00be\u2150-\u215e\u2189])(?=\w)")  # but for U+215F, one over what follows


def plain(text: str, what: str) -> str:
    """`text` with typographic variants folded to ASCII and spaces collapsed; `what` names it in a refusal.

    Raises BadMeasure where nothing is left, or more than `LONGEST` characters are.
    """
    if len(text) > LONGEST * 4:
        raise _too_long(text, what)
    folded = text if text.isascii() else _folded(text, what)
    tidy = " ".join(folded.translate(_CHARACTERS).replace("''", '"').split())
    if not tidy:
        raise BadMeasure(f"There is no {what} here: the text is empty.", hint=f"Write the {what}.")
    if len(tidy) > LONGEST:
        raise _too_long(tidy, what)
    return tidy


def said(text: str) -> str:
    """`text` between quotation marks, short enough for a sentence."""
    shown = "".join(sign if sign.isprintable() else "�" for sign in text)
    return f"“{shown}”" if len(shown) <= 40 else f"“{shown[:36]}…”"


def _too_long(text: str, what: str) -> BadMeasure:
    return BadMeasure(f"{said(text)} is too long to be read as one {what}.", hint=f"Write the {what} alone.")


def _folded(text: str, what: str) -> str:
    raised = next((sign for sign in text if _misread(sign)), "")
    if raised:  # folding makes 52 of 5²
        message = f"{said(text)} holds the raised or circled digit {raised}, which no {what} has."
        raise BadMeasure(message, hint="Write it with plain digits.")
    # it also makes 11⁄2 of 1½, and 1⁄23 of ½3: a fraction is parted from what is beside it first
    return unicodedata.normalize("NFKC", _AFTER.sub(" ", _BEFORE.sub(" ", text)))


def _misread(sign: str) -> bool:
    if sign.isascii() or sign.isdecimal() or _FRACTION.fullmatch(sign):
        return False
    return any(digit in "0123456789" for digit in unicodedata.normalize("NFKC", sign))
