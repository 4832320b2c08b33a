"""From the rows of one tab to the cells its columns mean."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

from inventory.errors import BadMeasure, Place
from inventory.sheets.files import RowValues, Source, SourceError
from inventory.sheets.stock.cells import LONGEST_TEXT, USUAL, canonical, own_word, reader, text_of
from inventory.sheets.stock.columns import StockColumn, Tab, only_helps
from inventory.sheets.stock.headings import match
from inventory.sheets.stock.load_context import LoadContext
from inventory.sheets.stock.rows import StockRow, sentence
from inventory.sheets.stock.unread import Unread

_MOST_SEEN = 50_000
_TICK = 500
MOST_PROBLEMS = 10_000
"""Bad cells that are told; a sheet with more has something wrong as a whole, and millions would fill the memory."""

Cell = tuple[Any, str, str]
"""A value, what it says in canonical form, and what is wrong with it."""


@dataclass(slots=True)
class _Lane:
    """One column of a file: where it stands in the tab and in the file, and what its cells were found to say so far."""

    column: StockColumn
    place: int
    position: int
    read: Callable[[object], Any]
    seen: dict[object, Cell] = field(default_factory=dict)

    def first(self, raw: object, key: object) -> Cell:
        """Read a cell not seen before, and remember it."""
        try:
            said, mark = own_word(raw, self.column)
            value = self.read(said)
            cell: Cell = (value, canonical(value) + mark, "")
        except BadMeasure as error:
            cell = (None, "", sentence(error))
        if len(self.seen) >= _MOST_SEEN:
            self.seen.clear()
        if not isinstance(raw, str) or len(raw) <= LONGEST_TEXT:
            self.seen[key] = cell
        return cell


def read_table(
    context: LoadContext,
    source: Source,
    tab: Tab,
    build: Callable[[StockRow], None],
    tick: Callable[[int], None],
) -> int:
    """Build every filled row of a source, and return their number; problems and notes go to `context`.

    tick: called now and then with the rows passed since the last time.
    """
    filled, lanes, unread = 0, None, Unread()
    context.tabs += 1
    try:
        for number, raw in enumerate(source.rows(), start=1):
            if number % _TICK == 0:
                tick(_TICK)
            if not raw:
                continue
            if len(context.problems) >= MOST_PROBLEMS:
                raise _too_many(source, tab, number)
            if lanes is None:
                tab = context.as_written(source.file, tab, raw)
                lanes = _heading(context, source, tab, number, raw)
                unread.begin(number, raw, _read(lanes or ()))
                if lanes is not None and not lanes:
                    context.torn = True
                    return 0
                continue
            if only_helps(raw):
                continue
            unread.look(number, raw)
            filled += _row(context, source, tab, lanes, number, raw, build)
        context.problems += unread.merged(source, tab, _read(lanes or ()))
    except SourceError as error:
        context.torn = True
        context.problems.append(error.place or Place(source.file, tab.name, problem=error.problem))
    context.unused += unread.cells(source, tab)
    empty = f"{source.file}, {tab.name}: the tab is empty."
    context.notes += unread.notes(source, tab) if lanes else (empty,)
    return filled


def _too_many(source: Source, tab: Tab, number: int) -> SourceError:
    problem = (
        f"With {MOST_PROBLEMS:,} things that cannot be taken, reading ended. Correct what all have in common."
    )
    return SourceError(problem, Place(source.file, tab.name, number, problem=problem))


def _heading(
    context: LoadContext, source: Source, tab: Tab, number: int, raw: RowValues
) -> list[_Lane] | None:
    """The lanes of a heading row; None for a blank row, no lanes where the headings are of no use."""
    if not any(text_of(cell) for cell in raw):
        return None
    found = match(tab, raw)
    context.notes += [f"{source.file}, {tab.name}: {note}" for note in found.notes]
    for said, problem in found.problems:
        context.problems.append(Place(source.file, tab.name, number, said, "", problem))
    if found.problems:
        return []
    return [
        _Lane(column, place, found.positions[place], reader(column))
        for place, column in enumerate(tab.columns)
        if place in found.positions
    ]


def _row(
    context: LoadContext,
    source: Source,
    tab: Tab,
    lanes: Sequence[_Lane],
    number: int,
    raw: RowValues,
    build: Callable[[StockRow], None],
) -> bool:
    values: list[Any] = [None] * len(tab.columns)
    says = [""] * len(values)
    troubles: list[tuple[_Lane, object, str]] = []
    usual: list[str] = []
    width = len(raw)
    for lane in lanes:
        cell = raw[lane.position] if lane.position < width else None
        if cell is None:
            continue
        # True and 1 are one key to a dict, but not one thing in a cell
        key = cell if cell.__class__ is not bool else str(cell)
        place = lane.place
        values[place], says[place], problem = lane.seen.get(key) or lane.first(cell, key)
        if problem:
            troubles.append((lane, cell, problem))
        elif says[place].endswith(USUAL):
            usual.append(lane.column.key)
    if not troubles and not any(says):
        return False
    row = StockRow(context, source.file, tab, number, values, usual=usual)
    for lane, cell, problem in troubles:
        row.refuse(lane.column.heading, problem, cell)
    if None in values and not tab.complete(values):
        _required(row, {lane.column.heading for lane, _, _ in troubles})
    said = [f"{name}\x1e{says[place]}" for name, place in tab.named if says[place]]
    context.digests.append("\x1f".join((tab.name, *said)))
    build(row)
    return True


def _required(row: StockRow, refused: set[str]) -> None:
    for column, value in zip(row.tab.columns, row.values, strict=True):
        if value is None and column.required and column.heading not in refused:
            hint = (
                " For a barrel without a tube write “none” and give its length."
                if _is_tube(row, column)
                else ""
            )
            row.refuse(column.heading, f"The cell is empty. Write {column.accepted}.{hint}", "")


def _is_tube(row: StockRow, column: StockColumn) -> bool:
    return row.tab.name == "barrels" and column.heading == "tube"


def _read(lanes: Sequence[_Lane]) -> dict[int, str]:
    """The headings of the columns that are read, by where they stand."""
    return {lane.position: lane.column.heading for lane in lanes}
