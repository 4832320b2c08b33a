"""Rows of counted parts, as they stand on a session sheet and on a count sheet."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.catalogue import Catalogue, Part
from inventory.jobs.session_sheet import FilledCount
from inventory.sheets.filled import FilledRow
from inventory.sheets.filling import amount_of, filled_in, number_of

_FILLED = ("counted", "second count")


def part_of(row: FilledRow, known: Catalogue, filled: Sequence[str]) -> Part | None:
    """The part a row is about; None where nothing is filled in, or after refusing a name nobody knows."""
    if not filled_in(row, filled):
        return None
    if not row.said("part"):
        row.refuse("part", "Name the part this is said of.")
    return row.read("part", known.part, None)


def counts_of(rows: Sequence[FilledRow], known: Catalogue) -> list[FilledCount]:
    """What was counted, in every row where something was."""
    found = (_count(row, known) for row in rows)
    return [one for one in found if one is not None]


def _count(row: FilledRow, known: Catalogue) -> FilledCount | None:
    part = part_of(row, known, _FILLED)
    lot = row.read("lot", number_of("lot of the book"), 0)
    if part is None:
        return None
    read = amount_of(part)
    counted, second = row.read("counted", read, None), row.read("second count", read, None)
    if not row.said("counted"):
        row.refuse("counted", "Only the second count is filled in. Write it here, where it is the only one.")
    if row.said("bottle") and not row.said("lot"):
        row.refuse(
            "bottle", "Which bottle that is stands in prepared rows only. Count all of the part, without it."
        )
    return None if counted is None else FilledCount(row.place("counted"), part.name, counted, second, lot)
