"""How many: "1 1/2 bottles", "ca. 4", "2×5", "ein Dutzend", "a few", "½", "1,5", "yes"."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date, time
from fractions import Fraction
from functools import lru_cache

from inventory.errors import BadMeasure
from inventory.measures.numbers import read_number
from inventory.measures.text import plain
from inventory.sheets.guess.cells import Cell
from inventory.sheets.guess.guesses import Grade
from inventory.sheets.guess.texts.words import lexicon, meanings, plainly, signs, table, tokens

NUMBER = r"(?:[0-9]+ [0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:[.,' ][0-9]{3})*[.,]?[0-9]*|[.,][0-9]+)"
_ALONE = re.compile(rf"({NUMBER})(?: ?(.*))?", re.DOTALL)
_PRODUCT = re.compile(r"([0-9]+) ?[x×*] ?([0-9]+)(?: ?er)?(?: ?(.*))?")
_SUM = re.compile(r"[0-9]+(?: ?\+ ?[0-9]+)+")
_RANGE = re.compile(r"([0-9]+) ?(?:-|–|to|or|bis|oder|a|ou) ?([0-9]+)(?: (.*))?")
_PACKS = re.compile(r"([0-9]+)?.*?(?:of|à|de|je|a|zu|mit) ?([0-9]+)(?: .*)?")
_GERMAN_PACKS = re.compile(
    r"([0-9]+)? ?x? ?([0-9]+) ?er[ -]?(?:pack|packung|pkg|beutel|pk|packungen|packs)\b.*"
)
THOUSANDS = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
"""1.250 or 1,250: a thousand and more to some hands, one and a bit to others."""
_ABOUT = re.compile(r"^(?:~|≈|\+/-|±)\s*")


@dataclass(frozen=True, slots=True)
class Amount:
    """How many of what unit (empty: not said). value: None where nothing tells; rest: words that are no part of it."""

    value: Fraction | None
    unit: str = ""
    grade: Grade = "read"
    why: str = ""
    rest: str = ""
    pack: int = 0


def read_amount(cell: Cell) -> Amount | None:
    """What a cell says of how many, or None where it says nothing of it."""
    if cell.unworked:
        return Amount(None, "", "asked", "a formula without its result")
    raw = cell.raw
    if isinstance(raw, bool):
        return Amount(Fraction(int(raw)), "", "asked", f"it says {'yes' if raw else 'no'}, not how many")
    if isinstance(raw, date | time):
        return Amount(None, "", "asked", "the spreadsheet made a date of it")
    if isinstance(raw, int | float):
        return _bare(Fraction(cell.text) if _exact(cell.text) else None)
    return amount_in(cell.text)


def _exact(text: str) -> bool:
    return re.fullmatch(r"-?[0-9]{1,12}(?:\.[0-9]{1,15})?", text) is not None


def _bare(value: Fraction | None) -> Amount:
    if value is None or value < 0:
        return Amount(None if value is None else abs(value), "", "asked", "a number that no shelf holds")
    return Amount(value)


@lru_cache(maxsize=65536)
def amount_in(text: str) -> Amount | None:
    """What a text says of how many, or None where it says nothing of it.

    >>> amount_in("1 1/2 bottles")
    Amount(value=Fraction(3, 2), unit='bottle', grade='read', why='', rest='', pack=0)
    """
    tidy = _tidy(text)
    if not tidy:
        return None
    named = _named(tidy)
    if named is not None:
        return named
    for approximate in (_about(tidy), _doubted(tidy)):
        if approximate is not None:
            return approximate
    return _reckoned(tidy) or _counted(tidy)


def _tidy(text: str) -> str:
    try:
        tidy = plain(text, "count")
    except BadMeasure:
        return ""
    return plainly(tidy)


def _named(tidy: str) -> Amount | None:
    """Words for a number, alone or before a unit: "none", "a few", "two bottles", "half a bottle"."""
    words = lexicon("numbers", "value")
    if tidy in _by_word():
        value, grade = _by_word()[tidy]
        return Amount(Fraction(value), "", grade, f"“{tidy}” is no number" if grade == "asked" else "")
    said = tokens(tidy)
    found = words.find(said)
    if not found or found[0].start or not said[0].isalpha():
        return None
    word = " ".join(said[: found[0].end])
    unit, rest = unit_of(" ".join(said[found[0].end :]).removeprefix("of ").removeprefix("a "))
    value, grade = _by_word().get(word, (found[0].meaning, "guessed"))
    if not unit and grade != "asked":
        return None
    return Amount(Fraction(value), unit, grade, f"“{word}” is no number" if grade == "asked" else "", rest)


def _by_word() -> dict[str, tuple[str, Grade]]:
    if not _BY_WORD:
        for row in table("numbers"):
            grade: Grade = (
                "asked" if row["grade"] == "asked" else "read" if row["grade"] == "read" else "guessed"
            )
            for word in row["words"].split("|"):
                _BY_WORD.setdefault(plainly(word), (row["value"], grade))
    return _BY_WORD


_BY_WORD: dict[str, tuple[str, Grade]] = {}


def _about(tidy: str) -> Amount | None:
    bare = _ABOUT.sub("", tidy)
    if bare == tidy:
        found = signs("about").find(tokens(tidy)[:4])
        if not found or found[0].start or found[0].end == len(tokens(tidy)):
            return None
        bare = " ".join(tokens(tidy)[found[0].end :]).lstrip(". ")
    inner = amount_in(bare)
    if inner is None or inner.value is None:
        return None
    return _no_better(inner, "guessed", f"“{tidy}” taken as {inner.value}")


def _doubted(tidy: str) -> Amount | None:
    """A number with a question mark is asked; one with a plus, or "or so", is taken as the least there is."""
    bare = re.sub(r"^[x×] ?(?=[0-9]+$)", "", tidy)
    if bare != tidy:  # x12, as on a shelf label
        return amount_in(bare)
    bare = tidy.rstrip("?+ ").removesuffix(" or so").strip("() ")
    if bare == tidy or not bare or not bare[0].isdigit():
        return None
    inner = amount_in(bare)
    if inner is None or inner.value is None:
        return None
    grade: Grade = "asked" if "?" in tidy else "guessed"
    return _no_better(inner, grade, f"“{tidy}” is not sure")


def _no_better(amount: Amount, grade: Grade, why: str) -> Amount:
    return amount if amount.grade == "asked" else replace(amount, grade=grade, why=why)


def _reckoned(tidy: str) -> Amount | None:
    """Products, sums, ranges and packs."""
    if found := _GERMAN_PACKS.fullmatch(tidy):
        return _packs(int(found[1] or 1), int(found[2]), tidy)
    if found := _PRODUCT.fullmatch(tidy):
        unit, rest = unit_of(found[3] or "")
        whole = Fraction(int(found[1]) * int(found[2]))
        return Amount(whole, unit, "guessed", f"“{tidy}” multiplied", rest, int(found[2]))
    if _SUM.fullmatch(tidy):
        return Amount(
            Fraction(sum(map(int, re.findall("[0-9]+", tidy)))), "", "guessed", f"“{tidy}” added up"
        )
    if signs("pack of").find(tokens(tidy)) and (found := _PACKS.fullmatch(tidy)):
        return _packs(int(found[1] or 1), int(found[2]), tidy)
    if found := _RANGE.fullmatch(tidy):
        unit, rest = unit_of(found[3] or "")
        return Amount(Fraction(found[1]), unit, "asked", f"“{tidy}” is not one number", rest)
    return None


def _packs(many: int, each: int, tidy: str) -> Amount:
    return Amount(Fraction(many * each), "", "guessed", f"“{tidy}” multiplied", "", each)


def _counted(tidy: str) -> Amount | None:
    found = _ALONE.fullmatch(tidy)
    if not found:
        return _level(tidy)
    number, after = found[1].strip(), (found[2] or "").strip()
    if THOUSANDS.fullmatch(number):
        value = Fraction(number.replace(",", "."))
        return Amount(
            value, unit_of(after)[0], "asked", f"“{number}” is two numbers: {value} or {value * 1000}"
        )
    try:
        value = read_number(number)
    except BadMeasure:
        return Amount(None, "", "asked", f"“{tidy}” is no number")
    half = re.match(r"(?:and a half|und eine halbe|et demie?)\b ?(.*)", after)
    if half:
        value, after = value + Fraction(1, 2), half[1]
    unit, rest = unit_of(after.lstrip(". x"))
    grade: Grade = "guessed" if rest.strip("().,;- ") else "read"
    return Amount(value, unit, grade, f"“{rest}” kept as a note" if grade == "guessed" else "", rest)


def _level(tidy: str) -> Amount | None:
    """How full a bottle is: "half full", "fast leer", "3/4 voll"."""
    for word, value in _LEVELS.items():
        if tidy == word or tidy.startswith(f"{word} "):
            grade: Grade = "guessed" if value in ("1", "1/2") else "asked"
            return Amount(Fraction(value), "bottle", grade, f"“{tidy}”, of a bottle")
    return None


_LEVELS = {
    "half full": "1/2", "half empty": "1/2", "halb voll": "1/2", "halbvoll": "1/2", "halb leer": "1/2",
    "a moitie plein": "1/2", "a moitie": "1/2", "demi plein": "1/2",
    "full": "1", "voll": "1", "plein": "1", "unopened": "1", "neu": "1", "new": "1", "neuf": "1",
    "nearly empty": "1/10", "almost empty": "1/10", "fast leer": "1/10", "presque vide": "1/10",
    "nearly full": "9/10", "almost full": "9/10", "fast voll": "9/10", "presque plein": "9/10",
}  # fmt: skip


def unit_of(text: str) -> tuple[str, str]:
    """The unit a text begins with, and what follows: "bottles (old)" is bottle and "(old)"."""
    units, said = lexicon("units", "unit"), tokens(text)
    if not said:
        return "", ""
    for length in (2, 1):
        word = units.phrases.get(said[:length], "")
        if word:
            rest = said[length:]
            return word, " ".join(rest[1:] if rest[:1] == (".",) else rest)
    return "", text


def counted_unit(unit: str) -> bool:
    """Whether a unit only counts things, so that what is counted in it is counted in pieces."""
    return unit in ("", "piece", "kit") and unit in {"", *meanings("units", "unit")}
