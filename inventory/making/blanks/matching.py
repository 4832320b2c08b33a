"""Which measured blank becomes which piece.

Natural blanks (antler, horn, root, burl offcuts) are one-offs, each known by its smallest diameter and its
straight length. A piece fits where the diameter is enough for its fattest barrel and the length for its
segments, cut next to each other. Waste is compared by d² · L, mm³: the volume of the enclosing cylinder over
π/4, exact. From a blank it is d²·L of the blank less the same of the barrels (their diameter and segment).
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from fractions import Fraction

from inventory.errors import BadInput
from inventory.making.blanks.cutting import as_integers, check_cut, length_needed, pieces_per_blank
from inventory.measures import show_mm
from inventory.quick import dataclass


@dataclass(frozen=True, slots=True)
class Measured:
    """A one-off blank: its smallest diameter and its straight length, mm."""

    key: Hashable
    diameter: Fraction
    length: Fraction

    @property
    def bulk(self) -> Fraction:
        """d² · L, mm³."""
        return self.diameter**2 * self.length


@dataclass(frozen=True, slots=True)
class Barrel:
    """One barrel's worth of blank: the segment length and the diameter it needs, mm."""

    length: Fraction
    diameter: Fraction


@dataclass(frozen=True, slots=True)
class Wanted:
    """A kind of piece: all its barrels come from one blank, which must be enough for the fattest."""

    key: Hashable
    barrels: tuple[Barrel, ...]

    @property
    def segments(self) -> tuple[Fraction, ...]:
        """The segment lengths, mm."""
        return tuple(barrel.length for barrel in self.barrels)

    @property
    def diameter(self) -> Fraction:
        """The diameter a blank must have, mm."""
        return max(barrel.diameter for barrel in self.barrels)

    @property
    def bulk(self) -> Fraction:
        """Σ d² · L over its barrels, mm³."""
        return sum((barrel.diameter**2 * barrel.length for barrel in self.barrels), Fraction(0))


@dataclass(frozen=True, slots=True)
class Unfit:
    """A blank that gives no piece, and by how many mm it falls short (0 where it is enough)."""

    key: Hashable
    length_short: Fraction
    diameter_short: Fraction

    def __str__(self) -> str:
        sides = (("length", self.length_short), ("diameter", self.diameter_short))
        return ", ".join(f"{side} short by {show_mm(by)}" for side, by in sides if by)


@dataclass(frozen=True, slots=True)
class Matching:
    """Which blanks give how many pieces of one kind.

    cuts       (blank, pieces cut from it), in the order the blanks were given
    shortfall  pieces wanted that no blank is left for
    waste      d² · L of the blanks cut less that of the pieces, mm³
    unfit      the blanks that give no piece, and why
    """

    cuts: tuple[tuple[Hashable, int], ...]
    shortfall: int
    waste: Fraction
    unfit: tuple[Unfit, ...]


def pieces_from(blank: Measured, wanted: Wanted, kerf: Fraction) -> int:
    """Pieces of this kind the blank gives: 0 where it is too thin, else as many as its length allows."""
    if blank.diameter < wanted.diameter:
        return 0
    return pieces_per_blank(blank.length, wanted.segments, kerf)


def match(
    measured: Sequence[Measured], wanted: Wanted, kerf: Fraction, pieces: int, most: int | None = None
) -> Matching:
    """Choose measured blanks for `pieces` pieces of one kind with the least waste, then the fewest blanks.

    most: no more blanks than this may be cut, whichever they are. Exact, by dynamic programming over blanks and
    pieces (and blanks cut, where they are limited). With too few blanks the most pieces possible are made; every
    blank that gives none is named with what it lacks.
    """
    check_match(measured, [wanted], kerf)
    if pieces < 1:
        raise BadInput(f"{pieces} pieces cannot be matched.", hint="Ask for one piece or more.")
    gives = [pieces_from(blank, wanted, kerf) for blank in measured]
    cut = len(measured) if most is None else min(max(most, 0), len(measured))
    made = min(pieces, sum(sorted(gives, reverse=True)[:cut]))
    bulks = as_integers([blank.bulk for blank in measured])
    chosen = _cover(bulks, gives, made, cut)
    used = sum((measured[i].bulk for i in chosen), Fraction(0))
    unfit = tuple(unfit_for(blank, wanted, kerf) for blank, n in zip(measured, gives, strict=True) if not n)
    cuts = _fill(measured, chosen, gives, made)
    return Matching(cuts, pieces - made, used - made * wanted.bulk, unfit)


def unfit_for(blank: Measured, wanted: Wanted, kerf: Fraction) -> Unfit:
    """By how much a blank falls short of one piece of this kind."""
    zero = Fraction(0)
    length = max(zero, length_needed(wanted.segments, kerf) - blank.length)
    return Unfit(blank.key, length, max(zero, wanted.diameter - blank.diameter))


def check_match(measured: Sequence[Measured], wanted: Sequence[Wanted], kerf: Fraction) -> None:
    """Refuse blanks or barrels without size, a blank listed twice and a kerf below nothing."""
    for blank in measured:
        if blank.diameter <= 0 or blank.length <= 0:
            raise BadInput(
                f"The measured blank {blank.key} has no size.",
                hint="Give its smallest diameter and its straight length in mm, both above 0.",
            )
    if len({blank.key for blank in measured}) < len(measured):
        raise BadInput("One measured blank is listed twice.", hint="Each one-off has a name of its own.")
    for piece in wanted:
        check_cut(piece.segments, kerf)
        if min(barrel.diameter for barrel in piece.barrels) <= 0:
            raise BadInput(f"A barrel of {piece.key} has no diameter.", hint="Give it in mm, above 0.")


def _cover(bulks: Sequence[int], gives: Sequence[int], made: int, cut: int) -> tuple[int, ...]:
    """At most `cut` blanks that give at least `made` pieces with the least bulk, then the fewest blanks.

    best[c, n] is (bulk, chosen) for n pieces or more from just c blanks.
    """
    best: dict[tuple[int, int], tuple[int, tuple[int, ...]]] = {(0, 0): (0, ())}
    for i, (bulk, each) in enumerate(zip(bulks, gives, strict=True)):
        if not each:
            continue
        for (blanks, covered), (before, chosen) in sorted(best.items(), reverse=True):
            key = blanks + 1, min(covered + each, made)
            if blanks < cut and (key not in best or before + bulk < best[key][0]):
                best[key] = before + bulk, (*chosen, i)
    ends = [(bulk, blanks, chosen) for (blanks, covered), (bulk, chosen) in best.items() if covered == made]
    return min(ends, key=lambda end: end[:2])[2]


def _fill(
    measured: Sequence[Measured], chosen: Sequence[int], gives: Sequence[int], made: int
) -> tuple[tuple[Hashable, int], ...]:
    """Pieces from each chosen blank; the longest is filled last, so that what is spared stays long."""
    pieces = {}
    for i in sorted(chosen, key=lambda i: measured[i].length):
        pieces[i] = min(gives[i], made)
        made -= pieces[i]
    return tuple((measured[i].key, pieces[i]) for i in chosen)
