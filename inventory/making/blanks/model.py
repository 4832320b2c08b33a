"""The one model of every cut plan: what is there, what is wanted, what one blank gives, and how often.

A piece is one or more segments cut next to each other from one blank, so that the grain runs through both halves; a
segment is a tube's length plus the material's cutting allowance. A saw cut between two segments, or between the last
one and an offcut, turns `kerf` into dust. Natural blanks (antler, horn, root, burl offcuts) are one-offs, each known
by its smallest diameter and its straight length: it must be enough for the piece's fattest barrel. All lengths are mm,
exact.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from inventory.errors import BadInput
from inventory.measures import show_mm


@dataclass(frozen=True, slots=True)
class BlankStock:
    """One kind of blank: its length in mm, and how many there are (None: as many as asked for).

    diameter: of a one-off, the smallest, mm; None where blanks are wide enough for whatever is cut from them.
    """

    key: Hashable
    length: Fraction
    count: int | None = None
    diameter: Fraction | None = None

    @property
    def bulk(self) -> Fraction:
        """d² · L of a one-off, mm³: the volume of the enclosing cylinder over π/4."""
        return (self.diameter or Fraction(0)) ** 2 * self.length


def one_off(key: Hashable, diameter: Fraction, length: Fraction) -> BlankStock:
    """A blank that there is once, measured."""
    return BlankStock(key, length, 1, diameter)


@dataclass(frozen=True, slots=True)
class Segment:
    """One barrel's worth of blank: its length and the diameter it needs, mm."""

    length: Fraction
    diameter: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Wanted:
    """A kind of piece and how many of it: all its segments come from one blank."""

    key: Hashable
    segments: tuple[Segment, ...]
    count: int = 1

    @property
    def length(self) -> Fraction:
        """Of its segments together, mm."""
        return sum((segment.length for segment in self.segments), Fraction(0))

    @property
    def diameter(self) -> Fraction:
        """The diameter a blank must have for the fattest barrel, mm."""
        return max(segment.diameter for segment in self.segments)

    @property
    def bulk(self) -> Fraction:
        """Σ d² · L over its segments, mm³."""
        return sum((segment.diameter**2 * segment.length for segment in self.segments), Fraction(0))


@dataclass(frozen=True, slots=True)
class CutPattern:
    """`times` blanks of one kind, each cut into these (kind of piece, how many), each leaving `offcut` mm."""

    stock: Hashable
    pieces: tuple[tuple[Hashable, int], ...]
    times: int
    offcut: Fraction


@dataclass(frozen=True, slots=True)
class CutPlan:
    """How often each pattern is cut.

    short   kind of piece → how many no blank is left for, or large enough for
    proven  whether no plan is better; False only where the time ran out or the problem is too large
    """

    patterns: tuple[CutPattern, ...]
    short: Mapping[Hashable, int]
    proven: bool


Cut = tuple[int, tuple[tuple[int, int], ...], int]
"""A pattern by numbers: the kind of blank, (kind of piece, how many) …, and how many blanks are cut so."""


def plan_of(
    stock: Sequence[BlankStock],
    wanted: Sequence[Wanted],
    kerf: Fraction,
    cuts: Iterable[Cut],
    *,
    proven: bool,
) -> CutPlan:
    """The plan in the callers' words and in mm."""
    open_counts, patterns = [one.count for one in wanted], list[CutPattern]()
    for kind, pieces, times in cuts:
        taken = sum((n * (length_needed(wanted[at], kerf) + kerf) for at, n in pieces), Fraction(0))
        named = tuple((wanted[at].key, n) for at, n in pieces)
        offcut = max(Fraction(0), stock[kind].length - taken)  # the cut that frees it takes its kerf too
        patterns.append(CutPattern(stock[kind].key, named, times, offcut))
        for at, n in pieces:
            open_counts[at] -= n * times
    short = {one.key: still for one, still in zip(wanted, open_counts, strict=True) if still}
    return CutPlan(tuple(patterns), short, proven)


def length_needed(wanted: Wanted, kerf: Fraction) -> Fraction:
    """Length of blank one piece needs, mm: Σ segments + kerf · (number of segments − 1)."""
    return wanted.length + kerf * (len(wanted.segments) - 1)


def pieces_from(stock: BlankStock, wanted: Wanted, kerf: Fraction) -> int:
    """Pieces of one kind a blank gives: 0 where it is too thin, else the largest k that its length allows.

    k · Σ segments + kerf · (k · m − 1) ≤ length, m segments a piece; a piece never spans two blanks.
    """
    check([stock], [wanted], kerf)
    if stock.diameter is not None and stock.diameter < wanted.diameter:
        return 0
    return (stock.length + kerf) // (length_needed(wanted, kerf) + kerf)


def lacks(stock: BlankStock, wanted: Wanted, kerf: Fraction) -> str:
    """By how much a blank falls short of one piece, in words; empty where it is enough."""
    thin = Fraction(0) if stock.diameter is None else wanted.diameter - stock.diameter
    sides = (("length", length_needed(wanted, kerf) - stock.length), ("diameter", thin))
    return ", ".join(f"{side} short by {show_mm(by)}" for side, by in sides if by > 0)


def as_integers(lengths: Sequence[Fraction]) -> list[int]:
    """The lengths in one common unit, so that they add up fast and exactly (volumes and sums likewise)."""
    unit = lcm(*(length.denominator for length in lengths))
    return [int(length * unit) for length in lengths]


def check(stock: Sequence[BlankStock], wanted: Sequence[Wanted], kerf: Fraction) -> None:
    """Refuse sizes and counts below nothing, a piece without segments, and a key listed twice."""
    for one in stock:
        if one.length <= 0 or (one.diameter is not None and one.diameter <= 0):
            raise BadInput(
                f"The blank {one.key} has no size.", hint="Give its length and any diameter in mm, above 0."
            )
        if one.count is not None and one.count < 0:
            raise BadInput(f"There cannot be {one.count} of the blank {one.key}.", hint="Give 0 or more.")
    for piece in wanted:
        if not piece.segments or min(segment.length for segment in piece.segments) <= 0:
            raise BadInput(
                "A piece needs at least one segment, and each segment a length above 0.",
                hint="A segment is the tube's length plus the cutting allowance, in mm.",
            )
        if piece.count < 0:
            raise BadInput(f"{piece.count} of {piece.key} cannot be cut.", hint="Give 0 or more.")
    for several, what in ((stock, "blank"), (wanted, "piece")):
        if len({one.key for one in several}) < len(several):
            raise BadInput(f"One kind of {what} is listed twice.", hint="Add up what there is of each kind.")
    if kerf < 0:
        raise BadInput(f"A saw kerf of {float(kerf):g} mm is less than nothing.", hint="Give 0 mm or more.")
