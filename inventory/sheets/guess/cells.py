"""The cells of a stranger's sheet, in their places: the seam between the readers of files and the guesses."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path

from inventory.errors import BadSheet, Place
from inventory.sheets.files import NO_VALUE, Merge, Source, SourceError, letters
from inventory.sheets.sources import open_sources
from inventory.sheets.stock.cells import text_of
from inventory.sheets.stock.tabs import headings_of

MOST_CELLS = 400_000
"""Filled cells of one sheet of stock; a sheet with more is no maker's list."""
MOST_COLUMNS = 300


@dataclass(frozen=True, slots=True)
class Cell:
    """One filled cell. row: from 1; column: from 0; raw: what the file holds; text: the same as text."""

    tab: str
    row: int
    column: int
    raw: object
    text: str

    @property
    def ref(self) -> str:
        """Its place as people write it: Stock!B7."""
        return f"{self.tab}!{letters(self.column)}{self.row}"

    @property
    def unworked(self) -> bool:
        """Whether it holds a formula without its result."""
        return self.raw is NO_VALUE


@dataclass(slots=True)
class Grid:
    """One tab: its rows of cells by column. spread: places filled from a merged cell, and the rows it goes over."""

    file: str
    tab: str
    rows: dict[int, dict[int, Cell]] = field(default_factory=dict)
    spread: dict[tuple[int, int], Cell] = field(default_factory=dict)
    wide: dict[tuple[int, int], int] = field(default_factory=dict)
    merges: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def cell(self, row: int, column: int) -> Cell | None:
        """What stands there, or what a merged cell over it says."""
        return self.rows.get(row, {}).get(column) or self.spread.get((row, column))

    def filled(self) -> Iterator[Cell]:
        """Every filled cell, row by row."""
        for row in sorted(self.rows):
            yield from self.rows[row].values()


def read_grids(paths: Sequence[Path], progress: Callable[[int, int], None] | None = None) -> list[Grid]:
    """Every tab of these files that holds anything. Raises BadSheet, with a sentence for each file that is no sheet."""
    refused: list[Place] = []
    notes: list[str] = []
    with ExitStack() as stack:
        sources = open_sources(paths, stack, refused.append, notes.append, headings_of)
        grids = _grids(sources, refused, progress)
    if refused:
        raise BadSheet("It cannot be read, so nothing was begun.", hint=_HINT, where=refused)
    if not any(grid.rows for grid in grids):
        raise BadSheet("There is no filled cell in it, so nothing was begun.", hint=_HINT)
    grids[0].notes += notes
    return [grid for grid in grids if grid.rows]


_HINT = "Give an .xlsx workbook or a .csv file that a spreadsheet program opens."


def _grids(
    sources: Sequence[Source], refused: list[Place], progress: Callable[[int, int], None] | None
) -> list[Grid]:
    grids: list[Grid] = []
    names: dict[str, int] = {}
    expected, done = sum(source.size for source in sources), 0
    for source in sources:
        tab = source.tab.strip() or "sheet"
        names[tab] = names.get(tab, 0) + 1
        grid = Grid(source.file, tab if names[tab] == 1 else f"{tab} {names[tab]}", notes=list(source.notes))
        try:
            for number, row in enumerate(source.rows(), start=1):
                _take(grid, number, row)
                if progress and number % 500 == 0:
                    progress(done + number, expected)
        except SourceError as error:
            refused.append(error.place or Place(source.file, source.tab, problem=error.problem))
        done += source.size
        _merge(grid, source)
        grids.append(grid)
    if sum(len(row) for grid in grids for row in grid.rows.values()) > MOST_CELLS:
        refused.append(Place(sources[0].file, problem=f"It has more than {MOST_CELLS:,} filled cells."))
    return grids


def _take(grid: Grid, number: int, row: Sequence[object]) -> None:
    filled = {}
    for column, raw in enumerate(row):
        text = text_of(raw) if raw is not None and raw != "" else ""
        if text:
            shown = "".join(sign if sign.isprintable() else " " for sign in text)
            if column < MOST_COLUMNS:
                filled[column] = Cell(grid.tab, number, column, raw, shown[:2000])
            else:
                _beyond(grid, number)
                break
    if filled:
        grid.rows[number] = filled


def _beyond(grid: Grid, number: int) -> None:
    if not any("beyond column" in note for note in grid.notes):
        place = f"{grid.file}, {grid.tab}, row {number}"
        grid.notes.append(f"{place}: cells beyond column {letters(MOST_COLUMNS - 1)} were left alone.")


def _merge(grid: Grid, source: Source) -> None:
    for merge in source.aside.merged:
        merge_in(grid, merge)


def merge_in(grid: Grid, merge: Merge) -> None:
    """What a merged cell says holds for all the rows it goes over."""
    (top, bottom), (left, right) = merge.rows, merge.columns
    cell = grid.rows.get(top, {}).get(left)
    if cell is None:
        return
    grid.merges.append(merge.name)
    if right > left:
        grid.wide[(top, left)] = right - left + 1
    for row in range(top + 1, min(bottom, max(grid.rows)) + 1):
        grid.spread[(row, left)] = cell
