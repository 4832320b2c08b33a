"""Small tellings: whether a text is a place, a sentence, a kind over the rows below."""

from __future__ import annotations

import re

from inventory.sheets.guess.texts.kinds import lexicon_of_kinds
from inventory.sheets.guess.texts.naming import taken_apart
from inventory.sheets.guess.texts.words import lexicon, plainly, signs, tokens


def is_place(text: str) -> bool:
    said = tokens(plainly(text))
    found = signs("place").find(said)
    return (
        bool(found)
        and found[0].start <= 1 + said[0].isdecimal()
        and len(said) <= 4 + said[0].isdecimal()
        and (len(said) > found[0].end or found[0].start >= 1)
    )


def kind_of_title(text: str) -> str:
    """The kind of a sub-heading such as "Pen kits (slim)" or "Bausätze Schublade 2": plural, short, no count."""
    said = tokens(plainly(text))
    found = lexicon_of_kinds().find(said)
    joined = {one.meaning for one in found}
    if len(joined) > 1 and all("|" in one and one.startswith("supply") for one in joined):
        return found[0].meaning
    words = [token for token in said if token.isalpha()]
    covered = sum(one.end - one.start for one in found)
    return (
        found[0].meaning
        if found
        and len(joined) == 1
        and covered >= len(words) - 1
        and "&" not in said
        and covered == len(words)
        else ""
    )


def one_kind(text: str) -> str:
    """The kind that a sub-heading of several words speaks of, or nothing where it speaks of several."""
    said = tokens(plainly(text))
    kinds = {one.meaning for one in lexicon_of_kinds().find(said)}
    if not kinds and (
        {"wood", "woods", "holz", "bois"} & set(said) or lexicon("materials", "sort").find(said)
    ):
        return "blank|"
    return next(iter(kinds)) if len(kinds) == 1 else ""


def is_sentence(text: str) -> bool:
    """Whether a text speaks in a sentence rather than naming a thing; what stands in brackets does not count."""
    text = re.sub(r"\s*\([^()]*[0-9][^()]*\)$", "", text)
    said = [token for token in tokens(plainly(text)) if token[0].isalpha()]
    if said and (said[-1] in _LACKING or said[0] in _LACKING) and not re.search("[0-9]", text):
        return True
    return (
        (len(said) >= 6 and not taken_apart(text, counted=True).amount)
        or text.rstrip().endswith(("!", "?"))
        or (len(said) >= 4 and said[0] in SPEAKS)
        or bool(said and said[0] in _NOTES)
    )


def of_goods(text: str) -> bool:
    """Whether a sentence speaks of goods: a kit's or supply's word, a plating or a material, and how many."""
    said = tokens(plainly(text))
    named = lexicon_of_kinds().find(said) or lexicon("platings", "plating").find(said)
    named = named or lexicon("materials", "sort").find(said) or lexicon("makes", "makes").find(said)
    counted = bool(re.search("[0-9]", text)) or bool(lexicon("numbers", "value").find(said))
    return bool(named) and counted


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


_LACKING = _words(
    "fehlen fehlt missing manque manquent needed bestellen nachbestellen kaufen buy order commander acheter"
)
_NOTES = _words(
    "note nb ps notiz hinweis remarque achtung attention todo updated stand counted gezahlt compte last"
)
SPEAKS = _words(
    "don't dont never please keep "
    "i we ask call ring phone remind anrufen appeler remember need must should check order buy next do ich noch muss "
    "bitte wir nachbestellen acheter penser il je commander verifier demander"
)
"""Words a note begins with that speaks to oneself."""
