"""Of which lots the rows of a count speak.

A row that gives a lot's number speaks of that one. Rows of a part that name a lot (or give a measured blank's size)
speak, together, of the lots of that name (and size) alone. Rows without a name speak, together, of everything else
there is of the part. Of the lots of one name, a row with the day it was opened speaks of those opened that day; where
the book knows of none, what the others lack was opened. A name the book does not know is that of the lot opened on
the same day, if nobody speaks of that one by its name.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from inventory.catalogue import fold
from inventory.ledger.book import Lot
from inventory.ledger.counting.counts import Count


@dataclass(slots=True)
class Target:
    """What is there of some lots: the rows that say so, and the lots the book has for them.

    anew: they are written down anew, for the rows describe them otherwise than the book does. like: all lots of that
    name: what is found costs as much as they do. group: the same for rows that speak of the same lots together.
    """

    rows: list[Count]
    lots: list[Lot]
    anew: bool = False
    like: Sequence[Lot] = ()
    group: int = 0

    @property
    def quantity(self) -> int:
        """Thousandths found."""
        return sum(row.quantity for row in self.rows)

    @property
    def booked(self) -> int:
        """Thousandths the book has, as far as they stay in their lots."""
        return 0 if self.anew else sum(lot.quantity for lot in self.lots)

    @property
    def missing(self) -> int:
        """What leaves its lots."""
        return sum(lot.quantity for lot in self.lots) if self.anew else max(self.booked - self.quantity, 0)

    @property
    def sized(self) -> bool:
        """Whether it speaks of one-offs, each with its own size and cost."""
        return self.rows[-1].smallest_diameter is not None or any(lot.measured for lot in self.lots)

    def wanted(self) -> list[tuple[Count, int]]:
        """What has to come to it: as the last row says where there are lots, else row by row."""
        more = max(self.quantity - self.booked, 0)
        if len(self.lots) == 1 and self.lots[0].opened_on and not self.anew:
            lot, row = self.lots[0], self.rows[-1]  # what is found of an open one is in it
            told = self.described(row, lot)
            return [(replace(told, opened_on=row.opened_on or lot.opened_on), more)]
        if self.lots:
            return [(self.rows[-1], more)]
        return [(row, row.quantity) for row in self.rows]

    def described(self, row: Count, lot: Lot) -> Count:
        """The row as it says what came to it from a lot: what it leaves open is as it was there."""
        kept = self.anew or not self.lots
        return replace(
            row,
            received_on=row.received_on or lot.received_on,
            opened_on=row.opened_on or (lot.opened_on if kept else None),
            use_by=row.use_by or lot.use_by,
        )


def targets_of(rows: Sequence[Count], lots: Sequence[Lot]) -> list[Target]:
    """All rows of one part with the lots they speak of; each lot in one target at most."""
    spoken: set[int] = set()
    named = {fold(row.lot) for row in rows}
    done: list[Target] = []
    for group, same in enumerate(alike(rows, lots)):
        there = [lot for lot in lots if lot.id not in spoken]
        meant = _lots_meant(same[-1], there)
        renamed = [] if meant else _opened_alike(same, there, named)
        found = [Target(same, renamed, True, renamed)] if renamed else _by_day(same, meant)
        spoken.update(lot.id for target in found for lot in target.lots)
        done += [replace(target, group=group) for target in found]
    return done


def alike(rows: Sequence[Count], lots: Sequence[Lot]) -> list[list[Count]]:
    """Rows that speak of the same lots, together.

    Those of a numbered lot first, then of a size there is; those without a name last.
    """
    groups: dict[tuple[object, ...], list[Count]] = {}
    for row in rows:
        key = (row.number,) if row.number else (0, fold(row.lot), row.smallest_diameter, row.length)
        groups.setdefault(key, []).append(row)
    sizes = {(0, fold(lot.name), lot.smallest_diameter, lot.length) for lot in lots if lot.measured}
    nameless = (0, "", None, None)
    order = sorted(groups, key=lambda key: (key == nameless, key[0] == 0, key not in sizes))
    return [groups[key] for key in order]


def containers(row: Count) -> list[Count]:
    """An opened lot of more than one container holds as many full ones; they stay sealed."""
    if row.opened_on is None or not row.container:
        return [row]
    full = max(-(-row.quantity // row.container) - 1, 0) * row.container
    sealed = replace(row, quantity=full, opened_on=None)
    return [replace(row, quantity=row.quantity - full), *([sealed] if full else [])]


def _lots_meant(row: Count, lots: Sequence[Lot]) -> list[Lot]:
    """Of the lots nobody has spoken of yet: those of its name and size, else of its name (a size written anew)."""
    if row.number:
        return [lot for lot in lots if lot.id == row.number]
    named = [lot for lot in lots if not row.lot or fold(row.lot) == fold(lot.name)]
    if row.smallest_diameter is None:
        return named
    size = (row.smallest_diameter, row.length)
    sized = [lot for lot in named if (lot.smallest_diameter, lot.length) == size]
    return sized or (named if row.lot else [])


def _opened_alike(rows: Sequence[Count], lots: Iterable[Lot], named: set[str]) -> list[Lot]:
    """Lots opened on the rows' day that nobody speaks of by name."""
    days = {row.opened_on for row in rows if row.opened_on}
    return [lot for lot in lots if lot.opened_on in days and not {fold(lot.name), ""} & named]


def _by_day(rows: list[Count], lots: list[Lot]) -> list[Target]:
    """The rows and their lots by the day they were opened; the rest of both belongs together."""
    one = rows[-1]
    if not lots or one.smallest_diameter is not None or not any(row.opened_on for row in rows):
        return [Target(rows, lots, _kept_otherwise(rows, lots), lots)]
    split = [part for row in rows for part in containers(row)]
    days = dict.fromkeys(row.opened_on for row in split if row.opened_on)
    done = [
        Target([row for row in split if row.opened_on == day], [lot for lot in lots if lot.opened_on == day])
        for day in days
    ]
    rest = [row for row in split if not row.opened_on]
    others = [lot for lot in lots if lot.opened_on not in days]
    if rest or others:
        done.append(Target(rest or [replace(one, quantity=0, opened_on=None)], others))
    for target in done:
        target.anew, target.like = _kept_otherwise(target.rows, target.lots), lots
    return done


def _kept_otherwise(rows: Sequence[Count], lots: Sequence[Lot]) -> bool:
    """Whether the one row says another use-by than its one lot has."""
    if len(rows) != 1 or len(lots) != 1 or lots[0].claimed:
        return False
    return rows[0].use_by is not None and rows[0].use_by != lots[0].use_by
