"""The workbook to begin with: where to start, every tab with its help and an example, lists to choose from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil
from pathlib import Path
from typing import TYPE_CHECKING

from inventory.catalogue import ROLES, Catalogue, Part
from inventory.catalogue.checks.trouble import names_of
from inventory.sheets.drawing import SheetColumn, align, draw_headings, draw_lists
from inventory.sheets.paper import (
    AUTHOR,
    DIGIT_MM,
    PLAIN,
    SMALL,
    column_width,
    height_of,
    lines_of,
    room,
    set_paper,
)
from inventory.sheets.saving import check_workbook, save_workbook, saving
from inventory.sheets.stock.columns import EXAMPLE, HELP, Notation, StockColumn, Tab
from inventory.sheets.stock.tabs import TABS
from inventory.sheets.writing import DATE_FORMAT, link, page_foot, plain_font, print_ready, put, safe_text

if TYPE_CHECKING:
    from openpyxl.workbook import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

LISTS = "lists"
"""The tab that holds the known names; reading leaves it alone."""
START = "start"
FIRST = ("kits", "tubes", "blanks", "supplies", "counts")
"""The tabs that suffice: usual values stand in for the others."""
FILLED_FROM, PREPARED_ROWS = 4, 2000
"""Rows to fill: below the headings stand their help and an example."""
START_MM = 150.0
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
    """A workbook to fill with every tab; its drop-down lists offer the known names. Raises Refused."""
    from openpyxl import Workbook

    check_workbook(path)
    with saving(path, overwrite=overwrite) as unfinished:
        workbook = Workbook()
        workbook.worksheets[0].title = START
        tabs = [*(TABS[name] for name in FIRST), *(tab for tab in TABS.values() if tab.name not in FIRST)]
        sheets = [workbook.create_sheet(tab.name) for tab in tabs]
        ranges = _write_lists(workbook, _listed(known))
        _write_start(workbook.worksheets[0], tabs)
        for sheet, tab in zip(sheets, tabs, strict=True):
            _write_tab(sheet, tab, ranges)
        workbook.properties.creator, workbook.properties.title = AUTHOR, "Start"
        save_workbook(workbook, unfinished)


def explain(column: StockColumn) -> str:
    """What goes into a column: its meaning and what is accepted."""
    return f"{column.means} {column.accepted[:1].upper()}{column.accepted[1:]}."


def _write_start(sheet: Worksheet, tabs: Sequence[Tab]) -> None:
    """Which tabs suffice, how they are filled, and what comes next."""
    five = f"{', '.join(FIRST[:-1])} and {FIRST[-1]}"
    rows = [
        (
            "Start",
            f"These five tabs suffice: {five}. What everybody has stands in for the rest, marked as usual.",
        ),
        (
            "How",
            "Write from row 4 on. Row 2 says what goes into each column, row 3 is an example: both are passed over.",
        ),
        ("", "Headings in bold have to be filled in each row. Other cells, and whole tabs, may stay empty."),
        (
            "Then",
            "kitdrawer load with this file's name: it names each cell it cannot take, shows what it would book, asks.",
        ),
        ("", ""),
        *((tab.name, tab.means) for tab in tabs[: len(FIRST)]),
        ("", ""),
        ("Later", "These tabs say more, where the usual is not yours:"),
        *((tab.name, tab.means) for tab in tabs[len(FIRST) :]),
    ]
    for number, (what, says) in enumerate(rows, start=1):
        put(sheet.cell(number, 1), what or None)
        put(sheet.cell(number, 2), says or None)
        sheet.cell(number, 1).font = plain_font(bold=True)
        if what in TABS:
            link(sheet.cell(number, 1), what)
        for column in (1, 2):
            align(sheet.cell(number, column), "left", top=True, wraps=True)
        sheet.row_dimensions[number].height = height_of(lines_of(says, START_MM, PLAIN), PLAIN) + 4
    sheet.column_dimensions["A"].width, sheet.column_dimensions["B"].width = 16, column_width(START_MM)
    set_paper(sheet, landscape=False)
    page_foot(sheet)


def _write_tab(sheet: Worksheet, tab: Tab, ranges: Mapping[str, str]) -> None:
    from openpyxl.utils import get_column_letter

    draw_headings(sheet, [_drawn(column) for column in tab.columns])
    lines = 1
    for number, column in enumerate(tab.columns, start=1):
        letter = get_column_letter(number)
        wide = sheet.column_dimensions[letter].width
        sheet.column_dimensions[letter].number_format = _FORMATS.get(column.notation, "@")
        first = number == 1
        said, example = (
            f"{HELP if first else ''}{explain(column)}",
            f"{EXAMPLE if first else ''}{column.example}",
        )
        for row, text in ((2, said), (3, example)):
            safe_text(sheet.cell(row, number), text)
            sheet.cell(row, number).font = plain_font(
                size=SMALL, italic=row == 3, color="8C8C8C" if row == 3 else None
            )
            align(sheet.cell(row, number), "left", top=True, wraps=True)
            lines = max(lines, lines_of(text, wide * DIGIT_MM) if row == 2 else 1)
        _add_choices(sheet, letter, column, ranges)
    sheet.row_dimensions[2].height = height_of(lines)
    print_ready(sheet)
    whole = sum(_drawn(column).width for column in tab.columns) * DIGIT_MM
    sheet.page_setup.fitToWidth = ceil(whole / room(landscape=True)[0])  # side by side, not smaller


def _drawn(column: StockColumn) -> SheetColumn:
    width = max(_WIDTHS.get(column.notation, 14), len(column.heading) + 2)
    return SheetColumn(column.heading, width, quiet=not column.required)


def _add_choices(sheet: Worksheet, letter: str, column: StockColumn, ranges: Mapping[str, str]) -> None:
    from openpyxl.worksheet.datavalidation import DataValidation

    formula = f'"{",".join(column.choices)}"' if column.choices else ranges.get(column.names, "")
    if not formula:
        return
    strict = bool(column.choices) and not column.own_words
    rule = DataValidation("list", formula, allow_blank=True, showErrorMessage=strict)
    if strict:
        rule.errorTitle, rule.error = column.heading, f"Accepted: {column.accepted}."
    rule.add(f"{letter}{FILLED_FROM}:{letter}{PREPARED_ROWS}")
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
    sheet.sheet_state = "hidden"
    own = {title: f"{title}!$A${FILLED_FROM}:$A${PREPARED_ROWS}" for title in listed if title in TABS}
    ranges = own | draw_lists(sheet, listed, 30)
    print_ready(sheet)
    return ranges
