"""The empty workbook to fill in: every tab, headings that explain themselves, lists to choose from."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from inventory.catalogue import ROLES, Catalogue, Part
from inventory.catalogue.checks.trouble import names_of
from inventory.sheets.drawing import SheetColumn, draw_headings, draw_lists
from inventory.sheets.paper import AUTHOR
from inventory.sheets.saving import check_workbook, save_workbook, saving
from inventory.sheets.stock.columns import Notation, StockColumn, Tab
from inventory.sheets.stock.tabs import TABS
from inventory.sheets.writing import DATE_FORMAT, print_ready

if TYPE_CHECKING:
    from openpyxl.workbook import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

LISTS = "lists"
"""The tab that holds the known names; reading leaves it alone."""
PREPARED_ROWS = 2000
_ASKED = {column.names for tab in TABS.values() for column in tab.columns}
"""Lists some column wants."""

# Text cells keep 27/64 and 1/2 from becoming days in the spreadsheet's calendar.
_FORMATS: Mapping[Notation, str] = {
    "date": DATE_FORMAT,
    "whole": "General",
    "money": "General",
    "unit price": "General",
}
_WIDTHS: Mapping[Notation, int] = {
    "name": 30, "names": 30, "text": 24, "choice": 16, "date": 13, "amount": 13, "codes": 22,
}  # fmt: skip


def write_template(path: Path, known: Catalogue, *, overwrite: bool = False) -> None:
    """An empty workbook with every tab; its drop-down lists offer the known names. Raises Refused."""
    from openpyxl import Workbook

    check_workbook(path)
    with saving(path, overwrite=overwrite) as unfinished:
        workbook = Workbook()
        workbook.remove(workbook.worksheets[0])
        sheets = [workbook.create_sheet(tab) for tab in TABS]
        ranges = _write_lists(workbook, _listed(known))
        for sheet, tab in zip(sheets, TABS.values(), strict=True):
            _write_tab(sheet, tab, ranges)
        workbook.properties.creator, workbook.properties.title = AUTHOR, "Start"
        save_workbook(workbook, unfinished)


def explain(column: StockColumn) -> str:
    """What a heading's note says: its meaning, what is accepted, an example."""
    needed = "Has to be filled." if column.required else "May stay empty."
    return f"{column.means}\nAccepted: {column.accepted}.\nExample: {column.example}\n{needed}"


def _write_tab(sheet: Worksheet, tab: Tab, ranges: Mapping[str, str]) -> None:
    from openpyxl.utils import get_column_letter

    draw_headings(sheet, [_drawn(column) for column in tab.columns], note=(320, 150))
    for number, column in enumerate(tab.columns, start=1):
        letter = get_column_letter(number)
        sheet.column_dimensions[letter].number_format = _FORMATS.get(column.notation, "@")
        _add_choices(sheet, letter, column, ranges)
    print_ready(sheet)


def _drawn(column: StockColumn) -> SheetColumn:
    width = max(_WIDTHS.get(column.notation, 12), len(column.heading) + 2)
    return SheetColumn(column.heading, width, explain(column), quiet=not column.required)


def _add_choices(sheet: Worksheet, letter: str, column: StockColumn, ranges: Mapping[str, str]) -> None:
    from openpyxl.worksheet.datavalidation import DataValidation

    formula = f'"{",".join(column.choices)}"' if column.choices else ranges.get(column.names, "")
    if not formula:
        return
    strict = bool(column.choices) and not column.own_words
    rule = DataValidation("list", formula, allow_blank=True, showErrorMessage=strict)
    if strict:
        rule.errorTitle, rule.error = column.heading, f"Accepted: {column.accepted}."
    rule.add(f"{letter}2:{letter}{PREPARED_ROWS}")
    sheet.add_data_validation(rule)


def _listed(known: Catalogue) -> dict[str, list[str]]:
    parts = sorted(known.parts.values(), key=lambda part: part.name.casefold())
    of_kind = {
        tab.name: [part.name for part in parts if isinstance(part.detail, tab.makes)]
        for tab in TABS.values()
        if Part in tab.makes and tab.name in _ASKED
    }
    patterns = sorted(names_of(known.patterns))
    names = [part.name for part in parts]
    return {
        "suppliers": sorted(names_of(known.suppliers)),
        "materials": sorted(names_of(known.materials)),
        "platings": sorted(names_of(known.platings)),
        "families": sorted(names_of(known.families)),
        "patterns": patterns,
        **of_kind,
        "parts": names,
        "bill parts": [*ROLES, *patterns, *names],
    }


def _write_lists(workbook: Workbook, listed: Mapping[str, list[str]]) -> dict[str, str]:
    """The tab of lists, and the range a drop-down takes; a list with nothing known looks into its own tab."""
    sheet = workbook.create_sheet(LISTS)
    own = {title: f"{title}!$A$2:$A${PREPARED_ROWS}" for title in listed if title in TABS}
    ranges = own | draw_lists(sheet, listed, 30)
    print_ready(sheet)
    return ranges
