"""Rows of a filled count sheet: each with its part and lot and what the book expects of them, or refused."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import sqrt

from inventory.catalogue import Part, fold
from inventory.errors import BadSheet, Place, Refused
from inventory.jobs.session_sheet import FilledCount, FilledCounts
from inventory.jobs.shop import Shop
from inventory.jobs.weekend_measures import Checked
from inventory.jobs.weekend_weighing import TWELFTH
from inventory.ledger import Count, Lot
from inventory.measures import read_unit, show_amount


@dataclass(frozen=True, slots=True)
class Row:
    """One counted row. lot: the very lot it speaks of, else all there is beside those; expected: thousandths."""

    part: Part
    lot: Lot | None
    said: FilledCount
    expected: int

    @property
    def checked(self) -> Checked:
        """As differences are worked out from; a bottle is read to one unit, twice (1/√12 · √2)."""
        measured = read_unit(self.part.unit).kind != "count"
        error = round(1000 * TWELFTH * sqrt(2)) if measured else 0
        return Checked(self.part.name, self.expected, self.said.counted, error, "counted")


def rows_of(shop: Shop, filled: FilledCounts, announced: list[str]) -> list[Row]:
    """Every row with its part and lot. A row without a lot speaks of all there is beside the lots named in others."""
    if not filled.rows:
        raise Refused("The count sheet is empty.", hint="Fill in what was counted, then book it.")
    bad: list[Place] = []
    named: dict[str, set[int]] = {}
    for said in filled.rows:
        named.setdefault(fold(said.part), set()).add(said.lot)
    rows = []
    seen: set[tuple[str, int]] = set()
    for said in filled.rows:
        part = shop.catalogue.part(said.part)
        lots = shop.book.lots_of(part.name)
        lot = next((one for one in lots if one.id == said.lot), None)
        problem = _problem(part, lots, lot, said, seen)
        seen.add((fold(part.name), said.lot))
        if problem:
            bad.append(replace(said.where, said=show_amount(said.counted, part.unit), problem=problem))
        elif said.lot and lot is None:
            announced.append(f"{part.name}: lot {said.lot} is used up, and none of it was counted.")
        else:
            spoken = named[fold(said.part)] if lot is None else set()
            rest = sum(one.quantity for one in lots if one.id not in spoken)
            rows.append(Row(part, lot, said, lot.quantity if lot else rest))
    if bad:
        raise BadSheet(
            f"{len(bad)} counts cannot be taken." if len(bad) > 1 else "One count cannot be taken.",
            hint="Nothing was booked. Mend what is listed and give the sheet again.",
            where=tuple(bad),
        )
    return rows


def _problem(
    part: Part, lots: Sequence[Lot], lot: Lot | None, said: FilledCount, seen: set[tuple[str, int]]
) -> str:
    if (fold(part.name), said.lot) in seen:
        return f"{part.name} stands here twice. Add the counts up in one row."
    if said.second is not None and said.second != said.counted:
        second = show_amount(said.second, part.unit)
        return f"The second count, {second}, differs. Count a third time and write down what is right."
    if said.lot and lot is None and said.counted:
        there = ", ".join(one.name or f"lot {one.id}" for one in lots)
        return f"The book has no lot {said.lot} of {part.name} any more: it has {there or 'none'}."
    if lot is not None and len(lots) > 1 and not lot.name and not lot.measured:
        return f"Lot {lot.id} of {part.name} has no name to tell it by. Count all of {part.name} in one row."
    return ""


def counts_of(rows: Sequence[Row], shop: Shop) -> list[Count]:
    """The rows as the book counts, which tells lots apart by name and size.

    Lots that look like a counted one and have no row stand as they are, or as far as a row for the rest has found any.
    """
    spoken = {row.lot.id for row in rows if row.lot}
    rest = {fold(row.part.name): row.said.counted for row in rows if row.lot is None}
    counts = []
    for row in rows:
        key = fold(row.part.name)
        for lot in [] if row.lot is None else _alike(shop.book.lots_of(row.part.name), row.lot):
            if lot.id == row.lot.id:  # type: ignore[union-attr]  # there is one, else nothing is alike
                counts.append(_of_lot(row, row.said.counted, lot))
            elif lot.id not in spoken:
                spoken.add(lot.id)
                there = lot.quantity
                if key in rest:
                    there = min(there, rest[key])
                    rest[key] -= there
                counts.append(_of_lot(row, there, lot))
    return counts + [
        Count(row.part.name, rest[fold(row.part.name)], place=row.said.where)
        for row in rows
        if row.lot is None
    ]


def _alike(lots: Sequence[Lot], one: Lot) -> list[Lot]:
    look = (fold(one.name), one.smallest_diameter, one.length)
    return [lot for lot in lots if (fold(lot.name), lot.smallest_diameter, lot.length) == look]


def _of_lot(row: Row, quantity: int, lot: Lot) -> Count:
    return Count(
        row.part.name,
        quantity,
        lot=lot.name,
        smallest_diameter=lot.smallest_diameter,
        length=lot.length,
        place=row.said.where,
    )
