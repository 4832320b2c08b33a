"""Pieces made and not booked: several parts of one bill are missing together, each by what one piece takes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from inventory.catalogue import Blank, Catalogue, Kit, Part, Pattern, Supply, fold
from inventory.errors import KitdrawerError
from inventory.jobs.differences.case import Case, Reason
from inventory.making.bom import RoleChoice, uses
from inventory.making.consumption import tubes_inside

MOST: Final = 3
"""Pieces that may have been forgotten at once."""
NAMED: Final = 3
"""Parts named of those that are missing alike."""
ROUGHLY: Final = Fraction(1, 4)
"""What a piece takes of a supply is only known to such a share."""
ALONE, EACH_MORE, EACH_AGAINST = 0.45, 0.12, 0.1
_CHOSEN: Final = ("the kit", "the blank", "the refill")
_NUMBERS: Final = {1: "one", 2: "two", 3: "three"}


@dataclass(frozen=True, slots=True)
class Eaten:
    """What so many pieces of a pattern take, and which checked parts say so or say otherwise (folded names)."""

    pattern: str
    pieces: int
    agree: tuple[str, ...]
    against: tuple[str, ...]

    @property
    def weight(self) -> float:
        """ALONE, more with each part that is missing alike, less with each that is not: 0.1 to 0.9."""
        more, less = len(self.agree) - 1, len(self.against)
        return min(max(ALONE + EACH_MORE * more - EACH_AGAINST * less, 0.1), 0.9)


def forgotten_pieces(catalogue: Catalogue, cases: Sequence[Case]) -> Mapping[str, Eaten]:
    """By folded part name: the pieces that explain its shortage best. cases: every checked part, right ones too."""
    best: dict[str, Eaten] = {}
    if not any(case.difference < 0 for case in cases):
        return best
    for one in _ways(catalogue, cases):
        for key in one.agree:
            if key not in best or one.weight > best[key].weight:
                best[key] = one
    return best


def piece_reasons(
    case: Case, eaten: Eaten | None, names: Mapping[str, str], whole: Collection[str] = ()
) -> Iterator[Reason]:
    """The sentence for one part. names: parts' names by folded ones; whole: those counted in whole ones.

    Where only supplies are missing alike, the pieces that were booked may have taken more of them: that is use too.
    """
    if eaten is None:
        return
    others = [names[key] for key in eaten.agree if key != fold(case.part.name)]
    number = _NUMBERS[eaten.pieces]
    what = f"not booked: {number} {eaten.pattern} made would take {case.amount(case.difference)}"
    if others:
        rest = f" and {len(others) - NAMED} more" if len(others) > NAMED else ""
        be = "is" if len(others) == 1 else "are"
        more = f"; missing alike {be} {', '.join(others[:NAMED])}{rest}"
    elif eaten.against:
        more = ", but nothing else of its bill is missing so"
    else:
        more = ""
    yield Reason(eaten.weight, f"{what}{more}", use=not set(whole) & set(eaten.agree))


def _ways(catalogue: Catalogue, cases: Sequence[Case]) -> Iterator[Eaten]:
    for pattern in catalogue.patterns.values():
        bill = _bill(catalogue, pattern)
        may = {role: [case for case in cases if _may_be(role, case.part, pattern)] for role in bill.chosen}
        for pieces in range(1, MOST + 1) if bill.chosen else ():
            yield from _compare(bill, cases, may, pieces)


def _may_be(role: str, part: Part, pattern: Pattern) -> bool:
    detail = part.detail
    if role == "the kit":
        return isinstance(detail, Kit) and fold(detail.family) == fold(pattern.family)
    if role == "the blank":
        return isinstance(detail, Blank)
    return isinstance(detail, Supply) and fold(detail.type) == "refill"


@dataclass(frozen=True, slots=True)
class _Bill:
    """What one piece takes, thousandths: fixed by folded part, chosen by role; refill: the family's own, folded."""

    pattern: str
    fixed: Mapping[str, Fraction] = field(default_factory=dict)
    chosen: Mapping[str, Fraction] = field(default_factory=dict)
    refill: str = ""


def _bill(catalogue: Catalogue, pattern: Pattern) -> _Bill:
    """The bill of a pattern; without any lines where it has a hole, or no kit as a schedule that others take in.

    Any part that may be the kit, blank or refill stands in for the one chosen: all take as much. Tubes that lie in
    the kits are none of their own.
    """
    some = {
        role: next((part.name for part in catalogue.parts.values() if _may_be(role, part, pattern)), None)
        for role in _CHOSEN
    }
    own = catalogue.family(pattern.family).refill
    if some["the kit"] is None or some["the blank"] is None:
        return _Bill(pattern.name)
    choice = RoleChoice(some["the kit"], some["the blank"], own or some["the refill"])
    try:
        every = uses(catalogue, pattern, choice)
    except KitdrawerError:
        return _Bill(pattern.name)
    inside = tubes_inside(catalogue.part(choice.kit))
    fixed: defaultdict[str, Fraction] = defaultdict(Fraction)
    chosen: defaultdict[str, Fraction] = defaultdict(Fraction)
    for use in every:
        if not (inside and use.role == "the tubes"):
            sums, key = (chosen, use.role) if use.role in _CHOSEN else (fixed, fold(use.part))
            sums[key] += use.per_piece
    if "the kit" not in chosen:
        return _Bill(pattern.name)
    return _Bill(pattern.name, fixed, chosen, fold(own or ""))


def _compare(
    bill: _Bill, cases: Sequence[Case], may: Mapping[str, Sequence[Case]], pieces: int
) -> Iterator[Eaten]:
    """What agrees with so many pieces. may: who may be the kit, the blank, the refill; one of each is in a piece.

    Each that could be has its turn, with the first of the other two.
    """
    agree, against = _fixed(bill, cases, pieces)
    found = {
        role: [fold(case.part.name) for case in may[role] if _alike(case, each, pieces, role)]
        for role, each in bill.chosen.items()
    }
    if not found.get("the refill"):
        against += [bill.refill for case in may.get("the refill", ()) if fold(case.part.name) == bill.refill]
    firsts = {role: those[0] for role, those in found.items() if those}
    turns = [firsts, *({**firsts, role: key} for role, those in found.items() for key in those[1:])]
    for turn in turns:
        if turn or agree:
            yield Eaten(bill.pattern, pieces, (*turn.values(), *agree), tuple(against))


def _fixed(bill: _Bill, cases: Sequence[Case], pieces: int) -> tuple[list[str], list[str]]:
    agree, against = [], []
    for case in cases:
        key = fold(case.part.name)
        each = bill.fixed.get(key, Fraction(0))
        if each and _alike(case, each, pieces):
            agree.append(key)
        elif each * pieces > 2 * case.error:
            against.append(key)
    return agree, against


def _alike(case: Case, each: Fraction, pieces: int, role: str = "") -> bool:
    """Whether so much is missing as these pieces take, and more than the error of measuring.

    One blank may give several pieces; what a piece takes of a supply is only roughly known.
    """
    short, wanted = -case.difference, each * pieces
    if short <= 2 * case.error:
        return False
    if role == "the blank":
        return short % 1000 == 0 and short <= wanted
    if role or each % 1000 == 0:
        return abs(short - wanted) <= 2 * case.error
    step = 0 if case.error else 500  # strips are counted whole
    return abs(short - wanted) <= max(ROUGHLY * wanted, Fraction(max(2 * case.error, step)))
