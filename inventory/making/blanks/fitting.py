"""Blanks for a family: which are big enough, how they are cut, how many pieces they give.

Halves of one piece stay together in one blank so that the grain runs through. A blank is thick enough when its
side or smallest diameter is at least the fattest finished diameter + 2 mm (an assumption of the trade, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from inventory.catalogue import Blank, Catalogue, Family, Material, Part
from inventory.ledger import Lot
from inventory.making.blanks.model import (
    BlankStock,
    Segment,
    Wanted,
    lacks,
    length_needed,
    one_off,
    pieces_from,
)
from inventory.making.blanks.planning import cutting_plan
from inventory.making.bom import drill_of, finished_diameter, length_of
from inventory.measures import Length, show_mm

TURNING_MARGIN = Fraction(2)
"""Millimetres a blank must be thicker than the finished barrel (assumption, editable here)."""


@dataclass(frozen=True, slots=True)
class PieceSize:
    """What one piece asks of a blank: segment lengths (tube + allowance) and diameters, mm; empty where unknown."""

    wanted: Wanted | None
    diameter: Fraction | None


@dataclass(frozen=True, slots=True)
class BlankCut:
    """`blanks` blanks (a measured lot where `lot` is its id) cut into `pieces` pieces each."""

    blanks: int
    pieces: int
    offcut: Fraction | None
    lot: int | None = None
    name: str = ""


@dataclass(frozen=True, slots=True)
class BlankPlan:
    """How the blanks of one part serve so many pieces.

    needed: blanks taken, those to be bought included; usable: blanks there that give a piece; capacity: pieces all
    usable ones give; each: pieces a blank of the catalogue's size gives; unfit: sentences on those left out.
    """

    cuts: tuple[BlankCut, ...]
    needed: int
    usable: int
    capacity: int
    each: int
    unfit: tuple[str, ...] = ()


def piece_size(catalogue: Catalogue, family: Family, material: Material, extra: Length | None) -> PieceSize:
    """The segments and diameters one piece of a family takes in this material."""
    segments, diameters = [], []
    for barrel in family.barrels:
        length = length_of(catalogue, barrel)
        thick = finished_diameter(barrel, extra)
        drill = drill_of(catalogue, barrel)
        diameter = max(thick or Fraction(0), drill.mm if drill else Fraction(0)) + TURNING_MARGIN
        diameters.append(diameter)
        if length:
            segments.append(Segment(length + material.allowance.mm, diameter))
    known = segments and len(segments) == len(family.barrels)
    return PieceSize(
        Wanted(family.name, tuple(segments)) if known else None, max(diameters) if diameters else None
    )


def pieces_each(blank: Blank, size: PieceSize, kerf: Fraction) -> int:
    """Pieces one blank of the catalogue's size gives; 1 where a size is not known, 0 where it is too small."""
    if blank.width is not None and size.diameter is not None and blank.width.mm < size.diameter:
        return 0
    if blank.length is None or size.wanted is None:
        return 1
    return pieces_from(BlankStock(0, blank.length.mm), size.wanted, kerf)


def plan_blanks(
    part: Part, size: PieceSize, lots: Sequence[Lot], free: int, kerf: Fraction, pieces: int
) -> BlankPlan:
    """Serve `pieces` pieces: measured blanks first, least waste; then those of the catalogue's size.

    lots: what may be taken; free: thousandths of a blank that nobody claims, measured ones included.
    """
    if not isinstance(part.detail, Blank):
        raise TypeError(part.kind)
    each = pieces_each(part.detail, size, kerf)
    measured = {lot.id: lot for lot in lots if lot.measured and lot.quantity - lot.claimed >= 1000}
    blanks = [stock_of(lot) for lot in measured.values()]
    most = min(
        len(measured), free // 1000
    )  # which of them are spoken for nobody said, so any of them may be cut
    plain = max(free // 1000 - len(measured), 0)
    by_lot = [pieces_from(blank, size.wanted, kerf) if size.wanted else 1 for blank in blanks]
    from_measured = sum(sorted(by_lot, reverse=True)[:most])
    wanted = min(pieces, from_measured)
    cuts = _from_measured(blanks, measured, size, kerf, wanted, most) if wanted else []
    left = pieces - sum(cut.pieces for cut in cuts)
    if left > 0 and each:
        cuts += _from_plain(part.detail, size, kerf, left, plain)
    missing = max(pieces - from_measured - plain * each, 0)
    bought = -(-missing // each) if each else missing
    return BlankPlan(
        tuple(cuts),
        sum(cut.blanks for cut in cuts) + bought,
        min(sum(1 for n in by_lot if n), most) + (plain if each else 0),
        from_measured + plain * each,
        each,
        (*_too_small(part, part.detail, size, plain, each, kerf), *_unfit(blanks, measured, size, kerf)),
    )


def stock_of(lot: Lot) -> BlankStock:
    """A measured lot as stock to cut."""
    if lot.smallest_diameter is None or lot.length is None:  # pragma: no cover - only measured lots come here
        raise TypeError(lot.name)
    return one_off(lot.id, lot.smallest_diameter.mm, lot.length.mm)


def _from_measured(
    blanks: Sequence[BlankStock],
    lots: dict[int, Lot],
    size: PieceSize,
    kerf: Fraction,
    pieces: int,
    most: int,
) -> list[BlankCut]:
    if size.wanted is None:
        return [BlankCut(1, 1, None, lot.id, lot.name) for lot in list(lots.values())[:pieces]]
    plan = cutting_plan(blanks, [replace(size.wanted, count=pieces)], kerf, most=most)
    names = {lot.id: lot.name for lot in lots.values()}
    return [
        BlankCut(1, many, cut.offcut, lot, names[lot])
        for cut in plan.patterns
        for lot, (_, many) in zip((int(str(cut.stock)),), cut.pieces, strict=True)
    ]


def _from_plain(blank: Blank, size: PieceSize, kerf: Fraction, pieces: int, there: int) -> list[BlankCut]:
    if blank.length is None or size.wanted is None:
        return [BlankCut(min(pieces, there), 1, None)] if there else []
    if not there:
        return []
    plan = cutting_plan([BlankStock(0, blank.length.mm, there)], [replace(size.wanted, count=pieces)], kerf)
    cuts = [BlankCut(cut.times, many, cut.offcut) for cut in plan.patterns for _, many in cut.pieces]
    return sorted(cuts, key=lambda cut: -cut.pieces)


def _too_small(
    part: Part, blank: Blank, size: PieceSize, plain: int, each: int, kerf: Fraction
) -> tuple[str, ...]:
    if each:
        return ()
    if blank.width is not None and size.diameter is not None and blank.width.mm < size.diameter:
        what = f"{show_mm(blank.width.mm)} thick, {show_mm(size.diameter)} wanted"
    elif blank.length is not None and size.wanted is not None:
        what = f"{show_mm(blank.length.mm)} long, {show_mm(length_needed(size.wanted, kerf))} wanted"
    else:  # pragma: no cover - pieces_each gives 0 only for the two reasons above
        return ()
    return (f"{part.name} is too small: {what}{f' ({plain} there)' if plain else ''}.",)


def _unfit(
    blanks: Sequence[BlankStock], lots: dict[int, Lot], size: PieceSize, kerf: Fraction
) -> tuple[str, ...]:
    if size.wanted is None:
        return ()
    return tuple(
        f"{lots[lot_id].name or 'a measured blank'} is left out: {lacks(blank, size.wanted, kerf)}."
        for lot_id, blank in zip(lots, blanks, strict=True)
        if not pieces_from(blank, size.wanted, kerf)
    )
