"""The words for kinds of things."""

from __future__ import annotations

from functools import cache

from inventory.sheets.guess.texts.words import Lexicon, table


@cache
def lexicon_of_kinds() -> Lexicon:
    """The words for kinds, each standing for "kind|type"."""
    pairs = ((f"{row['kind']}|{row['type']}", row["words"].split("|")) for row in table("kinds"))
    return Lexicon((phrase, meaning) for meaning, phrases in pairs for phrase in phrases)
