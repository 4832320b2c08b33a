"""How blanks of known length are cut: what one gives, and which ones to take for so many pieces.

A piece is one or more segments cut next to each other from one blank, so that the grain runs through both
halves; a segment is a tube's length plus the material's cutting allowance. All lengths are mm, exact.
A saw cut between two segments, or between the last one and an offcut, turns `kerf` into dust.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from fractions import Fraction
from math import lcm

from inventory.errors import BadInput
from inventory.quick import dataclass


@dataclass(frozen=True, slots=True)
class Stock:
    """One kind of blank: its length in mm and how many there are (None: as many as asked for)."""

    key: Hashable
    length: Fraction
    count: int | None = None


@dataclass(frozen=True, slots=True)
class Cut:
    """`blanks` blanks of one kind, each cut into `pieces` pieces, each leaving `offcut` mm."""

    key: Hashable
    blanks: int
    pieces: int
    offcut: Fraction


@dataclass(frozen=True, slots=True)
class TooShort:
    """A kind of blank that gives no piece, and how many mm longer it would have to be."""

    key: Hashable
    short: Fraction


@dataclass(frozen=True, slots=True)
class CutPlan:
    """Which blanks to cut.

    shortfall  pieces wanted that no blank is left for
    waste      length of the blanks cut less the segments in the pieces, mm
    too_short  kinds of blank that give no piece at all
    """

    cuts: tuple[Cut, ...]
    pieces: int
    shortfall: int
    waste: Fraction
    too_short: tuple[TooShort, ...] = ()

    @property
    def blanks(self) -> int:
        """Blanks cut in all."""
        return sum(cut.blanks for cut in self.cuts)


def length_needed(segments: Sequence[Fraction], kerf: Fraction) -> Fraction:
    """Length of blank one piece needs, mm: Σ segments + kerf · (number of segments − 1)."""
    check_cut(segments, kerf)
    return sum(segments, Fraction(0)) + kerf * (len(segments) - 1)


def pieces_per_blank(blank_length: Fraction, segments: Sequence[Fraction], kerf: Fraction) -> int:
    """Pieces one blank gives: the largest k with k · Σ segments + kerf · (k · m − 1) ≤ blank length.

    m is the number of segments; the segments of a piece stay together, so no piece spans two blanks.
    """
    return (blank_length + kerf) // (length_needed(segments, kerf) + kerf)


def offcut(blank_length: Fraction, segments: Sequence[Fraction], kerf: Fraction, pieces: int) -> Fraction:
    """What is left of a blank after `pieces` pieces, mm; the cut that frees the offcut takes its kerf too."""
    taken = pieces * (length_needed(segments, kerf) + kerf)
    return max(Fraction(0), blank_length - taken)


def cut_plan(blanks: Sequence[Stock], segments: Sequence[Fraction], kerf: Fraction, pieces: int) -> CutPlan:
    """Choose blanks for `pieces` pieces of one kind so that the least length is cut into.

    Of plans that cut into equal length the one with fewer blanks is taken. Exact, by dynamic programming over
    the number of pieces. With too few blanks all that give a piece are cut and the shortfall is stated.
    Errors: `BadInput` for no pieces, no segments, or lengths and counts below nothing.
    """
    check_stock(blanks)
    if pieces < 1:
        raise BadInput(f"{pieces} pieces cannot be cut.", hint="Ask for one piece or more.")
    needed = length_needed(segments, kerf)
    gives = [pieces_per_blank(stock.length, segments, kerf) for stock in blanks]
    most = [_most(stock, each, pieces) for stock, each in zip(blanks, gives, strict=True)]
    wanted = min(pieces, sum(each * count for each, count in zip(gives, most, strict=True)))
    counts = _fewest(as_integers([stock.length for stock in blanks]), gives, most, wanted)
    cuts = tuple(_share_out(blanks, counts, gives, segments, kerf, wanted))
    used = sum((count * stock.length for stock, count in zip(blanks, counts, strict=True)), Fraction(0))
    short = [TooShort(s.key, needed - s.length) for s, each in zip(blanks, gives, strict=True) if not each]
    waste = used - wanted * sum(segments, Fraction(0))
    return CutPlan(cuts, wanted, pieces - wanted, waste, tuple(short))


def check_cut(segments: Sequence[Fraction], kerf: Fraction) -> None:
    """Refuse a piece without segments, a segment without length and a kerf below nothing."""
    if not segments or min(segments) <= 0:
        raise BadInput(
            "A piece needs at least one segment, and each segment a length above 0.",
            hint="A segment is the tube's length plus the cutting allowance, in mm.",
        )
    if kerf < 0:
        raise BadInput(f"A saw kerf of {float(kerf):g} mm is less than nothing.", hint="Give 0 mm or more.")


def check_stock(blanks: Sequence[Stock]) -> None:
    """Refuse blanks without length, counts below nothing, and two kinds under one key."""
    for stock in blanks:
        if stock.length <= 0:
            raise BadInput(f"The blank {stock.key} has no length.", hint="Give its length in mm, above 0.")
        if stock.count is not None and stock.count < 0:
            raise BadInput(f"There cannot be {stock.count} of the blank {stock.key}.", hint="Give 0 or more.")
    if len({stock.key for stock in blanks}) < len(blanks):
        raise BadInput("One kind of blank is listed twice.", hint="Add up what there is of each kind.")


def as_integers(lengths: Sequence[Fraction]) -> list[int]:
    """The lengths in one common unit, so that they add up fast and exactly (volumes and sums likewise)."""
    unit = lcm(*(length.denominator for length in lengths))
    return [int(length * unit) for length in lengths]


def _most(stock: Stock, each: int, pieces: int) -> int:
    """Blanks of this kind that could be of use."""
    enough = -(-pieces // each) if each else 0
    return enough if stock.count is None else min(stock.count, enough)


def _fewest(lengths: Sequence[int], gives: Sequence[int], most: Sequence[int], wanted: int) -> list[int]:
    """Blanks of each kind for at least `wanted` pieces: least length, then fewest blanks.

    A bounded covering knapsack: best[j] is (length, blanks, choices) for j pieces or more. Each kind enters
    in bundles of 1, 2, 4, … blanks so that any number up to its limit can be put together from few bundles.
    """
    Best = tuple[int, int, tuple[tuple[int, int], ...]]  # noqa: N806 - a type used in this function only
    best: list[Best | None] = [(0, 0, ()), *[None] * wanted]
    for kind, (length, each) in enumerate(zip(lengths, gives, strict=True)):
        for bundle in _bundles(most[kind]):
            for covered in range(wanted, 0, -1):
                before = best[max(0, covered - bundle * each)]
                now = best[covered]
                if before is None:
                    continue
                cost = before[0] + bundle * length, before[1] + bundle
                if now is None or cost < now[:2]:
                    best[covered] = *cost, (*before[2], (kind, bundle))
    counts = [0] * len(lengths)
    for kind, bundle in (best[wanted] or (0, 0, ()))[2]:
        counts[kind] += bundle
    return counts


def _bundles(count: int) -> list[int]:
    """1, 2, 4, … and a remainder, whose subset sums are exactly 0 to `count`."""
    bundles, size = [], 1
    while count > 0:
        bundles.append(min(size, count))
        count -= bundles[-1]
        size *= 2
    return bundles


def _share_out(
    blanks: Sequence[Stock],
    counts: Sequence[int],
    gives: Sequence[int],
    segments: Sequence[Fraction],
    kerf: Fraction,
    wanted: int,
) -> list[Cut]:
    """Fill the chosen blanks, shortest first, so that a blank cut for fewer pieces leaves its offcut long."""
    cuts = []
    chosen = sorted((i for i, count in enumerate(counts) if count), key=lambda i: blanks[i].length)
    for i in chosen:
        full, rest = divmod(min(wanted, counts[i] * gives[i]), gives[i])
        wanted -= full * gives[i] + rest
        for number, each in ((full, gives[i]), (1 if rest else 0, rest)):
            if number:
                left = offcut(blanks[i].length, segments, kerf, each)
                cuts.append(Cut(blanks[i].key, number, each, left))
    return cuts
