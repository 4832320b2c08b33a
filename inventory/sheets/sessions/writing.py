"""The sheet of a making session: what to lay out, pieces to report, bottles to weigh, parts to count."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from inventory.catalogue import Blank, Catalogue
from inventory.measures.look import RUN_OUT
from inventory.reports.filled import REASONS
from inventory.reports.session_sheet import SessionSheet
from inventory.sheets.drawing import draw_lists
from inventory.sheets.forms.pages import Item, Spot, draw_page
from inventory.sheets.forms.tables import offer, weights
from inventory.sheets.paper import AUTHOR
from inventory.sheets.saving import is_workbook, save_workbook, saving
from inventory.sheets.sessions.pages import MAKE, PAGE_MM, WEIGH, make_page, one_page, weigh_page
from inventory.sheets.sessions.tabs import (
    AFTER,
    BEFORE,
    FULL,
    IN_PART,
    KITS,
    LOST_STAGES,
    REASON,
    TUBES,
    lost_at,
    session_forms,
)
from inventory.sheets.stock.template import LISTS
from inventory.sheets.values import show_day
from inventory.sheets.writing import write_csv_folder

if TYPE_CHECKING:
    from openpyxl.workbook import Workbook
    from openpyxl.worksheet.worksheet import Worksheet


_NUMBERS = (
    "good",
    *(lost_at(stage) for stage in LOST_STAGES),
    TUBES,
    KITS,
    IN_PART,
    "cut",
    FULL,
    BEFORE,
    AFTER,
    "used",
    "counted",
)
_CHOICES = {"patterns": ("pattern",), "platings": ("plating",), "blanks": ("blank", "part")}
"""Fields whose empty rows offer names."""


@dataclass(frozen=True, slots=True)
class Choices:
    """Names offered by drop-down lists in the empty rows."""

    patterns: tuple[str, ...] = ()
    platings: tuple[str, ...] = ()
    blanks: tuple[str, ...] = ()


def choices_of(known: Catalogue) -> Choices:
    """Every name the catalogue has to choose from, in order."""
    parts = sorted(known.parts.values(), key=lambda part: part.name.casefold())
    return Choices(
        tuple(sorted(one.name for one in known.patterns.values())),
        tuple(sorted(one.name for one in known.platings.values())),
        tuple(part.name for part in parts if isinstance(part.detail, Blank)),
    )


def write_session(
    path: Path, sheet: SessionSheet, choices: Choices | None = None, *, overwrite: bool = False
) -> list[Path]:
    """Write a session sheet that `read_session` reads back when it is filled; the files written.

    A name ending in .xlsx becomes a workbook, any other a folder of CSV files with the same headings. Raises Refused
    where something is there already (unless `overwrite`), cannot be written or has the name of another kind of file.
    """
    if not is_workbook(path):
        forms = session_forms(sheet)
        return write_csv_folder(path, {form.name: form.plain() for form in forms}, overwrite=overwrite)
    from openpyxl import Workbook

    with saving(path, overwrite=overwrite) as unfinished:
        workbook = Workbook()
        workbook.remove(workbook.worksheets[0])
        spots = [
            spot
            for name, items in ((MAKE, make_page(sheet)), (WEIGH, weigh_page(sheet)))
            for spot in _page(workbook.create_sheet(name), items)
        ]
        ranges = _lists(workbook, choices or Choices())
        for spot in spots:
            _guide(spot, ranges, sheet)
        workbook.properties.creator, workbook.properties.title = AUTHOR, f"Session of {show_day(sheet.on)}"
        save_workbook(workbook, unfinished)
    return [path]


def _page(sheet: Worksheet, items: Sequence[Item]) -> list[Spot]:
    return draw_page(sheet, items, PAGE_MM, landscape=True, one_page=one_page(items))


def _guide(spot: Spot, ranges: Mapping[str, str], session: SessionSheet) -> None:
    """Numbers are not negative, though words may stand beside them; names to choose from in rows that are added."""
    weights(spot.sheet, [cells for key in _NUMBERS if (cells := spot.cells(key))], "A number, 0 or more.")
    for title, keys in _CHOICES.items():
        for key in keys if title in ranges else ():
            if cells := spot.cells(key, spare=True):
                offer(spot.sheet, cells, ranges[title])
    if cells := spot.cells(REASON):
        offer(spot.sheet, cells, f'"{",".join(REASONS)}"')
    if "good" in spot.letters and session.pieces:
        _amber_where_sums_differ(spot, len(session.pieces))


def _amber_where_sums_differ(spot: Spot, rows: int) -> None:
    """Good and spoiled together are the pieces started; where they are not, the cell says so while being filled."""
    from openpyxl.formatting.rule import FormulaRule
    from openpyxl.styles import PatternFill

    first, end, number = spot.letters["good"], spot.letters[lost_at(LOST_STAGES[-1])], spot.first
    row = f"${first}{number}:${end}{number}"
    formula = f"AND(COUNT({row})>0,SUM({row})<>${spot.letters['starts']}{number})"
    fill = PatternFill("solid", bgColor=RUN_OUT)
    rule: Any = FormulaRule
    spot.sheet.conditional_formatting.add(
        f"{first}{number}:{first}{number + rows - 1}", rule([formula], fill=fill)
    )


def _lists(workbook: Workbook, choices: Choices) -> dict[str, str]:
    """A hidden tab of names for drop-down lists; where those of each kind stand."""
    listed = {"patterns": choices.patterns, "platings": choices.platings, "blanks": choices.blanks}
    if not any(listed.values()):
        return {}
    lists = workbook.create_sheet(LISTS)
    lists.sheet_state = "hidden"
    return draw_lists(lists, listed)
