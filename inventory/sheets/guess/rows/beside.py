"""What stands beside a name in a line of one cell: a price behind an @, a drawer at the end."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from inventory.sheets.guess.rows.telling import is_place
from inventory.sheets.guess.texts.amounts import NUMBER
from inventory.sheets.guess.texts.prices import Price, price_in
from inventory.sheets.guess.texts.words import signs

_AT = re.compile(
    rf"\s*@\s*((?:[€£$]\s?)?{NUMBER}(?:\s?(?:€|£|\$|eur|gbp|usd))?)(?:\s?(?:each|ea))?\b", re.IGNORECASE
)
_COIN = r"(?:€|£|\$|eur|gbp|usd)"
_FOR = r"(?:each|ea|in all|je|zusammen|la pièce|pièce|pce|das stück|stück|pro stück|je stück|apiece)"
_COINED = re.compile(
    rf"[,;]?\s+(?:[-–—]\s*)?((?:[€£$]\s?{NUMBER}|{NUMBER}\s?{_COIN})(?:\s?{_FOR})?)(?=$|\s+[-–—]|[,;])",
    re.IGNORECASE,
)
_EACHED = re.compile(
    rf"[,;]?\s+(?:[-–—]\s*)?({NUMBER}\s?(?:each|ea|apiece|pce|la pièce|das stück))\.?$", re.IGNORECASE
)
_BRACKETED = re.compile(
    rf"\s*\(\s*((?:je |à )?(?:[€£$]\s?{NUMBER}|{NUMBER}\s?{_COIN})(?:\s?{_FOR})?)\s*\)", re.IGNORECASE
)
_LAST_PART = re.compile(r"^(.*\S)\s*(?:\s[-–—]|,)\s+([^,]+)$")


@dataclass(frozen=True, slots=True)
class Beside:
    """A name without what stands beside it, the price and the place that do."""

    name: str
    price: Price | None = None
    place: str = ""


def beside_name(text: str) -> Beside:
    """A line taken apart, as far as it speaks of a price and a place.

    >>> beside_name("2 Dunlin kits @ 3.60 - top drawer").place
    'top drawer'
    """
    price = None
    for pattern in (_AT, _BRACKETED, _COINED, _EACHED):
        found = pattern.search(text)
        if found:
            price = price_in(found[1])
            text = f"{text[: found.start()]} {text[found.end() :]}".strip()
            if price and pattern is _AT:
                price = replace(price, per="each")
            break
    place = ""
    last = _LAST_PART.match(text)
    if last and (is_place(last[2]) or signs("place").whole(last[2])):
        text, place = last[1], last[2]
    return Beside(" ".join(text.split()), price, place)
