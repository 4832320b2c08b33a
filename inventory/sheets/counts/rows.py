"""Rows of counted parts, as they stand on a session sheet and on a count sheet."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.catalogue import Catalogue, Part
from inventory.ledger.bottles.containers import net_of
from inventory.ledger.bottles.scales import Impossible, scale_of
from inventory.reports.filled import FilledCount
from inventory.sheets.forms import blanks
from inventory.sheets.forms.blanks import FULL_ONES, WEIGHED
from inventory.sheets.forms.by_hand import take
from inventory.sheets.forms.cells import amount_of, filled_in, number_of, pieces, weight
from inventory.sheets.forms.returned_tab import ReturnedRow
from inventory.sheets.sessions.tabs import FULL, OPEN, REASON

_FILLED = ("counted", "second count", FULL, OPEN)


def part_of(row: ReturnedRow, known: Catalogue, filled: Sequence[str]) -> Part | None:
    """The part a row is about; None where nothing is filled in, or after refusing a name nobody knows."""
    if not filled_in(row, filled):
        return None
    if not row.said("part"):
        row.refuse("part", "Name the part this is said of.")
    return row.read("part", known.part, None)


def counts_of(rows: Sequence[ReturnedRow], known: Catalogue, told: list[str]) -> list[FilledCount]:
    """What was counted, in every row where something was. told: gets what was understood, not read."""
    found = (_count(row, known, told) for row in rows)
    return [one for one in found if one is not None]


def _count(row: ReturnedRow, known: Catalogue, told: list[str]) -> FilledCount | None:
    part = part_of(row, known, _FILLED)
    lot = row.read("lot", number_of("lot of the book"), 0)
    if part is None:
        return None
    if row.said("bottle") and not row.said("lot"):
        row.refuse(
            "bottle", "Which bottle that is stands in prepared rows only. Count all of the part, without it."
        )
    read = amount_of(part)
    first = take(row, "counted", read, blanks.counted(row), told)
    again = take(row, "second count", read, blanks.counted(row, "second count"), told)
    counted, second = (None if one is None else one.value for one in (first, again))
    if filled_in(row, (FULL, OPEN)):
        return _containers(row, part, second, lot, told)
    if not row.said("counted"):
        row.refuse("counted", "Only the second count is filled in. Write it here, where it is the only one.")
    reason = row.text(REASON) or (first.words if first else "")
    place = row.place("counted")
    return None if counted is None else FilledCount(place, part.name, counted, second, lot, reason=reason)


def _containers(
    row: ReturnedRow, part: Part, second: int | None, lot: int, told: list[str]
) -> FilledCount | None:
    """Full ones and the open one on the scale, as one amount; what one of them leaves open is for the job to say."""
    before = len(row.problems)
    if row.said("counted"):
        row.refuse("counted", "Write the amount, or the full ones and the open one's weight; not both.")
    full_ones, open_one = take(row, FULL, pieces, FULL_ONES, told), take(row, OPEN, weight, WEIGHED, told)
    full = None if full_ones is None else full_ones.value
    weighed = None if open_one is None else open_one.value
    net, inside, error = net_of(part), None, 0
    if full is not None and net is None:
        row.refuse(
            FULL, f"What a full one of {part.name} holds is not known: give its net in the supplies tab."
        )
    if weighed is not None:
        try:
            scale = scale_of(part)
            inside, error = scale.inside(weighed[0], OPEN), scale.error(weighed[1])
        except Impossible as problem:
            row.refuse(OPEN, str(problem))
    if len(row.problems) > before:
        return None
    counted = (full or 0) * (net or 0) + (inside or 0)
    place = row.place(FULL if weighed is None else OPEN)
    return FilledCount(place, part.name, counted, second, lot, full, inside, error, row.text(REASON))
