"""Workbooks: opened without trust, read once, row by row."""

from __future__ import annotations

import zipfile
from collections.abc import Iterable, Iterator
from contextlib import ExitStack
from itertools import zip_longest
from pathlib import Path
from typing import TYPE_CHECKING, Any

from inventory.errors import Place
from inventory.sheets.archives import has_formulas, inspect
from inventory.sheets.cells import NO_VALUE
from inventory.sheets.sources import MOST_ROWS, RowValues, Source, SourceError

if TYPE_CHECKING:
    from openpyxl.workbook import Workbook

DAMAGED = "The workbook is damaged or cut off. Open it in the program that made it and save it anew."


def workbook_sources(path: Path, label: str, stack: ExitStack) -> list[Source]:
    """Every tab of a workbook; it stays open until `stack` closes. Raises SourceError."""
    archive = inspect(path)
    workbook = _load(path, stack, values=True)
    if not workbook.worksheets:
        raise SourceError(DAMAGED)
    return [_source(path, label, sheet, stack, archive.formulas) for sheet in workbook.worksheets]


def _source(path: Path, label: str, sheet: Any, stack: ExitStack, formulas: frozenset[str]) -> Source:
    tab = sheet.title
    size = min(sheet.max_row or 0, MOST_ROWS)
    sheet.reset_dimensions()  # what a file says of its own size is only believed for showing progress

    def rows() -> Iterator[RowValues]:
        if has_formulas(sheet, formulas):
            return _guarded(_with_formulas(path, sheet, stack), label, tab)
        return _guarded(sheet.iter_rows(values_only=True), label, tab)

    return Source(label, tab, rows, size, hidden=sheet.sheet_state != "visible")


def _load(path: Path, stack: ExitStack, *, values: bool) -> Workbook:
    from openpyxl import load_workbook

    try:
        workbook = load_workbook(path, read_only=True, data_only=values, keep_links=False)
    except Exception as error:  # a foreign file can make the library fail in any way
        raise SourceError(_why(error)) from error
    stack.callback(workbook.close)
    return workbook


def _guarded(rows: Iterable[RowValues], label: str, tab: str) -> Iterator[RowValues]:
    """The rows, with every failure of the file turned into a sentence that says where."""
    iterator = iter(rows)
    number = 0
    while True:
        try:
            row = next(iterator)
        except StopIteration:
            return
        except Exception as error:  # a foreign file can make the library fail in any way
            place = Place(label, tab, number + 1, problem=_why(error))
            raise SourceError(place.problem, place) from error
        number += 1
        yield row


def _with_formulas(path: Path, sheet: Any, stack: ExitStack) -> Iterator[RowValues]:
    """The rows with NO_VALUE where a formula was never worked out; read beside a view that shows the formulas.

    A formula whose result is empty text is stored with the type “str” and is simply blank.
    """
    twin: Any = _load(path, stack, values=False)[sheet.title]
    twin.reset_dimensions()
    for cells, written in zip_longest(sheet.iter_rows(), twin.iter_rows(values_only=True), fillvalue=()):
        row = [cell.value for cell in cells]
        for place, formula in enumerate(written):
            if formula is not None and row[place] is None and cells[place].data_type != "str":
                row[place] = NO_VALUE
        yield row


def _why(error: BaseException) -> str:
    kind = type(error).__name__
    if error.__cause__ is not None:  # the library wraps what its parts raise
        return _why(error.__cause__)
    if "Forbidden" in kind:  # defusedxml: entities, external references, document type declarations
        return "The workbook holds XML entities, which no honest workbook needs. It was not read."
    if isinstance(error, zipfile.BadZipFile) or kind in {"ParseError", "EOFError", "error"}:
        return DAMAGED
    return f"{DAMAGED} ({kind}: {str(error).splitlines()[0] if str(error) else 'no more is known'})"
