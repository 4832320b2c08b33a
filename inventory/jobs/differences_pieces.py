"""Pieces made and not booked: several parts of one bill are missing together, each by what one piece takes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from typing import Final

from inventory.catalogue import Blank, Catalogue, Kit, Part, Pattern, Supply, fold
from inventory.errors import KitdrawerError
from inventory.jobs.differences_case import Case, Reason
from inventory.making.bill import Choice, uses

MOST: Final = 3
"""Pieces that may have been forgotten at once."""
ROUGHLY: Final = Fraction(1, 4)
"""What a piece takes of a supply is only known to such a share."""
ALONE, EACH_MORE, EACH_AGAINST = 0.45, 0.12, 0.1
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


def piece_reasons(case: Case, eaten: Eaten | None, names: Mapping[str, str]) -> Iterator[Reason]:
    """The sentence for one part. names: parts' names by folded ones."""
    if eaten is None:
        return
    others = [names[key] for key in eaten.agree if key != fold(case.part.name)]
    number = _NUMBERS[eaten.pieces]
    what = f"not booked: {number} {eaten.pattern} made would take {case.amount(case.difference)}"
    if others:
        more = f"; missing alike {'is' if len(others) == 1 else 'are'} {', '.join(others)}"
    elif eaten.against:
        more = ", but nothing else of its bill is missing so"
    else:
        more = ""
    yield Reason(eaten.weight, f"{what}{more}")


def _ways(catalogue: Catalogue, cases: Sequence[Case]) -> Iterator[Eaten]:
    by_key = {fold(case.part.name): case for case in cases}
    short = [case.part for case in cases if case.difference < 0]
    for pattern in catalogue.patterns.values():
        for choice, said in _choices(catalogue, pattern, short):
            takes = _takes(catalogue, pattern, choice, said)
            for pieces in range(1, MOST + 1):
                found = _compare(pattern, takes, by_key, pieces)
                if found.agree:
                    yield found


def _choices(
    catalogue: Catalogue, pattern: Pattern, short: Sequence[Part]
) -> Iterator[tuple[Choice, frozenset[str]]]:
    """Kits, blanks and refills that are short, in every combination; any other one stands in where none of a kind is.

    With each, the roles that do say something.
    """
    kits = [p for p in short if _kit_of(pattern, p)]
    blanks = [p for p in short if isinstance(p.detail, Blank)]
    refills = [p.name for p in short if isinstance(p.detail, Supply) and fold(p.detail.type) == "refill"]
    said = frozenset(role for role, those in (("the kit", kits), ("the blank", blanks)) if those)
    parts = catalogue.parts.values()
    any_kit = kits or [p for p in parts if _kit_of(pattern, p)][:1]
    any_blank = blanks or [p for p in parts if isinstance(p.detail, Blank)][:1]
    for kit, blank, refill in product(any_kit, any_blank, [None, *refills]):
        yield Choice(kit.name, blank.name, refill), said


def _kit_of(pattern: Pattern, part: Part) -> bool:
    return isinstance(part.detail, Kit) and fold(part.detail.family) == fold(pattern.family)


def _takes(
    catalogue: Catalogue, pattern: Pattern, choice: Choice, said: frozenset[str]
) -> Mapping[str, tuple[Fraction, str]]:
    """Thousandths one piece takes, and the role, by folded part; without a kit or blank that only stands in."""
    try:
        every = uses(catalogue, pattern, choice)
    except KitdrawerError:  # a bill with a hole in it explains nothing
        return {}
    if not any(use.role == "the kit" for use in every):
        return {}  # a schedule that others take in
    sums: dict[str, tuple[Fraction, str]] = {}
    for use in every:
        if use.per_piece and (use.role not in ("the kit", "the blank") or use.role in said):
            key = fold(use.part)
            sums[key] = (sums.get(key, (Fraction(0), ""))[0] + use.per_piece, use.role)
    return sums


def _compare(
    pattern: Pattern, takes: Mapping[str, tuple[Fraction, str]], cases: Mapping[str, Case], pieces: int
) -> Eaten:
    agree, against = [], []
    for key, (each, role) in takes.items():
        case = cases.get(key)
        if case is None:
            continue
        clear = abs(case.difference) > 2 * case.error
        if clear and _alike(case, each, role, pieces):
            agree.append(key)
        elif abs(each * pieces) > 2 * case.error:
            against.append(key)
    return Eaten(pattern.name, pieces, tuple(agree), tuple(against))


def _alike(case: Case, each: Fraction, role: str, pieces: int) -> bool:
    """Whether so much is missing as these pieces take. One blank may give several; supplies are only roughly known."""
    short, wanted = -case.difference, each * pieces
    if role == "the blank":
        return short > 0 and short % 1000 == 0 and short <= wanted
    if role or each % 1000 == 0:
        return abs(short - wanted) <= 2 * case.error
    step = 500 if case.error == 0 else 0  # strips are counted whole
    return short > 0 and abs(short - wanted) <= max(ROUGHLY * wanted, Fraction(max(2 * case.error, step)))
