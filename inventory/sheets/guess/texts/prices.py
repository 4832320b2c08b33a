"""Paid: "3,20", "EUR 3.20", "1.234,50 €", "3 for 10", "à 4,10", "12.50 in all", "gift"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, time
from fractions import Fraction
from functools import lru_cache

from inventory.errors import BadMeasure
from inventory.measures.numbers import read_number, show_number
from inventory.sheets.guess.cells import Cell
from inventory.sheets.guess.guesses import Grade
from inventory.sheets.guess.texts.amounts import THOUSANDS
from inventory.sheets.guess.texts.words import plainly, signs, tokens

COINS = {
    "€": "EUR", "eur": "EUR", "euro": "EUR", "euros": "EUR", "£": "GBP", "gbp": "GBP", "$": "USD", "usd": "USD",
    "us$": "USD", "chf": "CHF", "sfr": "CHF", "fr.": "CHF", "kr": "", "cad": "CAD", "aud": "AUD", "nzd": "NZD",
    "sek": "SEK", "dkk": "DKK", "nok": "NOK", "pln": "PLN", "czk": "CZK",
}  # fmt: skip
"""Signs and codes of money; empty where a sign is of several."""
MOST = 10**6
"""Units of any coin paid for one thing."""
_COIN = re.compile(r"us\$|€|£|\$|\b(?:eur|euros?|gbp|usd|chf|sfr|cad|aud|nzd|sek|dkk|nok|pln|czk)\b")
_NUMBER = r"[0-9]+(?:[.,' ][0-9]{3})*(?:[.,][0-9]+)?|[.,][0-9]+"
_SUM = re.compile(rf"(?:{_NUMBER})")
_FOR = re.compile(rf"({_NUMBER}) ?(?:[^0-9]*?\b)?(?:for|fur|pour|zu|um) ({_NUMBER})(.*)")
_TIMES = re.compile(rf"([0-9]+) ?(?:[x×*@]|a|je) ?({_NUMBER})(.*)")
_OVER = re.compile(
    rf"({_NUMBER}) ?(?:/|per|pro|par|for|fur|pour) ?([0-9]+)(?: ?(?:pcs|pc|stk|st|pieces|pack)\.?)?"
)
_MANY_OVER = re.compile(
    rf"([0-9]{{1,3}}) ?(?:/|for|fur|pour) ?(?:us\$|€|£|\$) ?({_NUMBER})|([0-9]{{1,3}}) ?/ ?([0-9]+[.,][0-9]{{2}})"
)
"""So many for a sum: the sum is what has the coin's sign before it, or the coins behind a point."""
_DASHED = re.compile(r"(?<=[0-9])[.,] ?(?:-+|—)")


@dataclass(frozen=True, slots=True)
class Price:
    """A sum, its coin (empty: not said) and what it was paid for: each, pack, all, a number of pieces, or not said."""

    value: Fraction | None
    coin: str = ""
    per: str = ""
    grade: Grade = "read"
    why: str = ""
    rest: str = ""

    @property
    def text(self) -> str:
        """The sum in plain digits."""
        return "" if self.value is None else show_number(self.value)


UNKNOWN = Price(None, why="not known")


def read_price(cell: Cell) -> Price | None:
    """What a cell says was paid, UNKNOWN where it says that nobody knows, None where it says nothing of it."""
    raw = cell.raw
    if cell.unworked:
        return Price(None, grade="asked", why="a formula without its result")
    if isinstance(raw, date | time | bool):
        return Price(None, grade="asked", why="no sum of money")
    if isinstance(raw, int | float):
        if not abs(raw) < MOST:  # nor what is no number at all
            return Price(None, grade="asked", why="more money than anyone pays")
        value = Fraction(round(Fraction(raw) * 10**6), 10**6)
        return Price(value) if value >= 0 else Price(-value, grade="asked", why="it is negative")
    return price_in(cell.text)


@lru_cache(maxsize=65536)
def price_in(text: str) -> Price | None:
    """What a text says was paid.

    >>> price_in("3 for €10")
    Price(value=Fraction(10, 1), coin='EUR', per='3', grade='read', why='', rest='')
    """
    tidy = _DASHED.sub("", plainly(text))
    if signs("unknown").whole(tidy) or not tidy.strip("-–— ?"):
        return UNKNOWN
    if signs("free").find(tokens(tidy)) and not re.search("[0-9]", tidy):
        return Price(Fraction(0), "", "all", "guessed", f"“{tidy}” taken as paid nothing")
    coin = coin_in(tidy)
    bare = " ".join(_COIN.sub(" ", tidy).split())
    doubtful = bare.endswith("?")
    about = bool(re.match(r"~|ca\b|about|circa|env|etwa|approx", bare))
    bare = re.sub(r"^(?:~|ca\b\.?|about|circa|env\b\.?|environ|etwa|approx\b\.?) ?", "", bare).rstrip("? ")
    found = _pence(tidy) or _many_over(tidy) or _reckoned(bare) or _plain(bare)
    if found is None:
        return None
    grade: Grade = "asked" if doubtful else "guessed" if about and found.grade == "read" else found.grade
    why = f"“{tidy}” is not sure" if doubtful or about else found.why
    return Price(found.value, coin, found.per, grade, why, found.rest)


def coin_in(tidy: str) -> str:
    """The coin whose sign or code stands in a text, or nothing."""
    found = _COIN.search(tidy)
    return COINS[found[0]] if found else ""


def _pence(tidy: str) -> Price | None:
    """`95p`, `45 pence each`."""
    found = re.fullmatch(r"([0-9]{1,3}) ?(?:p|pence)(?: (.*))?", tidy)
    if found is None:
        return None
    per, rest = per_in(found[2] or "")
    return Price(
        Fraction(int(found[1]), 100), per=per, grade="guessed", why=f"“{tidy}” taken as pence", rest=rest
    )


def _many_over(tidy: str) -> Price | None:
    found = _MANY_OVER.fullmatch(tidy)
    if found is None:
        return None
    many, total = found[1] or found[3], found[2] or found[4]
    return Price(_number(total), per=many, grade="guessed", why=f"“{tidy}” taken as {total} for {many}")


def _reckoned(bare: str) -> Price | None:
    if found := _FOR.fullmatch(bare):
        number = _number(found[1])
        if number is not None and number.denominator == 1 and not found[3].strip(" ."):
            return Price(_number(found[2]), per=str(number))
    if found := _OVER.fullmatch(bare):
        return Price(
            _number(found[1]), per=found[2], grade="guessed", why=f"“{bare}” taken as for {found[2]}"
        )
    if (found := _TIMES.fullmatch(bare)) and not found[3].strip(" ."):
        return Price(_number(found[2]), per="each", grade="guessed", why=f"“{bare}” taken as each")
    return None


def _plain(bare: str) -> Price | None:
    sums = list(_SUM.finditer(bare))
    if not sums:
        return None
    number, words = sums[0], (bare[: sums[0].start()] + " " + bare[sums[0].end() :]).strip()
    value = _number(number[0])
    if value is None or THOUSANDS.fullmatch(number[0]) or "-" in words[:1]:
        return Price(value, grade="asked", why=f"“{bare}” can be read in two ways")
    per, rest = per_in(words)
    if len(sums) > 1:
        return Price(value, "", per, "asked", f"“{bare}” holds more than one sum", rest)
    grade: Grade = "guessed" if rest else "read"
    return Price(value, "", per, grade, f"“{rest}” kept as a note" if rest else "", rest)


def per_in(words: str) -> tuple[str, str]:
    """What words beside a sum say it was paid for, and the other words."""
    tidy = words.strip(" .,;()")
    if tidy in ("a", "@"):
        return "each", ""
    for per in ("each", "pack", "all"):
        if signs(per).whole(tidy):
            return per, ""
    for per in ("each", "pack", "all"):
        found = signs(per).find(tokens(tidy))
        if found:
            said = tokens(tidy)
            return per, " ".join((*said[: found[0].start], *said[found[0].end :])).strip(" .,;()")
    return "", tidy.removeprefix("@").strip()


def _number(text: str) -> Fraction | None:
    try:
        return read_number(text)
    except BadMeasure:  # 1,234 or 1.234: the decimals are the likelier ones, and it is asked about
        return Fraction(text.replace(",", ".")) if THOUSANDS.fullmatch(text) else None
