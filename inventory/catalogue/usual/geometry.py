"""Tubes by their drills, barrels by what is made of them: generic names of the trade, no maker's range."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from inventory.catalogue.usual.tables import rows
from inventory.catalogue.usual.words import said_in
from inventory.errors import BadMeasure
from inventory.measures import read_drill
from inventory.measures.numbers import show_number

SLIM = Fraction(72, 10)
"""Millimetres of the largest drill of slim kits, which have two barrels."""
WALL = Fraction(17, 10)
"""Millimetres that wood and tube usually add to the drill at the finished ends (common practice, no source)."""
BLANK_WIDTH, BLANK_LENGTH = "19 mm", "127 mm"
"""¾ × ¾ × 5 in: common practice, no source."""
_SIZE = re.compile(r"(?<![\w./#])(\d+/\d+|\d+(?:[.,]\d+)?)(?=\s*(?:mm|in\b|″|\"|x|×|tube|$))", re.IGNORECASE)
_MAKES = (
    ("pencil", "pencil|bleistift|crayon"),
    ("seam ripper", "ripper|nahttrenner"),
    ("stopper", "stopper|stoppers|bouchon|flaschenstopfen"),
    ("key ring", "key+ring|keyring|key+fob|schlüsselanhänger"),
)


@dataclass(frozen=True, slots=True)
class UsualBarrel:
    """One barrel as a sheet writes it: the length of its tube, or its own where it has none; its finished diameter."""

    name: str
    length: str
    finished: str
    tube: bool


def makes_of(*names: str) -> str:
    """What a kit makes by the words of its names; a pen where none tells."""
    return next((makes for makes, words in _MAKES if any(said_in(name, words) for name in names)), "pen")


def drill_named(tube: str) -> str:
    """The drill in a tube's name: `tube 7 x 53`, `27/64 tube`, `8 mm brass`; empty where none is."""
    found = _SIZE.search(tube)
    return "" if found is None else found[1] if "/" in found[1] else f"{found[1]} mm"


def tube_outside(drill: str) -> str:
    """The outside diameter of a tube by its drill: of the table, else 0.15 mm less below 9 mm, 0.35 mm above."""
    size = mm_of(drill)
    for row in rows("tubes"):
        if read_drill(row["drill"]).mm == size:
            return row["outside"]
    return f"{_shown(size - Fraction(15 if size < 9 else 35, 100), 100)} mm"


def usual_drill(makes: str) -> str:
    """The drill of a kit that nothing is said of."""
    return _rows_of(makes)[0]["drill"]


def tube_length(drill: str, makes: str = "pen") -> str:
    """The length of a tube of which only the drill is said."""
    return usual_barrels(makes, drill)[0].length


def usual_barrels(makes: str, drill: str) -> tuple[UsualBarrel, ...]:
    """The barrels of a kit by what it makes: two on a slim pen or pencil, else one."""
    size = mm_of(drill)
    sort = "slim" if size <= SLIM else "full"
    full = f"{_shown(size + WALL, 10)} mm"
    return tuple(
        UsualBarrel(row["barrel"], row["length"], row["finished"] or full, row["tube"] == "yes")
        for row in _rows_of(makes)
        if row["size"] in ("", sort)
    )


def mm_of(drill: str) -> Fraction:
    """Millimetres of a drill as it is written; 7 where it cannot be read."""
    try:
        return Fraction(read_drill(drill).mm)
    except BadMeasure:
        return Fraction(7)


def _rows_of(makes: str) -> list[dict[str, str]]:
    of = [row for row in rows("barrels") if row["makes"] == makes]
    return of or _rows_of("pen")


def _shown(mm: Fraction, parts: int) -> str:
    return show_number(Fraction(round(mm * parts), parts))
