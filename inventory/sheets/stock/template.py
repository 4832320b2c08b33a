"""The workbook to begin with: where to start, every tab with its help and an example, lists to choose from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import floor
from pathlib import Path
from typing import TYPE_CHECKING, Any

from inventory.catalogue import ROLES, Catalogue, Part
from inventory.catalogue.checks.trouble import names_of
from inventory.measures.look import LOOKED_AT
from inventory.sheets.drawing import Look, SheetColumn, align, draw_headings, draw_lists, draw_row
from inventory.sheets.paper import (
    AUTHOR,
    DIGIT_MM,
    HEAD,
    PEN,
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
FEW = 5
"""Rows to fill of a tab one may leave alone; more can be typed below them."""
_LEAST = 8
"""Digits of the narrowest column."""
_LOOK = Look("boxes", least=PEN)
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
    """What goes into a column: its meaning and what is accepted, where that is not just anything."""
    if column.notation == "text":
        return column.means
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
    """Headings, help, an example in grey, and rows to write in as many as its page has room for; or a few."""
    from openpyxl.utils import get_column_letter

    columns = _drawn(tab)
    above = max(lines_of(one.heading, one.width * DIGIT_MM, PLAIN, bold=True) for one in columns)
    draw_headings(sheet, columns, height=height_of(above, PLAIN) + 3)
    lines = {HELP: 1, EXAMPLE: 1}
    for number, (column, drawn) in enumerate(zip(tab.columns, columns, strict=True), start=1):
        sheet.column_dimensions[get_column_letter(number)].number_format = _FORMATS.get(column.notation, "@")
        for row, begins, text in ((2, HELP, explain(column)), (3, EXAMPLE, column.example)):
            said = f"{begins if number == 1 else ''}{text}"
            lines[begins] = max(lines[begins], lines_of(said, drawn.width * DIGIT_MM))
            _said(sheet.cell(row, number), said, grey=begins == EXAMPLE)
        _add_choices(sheet, get_column_letter(number), column, ranges)
    sheet.row_dimensions[2].height, sheet.row_dimensions[3].height = map(height_of, lines.values())
    used = height_of(above, PLAIN) + 3 + sum(map(height_of, lines.values()))
    fitting = int((room(landscape=True)[1] - HEAD - 2) / 25.4 * 72 - used) // int(PEN + 1)
    for row in range(FILLED_FROM, FILLED_FROM + (fitting if tab.name in FIRST else min(FEW, fitting))):
        draw_row(sheet, row, columns, [None] * len(columns), _LOOK, added=True)
    print_ready(sheet)


def _said(cell: Any, text: str, *, grey: bool) -> None:
    safe_text(cell, text)
    cell.font = plain_font(size=SMALL, italic=grey, color=LOOKED_AT if grey else None)
    align(cell, "left", top=True, wraps=True)


def _drawn(tab: Tab) -> list[SheetColumn]:
    """The columns, together as wide as a page: what one takes more than its longest word and a number it may give."""
    least = [max(_LEAST, *(len(word) + 2 for word in column.heading.split())) for column in tab.columns]
    wanted = [
        max(_WIDTHS.get(one.notation, 14), width) for one, width in zip(tab.columns, least, strict=True)
    ]
    page = floor(10 * column_width(room(landscape=True)[0])) / 10
    over = max(0.0, sum(wanted) - page)
    gives = over / max(sum(wanted) - sum(least), 1)
    widths = [floor(10 * (want - (want - few) * gives)) / 10 for want, few in zip(wanted, least, strict=True)]
    return [
        SheetColumn(column.heading, width, quiet=not column.required)
        for column, width in zip(tab.columns, widths, strict=True)
    ]


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
