"""A count inside a name: "3 x Dunlin kit", "Dunlin kit (3)", "walnut 11 blanks"."""

from __future__ import annotations

import re
from dataclasses import replace
from unicodedata import normalize

from inventory.sheets.guess.guesses import Grade, worst
from inventory.sheets.guess.texts.amounts import NUMBER, Amount, amount_in, unit_of
from inventory.sheets.guess.texts.kinds import lexicon_of_kinds
from inventory.sheets.guess.texts.words import plainly

_FRACTIONS = re.compile("[\u00bc-\u00be\u2150-\u215e]")


_LEADING = re.compile(rf"^({NUMBER}) ?(?:[x×*]\s*)(?=\D)")


_PIECES = r"(?:x|×|stk\.?|stück|st\.|pcs\.?|pc\.?|pieces?|pièces?|off|ea\.?|no\.)"


_LEADING_UNIT = re.compile(rf"^({NUMBER}) ?{_PIECES}[ :]+(?=\w)", re.IGNORECASE)


_TRAILING = re.compile(
    rf"(?:\s*\(({NUMBER})(?: ?{_PIECES})?\)|\s*[:=]\s*({NUMBER})(?: ?{_PIECES})?|\s+[-–—]\s*({NUMBER})(?: ?{_PIECES})?"
    rf"|[,;]?\s*[x×]\s?([0-9]+)|[,:;]?\s+({NUMBER}) ?{_PIECES})\s*$",
    re.IGNORECASE,
)


_LAST = re.compile(r"^(.*[^\W\d_]{2,}),?\s+([0-9]{1,3})$")
"""A bare number at the end, after a word: most likely a count."""


_SPOKEN_LAST = re.compile(
    r"^(.*[^\W\d_]{2,}),?\s+(?:(?:about|around|ca\.?|etwa|ungefähr|environ|nur|only|just)\s+)?([^\W\d_]{3,})$",
    re.IGNORECASE,
)
"""A number in words at the end: in gold, three; brass tubes about thirty."""
_WITHIN = re.compile(
    r"^(.*[^\W\d_]{2,}) ([0-9]{1,3}|½|1/2) ((?:(?:new|full|open|neue?|volle?|neufs?) )?[^\W\d_]+)$",
    re.IGNORECASE,
)
"""A number before the last word: walnut 11 blanks, CA medium 1 new bottle."""


_PARTED = re.compile(r"^(.*\S),\s+([^,]{3,30})$")
"""A last part: chrome, half a dozen."""
_DASHED = re.compile(r"^(.*\S)(?:\s+[-–—]|\s*:)\s+(\S.*)$")
_UNSURE = re.compile(r",? (?:maybe|perhaps|about|ca\.?|etwa|vielleicht|peut-être|environ)$", re.IGNORECASE)


ASIDE = re.compile(r"\s*\(([^()]*[^\W\d_]{3}[^()]*)\)\s*$")


_LEVELS_LAST = re.compile(
    r"^(.*?),? ((?:nearly|almost|half|fast|halb|presque) ?(?:empty|full|leer|voll|vide|plein)|none(?: left)?|all gone|"
    r"keine?|leer|empty|vide)$",
    re.IGNORECASE,
)


_GRADED = frozenset(
    {
        "grit",
        "kornung",
        "grain",
        "nr",
        "no",
        "type",
        "typ",
        "size",
        "letter",
        "drill",
        "bohrer",
        "foret",
        "bit",
    }
)


def count_in_name(text: str) -> tuple[Amount | None, str]:
    """The count at a name's begin or end, and the name without it."""
    text = _FRACTIONS.sub(lambda sign: f" {normalize('NFKC', sign[0])} ", text).replace("\u2044", "/")
    text = " ".join(text.split())
    for pattern in (_LEADING, _LEADING_UNIT):
        found = pattern.match(text)
        if found:
            return amount_in(found[1]), text[found.end() :]
    found = _TRAILING.search(text)
    if found and found.start() > 2:
        number = next(one for one in found.groups() if one)
        return amount_in(number), text[: found.start()]
    dashed = _DASHED.match(text)
    if dashed and (amount := _behind(dashed[2])):
        return amount, dashed[1]
    parted = _PARTED.match(text)
    if parted and (amount := amount_in(parted[2])) and not amount.rest and (amount.value or 0) > 1:
        return replace(
            amount, grade=worst((amount.grade, "guessed")), why=amount.why or "the last part"
        ), parted[1]
    if spoken := _spoken(text):
        return spoken
    last = _LAST.match(text)
    if last and not re.search("[0-9]", last[1]) and plainly(last[1].split()[-1]) not in _GRADED:
        amount = amount_in(last[2])
        unsure = _UNSURE.search(last[1])
        grade: Grade = "asked" if unsure else "guessed"
        return amount and replace(amount, grade=grade, why=f"“{last[2]}” taken as the count"), _UNSURE.sub(
            "", last[1]
        )
    return _count_within(text) or _worded(text)


def _behind(text: str) -> Amount | None:
    """A count alone behind a dash or colon, with its unit and a word on its state: un flacon entamé."""
    for said in (
        re.sub(r" (?:de|d'|of|von) ?(?![0-9])", " ", text),
        re.sub(r" (?:de|d'|of|von) ?", " ", text),
    ):
        amount = amount_in(said)
        if amount and (not amount.rest or (amount.unit and len(amount.rest.split()) == 1)):
            return amount
    return None


def _spoken(text: str) -> tuple[Amount, str] | None:
    """A number in words at the end, more than one."""
    found = _SPOKEN_LAST.match(text)
    amount = amount_in(found[2]) if found else None
    if found is None or amount is None or amount.grade != "read" or amount.rest or (amount.value or 0) <= 1:
        return None
    return replace(amount, grade="guessed", why=f"“{found[2]}” taken as the count"), found[1]


def _count_within(text: str) -> tuple[Amount | None, str] | None:
    """A count before the last word, or how full it is at the end."""
    if level := _LEVELS_LAST.match(text):
        amount = amount_in(level[2].removesuffix(" left"))
        return (amount, level[1]) if amount and level[1] else None
    found = _WITHIN.match(text)
    if not found or re.search("[0-9]", found[1]) or plainly(found[1].split()[-1]) in _GRADED:
        return None
    word = found[3].split()[-1]
    unit = unit_of(plainly(word))[0]
    kinds = lexicon_of_kinds().whole(word)
    if not unit and not kinds:
        return None
    amount = amount_in(f"{found[2]} {unit}" if not kinds else found[2])
    name = f"{found[1]} {word}" if kinds else found[1]
    return amount and replace(amount, grade="guessed", why=f"“{found[2]}” taken as the count"), name


def _worded(text: str) -> tuple[Amount | None, str]:
    """A count in words or with a unit of its own before the name: "two bottles CA thin", "4 Dunlin kits"."""
    head = re.match(rf"(ca\.? |about |etwa |env\.? |~ ?)?({NUMBER})(?= [^\W\d_]{{3}})", text, re.IGNORECASE)
    if head:
        rest = text[head.end() :].strip()
        if re.match(r"(?:mm|inch|zoll|karat|carat|minute)\b", rest, re.IGNORECASE):
            return None, text
        unit, left = unit_of(plainly(rest))
        if "/" in head[2] and not unit:  # 27/64 drill
            return None, text
        if unit and left:
            amount = amount_in(f"{head[0]} {unit}")
            return amount, re.sub(r"^(?:of|de|d'|von) ?", "", " ".join(rest.split()[1:]))
        return amount_in(head[0]), rest
    words = text.split()
    for length in (3, 2, 1):
        amount = amount_in(" ".join(words[:length])) if len(words) > length and words[0].isalpha() else None
        if amount and amount.value is not None and not amount.rest:
            rest = re.sub(r"^(?:of|de|d'|von|more|left|mehr|plus de) ?", "", " ".join(words[length:]))
            return _unless_another(amount, rest), rest
    return None, text


def _unless_another(amount: Amount, rest: str) -> Amount:
    """The same, asked where another number in words stands right behind: five or six, no wait twelve."""
    for word in rest.split()[:3]:
        other = amount_in(word) if word.isalpha() and len(word) > 2 else None
        if other and other.value is not None and other.value != 1 and not (other.rest or other.unit):
            return replace(amount, grade="asked", why="it says two numbers")
    return amount
