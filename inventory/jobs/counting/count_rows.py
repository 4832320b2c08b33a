"""Rows of a filled count sheet: each with its part and lot and what the book expects of them, or refused."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import sqrt

from inventory.catalogue import Part, fold
from inventory.errors import BadSheet, Place, Refused
from inventory.jobs.sessions.reconciling.measured import Checked
from inventory.ledger import Count, Lot
from inventory.ledger.bottles.containers import called, full_and_open, net_of
from inventory.ledger.bottles.scales import TWELFTH
from inventory.ledger.shop import Shop
from inventory.measures import read_unit, show_amount
from inventory.reports.filled import FilledCount, FilledCounts


@dataclass(frozen=True, slots=True)
class CountedRow:
    """One counted row. lot: the very lot it speaks of, else all there is beside those; expected: thousandths."""

    part: Part
    lot: Lot | None
    said: FilledCount
    expected: int

    @property
    def checked(self) -> Checked:
        """As differences are worked out from; a bottle is read to one unit, twice (1/√12 · √2)."""
        measured = read_unit(self.part.unit).kind != "count"
        error = self.said.error or (round(1000 * TWELFTH * sqrt(2)) if measured else 0)
        return Checked(self.part.name, self.expected, self.said.counted, error, "counted")


def rows_of(shop: Shop, filled: FilledCounts, announced: list[str]) -> list[CountedRow]:
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
        meant = [one for one in lots if one.id not in named[fold(said.part)]] if lot is None else [lot]
        problem = _problem(part, lots, lot, said, seen) or _uncounted(part, meant, said)
        seen.add((fold(part.name), said.lot))
        if problem:
            bad.append(replace(said.where, said=show_amount(said.counted, part.unit), problem=problem))
        elif said.lot and lot is None:
            announced.append(f"{part.name}: lot {said.lot} is used up, and none of it was counted.")
        else:
            spoken = named[fold(said.part)] if lot is None else set()
            rest = sum(one.quantity for one in lots if one.id not in spoken)
            rows.append(CountedRow(part, lot, said, lot.quantity if lot else rest))
    if bad:
        raise BadSheet(
            f"{len(bad)} counts cannot be taken." if len(bad) > 1 else "One count cannot be taken.",
            hint="Nothing was booked. Correct these cells and give the sheet again.",
            where=tuple(bad),
        )
    return rows


def _problem(
    part: Part, lots: Sequence[Lot], lot: Lot | None, said: FilledCount, seen: set[tuple[str, int]]
) -> str:
    if (fold(part.name), said.lot) in seen:
        return f"{part.name} stands here twice. Add the counts up in one row."
    if not _agree(said):
        second = show_amount(said.second or 0, part.unit)
        return f"The second count, {second}, differs. Count a third time and write down what is right."
    if said.lot and lot is None and said.counted:
        there = ", ".join(called(one) for one in lots)
        return f"The book has no lot {said.lot} of {part.name} any more: it has {there or 'none'}."
    return ""


def _uncounted(part: Part, lots: Sequence[Lot], said: FilledCount) -> str:
    """What is missing where full ones and the open one were counted apart. lots: those the row speaks of."""
    net = net_of(part) or 0
    shelf = [full_and_open(part, lot) for lot in lots]
    if (
        said.full is None
        and said.inside is not None
        and sum(full + bool(inside) for full, inside in shelf) > 1
    ):
        return "How many full ones are there beside the open one? Write it, 0 where there are none."
    if said.full is not None and said.inside is None and net and any(inside for _, inside in shelf):
        return "By the book one is open: weigh it too; where it is used up write the weight of an empty one."
    return ""


def _agree(said: FilledCount) -> bool:
    """Whether the second count confirms the first: exactly, or as far as the scale can tell."""
    off = abs((said.counted if said.second is None else said.second) - said.counted)
    return off <= (max(2 * said.error, 1000) if said.inside is not None else 0)


def counts_of(rows: Sequence[CountedRow], shop: Shop) -> list[Count]:
    """The rows as the book counts. Lots that have no row stand as they are, unless a row speaks of all the rest."""
    return [count for row in rows for count in _counts(row, shop)]


def _counts(row: CountedRow, shop: Shop) -> list[Count]:
    lot, said = row.lot, row.said
    if lot is None:
        return [Count(row.part.name, said.counted, place=said.where)]
    one = Count(
        row.part.name,
        said.counted,
        lot=lot.name,
        smallest_diameter=lot.smallest_diameter,
        length=lot.length,
        container=net_of(row.part),
        number=lot.id,
        place=said.where,
    )
    if not said.inside or lot.opened_on:
        return [one]
    opened = replace(one, quantity=said.inside, opened_on=shop.today)  # at the latest
    sealed = said.counted - said.inside
    return [opened, *([replace(one, quantity=sealed)] if sealed else [])]
