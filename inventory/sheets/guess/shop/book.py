"""The workbook `shop.xlsx`: our tabs with guesses shaded, the open questions, and the whole of one's own sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from copy import copy
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from inventory.measures.look import ASKED_SHADE, EDGE, GUESSED_SHADE
from inventory.sheets.files import NO_VALUE
from inventory.sheets.guess.cells import Grid
from inventory.sheets.guess.guesses import Question, Said, Understanding
from inventory.sheets.guess.shop.lines import ShopTabs, TabLine, written
from inventory.sheets.paper import AUTHOR, DIGIT_MM, PLAIN, SMALL, column_width, height_of, lines_of, room
from inventory.sheets.saving import save_workbook, saving
from inventory.sheets.stock.columns import Tab
from inventory.sheets.stock.tabs import TABS
from inventory.sheets.stock.template import PREPARED_ROWS, explain
from inventory.sheets.writing import heading, plain_font, print_ready, put

if TYPE_CHECKING:
    from openpyxl.workbook import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

QUESTIONS, MINE, FROM = "questions", "my sheet", "from my sheet"
SHADES = {"guessed": GUESSED_SHADE, "asked": ASKED_SHADE}
"""Yellow: most likely so. Orange: stands only until its question is answered."""
ASKED = ("about", "cell", "best guess", "your answer", "accepted", "taken in", "key")
CELLS = ("file", "tab", "cell", "what it says", "taken as", "sort")
_WIDTHS = {
    "about": 58,
    "cell": 14,
    "best guess": 22,
    "your answer": 22,
    "accepted": 30,
    "what it says": 44,
    "tab": 16,
    "taken as": 46,
    "file": 24,
}
PRINTED = 1000
"""Rows of a tab that are given their height; a longer one nobody prints, and it takes its time."""
FINE = SMALL
"""Points of the places at the end of a row, and why."""
LEAST, LEAST_FROM, MOST = 6.0, 24.0, 40.0
"""Widths of columns, in digits: the least of any, the least of the places at the end, the most of any."""
FEW = 8
"""Choices that are spelled out beside the question."""
MOST_LISTED = 255
"""Characters of a drop-down list written into the rule itself, as common programs take it."""


@dataclass(frozen=True, slots=True)
class Written:
    """What goes into the workbook. answered: the questions that have an answer, each with it."""

    shop: ShopTabs
    found: Understanding
    grids: Sequence[Grid]
    answers: Mapping[str, str]


def write_shop(path: Path, written: Written, *, overwrite: bool = False) -> None:
    """The workbook, whole or not at all. Raises Refused where it cannot be put there."""
    from openpyxl import Workbook

    with saving(path, overwrite=overwrite) as unfinished:
        workbook = Workbook()
        workbook.remove(workbook.worksheets[0])
        _questions(workbook, written)
        for tab in TABS.values():
            _tab(workbook.create_sheet(tab.name), tab, written.shop.lines.get(tab.name, []))
        _mine(workbook, written)
        workbook.properties.creator, workbook.properties.title = AUTHOR, "Your shop, as it was understood"
        save_workbook(workbook, unfinished)


def _questions(workbook: Workbook, written: Written) -> None:
    sheet = workbook.create_sheet(QUESTIONS)
    _heads(sheet, ASKED)
    lists = workbook.create_sheet("lists")
    lists.sheet_state = "hidden"
    row = 1
    for question in written.found.questions:
        row += 1
        _question(sheet, row, question, "", "")
        _choices(sheet, lists, row, question)
    for key, answer in written.answers.items():
        row += 1
        about = written.found.asking.answered.get(key)
        known = about or Question(key, "(no longer asked)", "", answer)
        _question(sheet, row, known, answer, answer)
        _choices(sheet, lists, row, known)
    sheet.column_dimensions["G"].hidden = True
    print_ready(sheet)


def _question(sheet: Worksheet, row: int, question: Question, answer: str, taken: str) -> None:
    from openpyxl.styles import Alignment, PatternFill

    few = ", ".join(question.choices) if len(question.choices) <= FEW else "one of the list"
    accepts = question.accepts or (few if question.choices else "")
    for column, text in enumerate(
        (question.about, question.cell, question.guess, answer, accepts, taken, question.key), start=1
    ):
        cell = sheet.cell(row, column)
        put(cell, text or None)
        cell.number_format = "@"
        cell.alignment = Alignment(vertical="top", wrap_text=column in (1, 3, 4, 5))
    _height(
        sheet, row, (question.about, "", question.guess, answer, accepts), [_WIDTHS[one] for one in ASKED[:5]]
    )
    if not answer:
        sheet.cell(row, 4).fill = PatternFill("solid", fgColor=SHADES["asked"])


def _choices(sheet: Worksheet, lists: Worksheet, row: int, question: Question) -> None:
    from openpyxl.utils import get_column_letter
    from openpyxl.worksheet.datavalidation import DataValidation

    if not question.choices:
        return
    flat = ",".join(question.choices)
    formula = f'"{flat}"'
    if len(flat) > MOST_LISTED - 10 or any("," in one or '"' in one for one in question.choices):
        column = get_column_letter(row)
        for number, choice in enumerate(question.choices, start=1):
            put(lists.cell(number, row), choice)
        formula = f"lists!${column}$1:${column}${len(question.choices)}"
    rule = DataValidation("list", formula, allow_blank=True, showErrorMessage=False)
    rule.add(f"D{row}")
    sheet.add_data_validation(rule)


def _heads(sheet: Worksheet, names: Sequence[str]) -> None:
    from openpyxl.utils import get_column_letter

    for column, name in enumerate(names, start=1):
        heading(sheet.cell(1, column), name)
        sheet.column_dimensions[get_column_letter(column)].width = _WIDTHS.get(name, 12)


def _tab(sheet: Worksheet, tab: Tab, lines: Sequence[TabLine]) -> None:
    from openpyxl.comments import Comment
    from openpyxl.utils import get_column_letter

    texts = [
        [written(said, tab.name, key) if said else "" for key, said in _cells(tab, line)] for line in lines
    ]
    sources = [". ".join(filter(None, (line.source, line.why)))[:2000] for line in lines]
    widths = widths_of([column.heading for column in tab.columns], texts)
    for at, column in enumerate(tab.columns, start=1):
        head = sheet.cell(1, at)
        heading(head, column.heading, required=column.required)
        head.comment = Comment(explain(column), "kitdrawer", height=150, width=320)
        _suggest(sheet, get_column_letter(at), column)
    heading(sheet.cell(1, len(tab.columns) + 1), FROM, required=False)
    _height(sheet, 1, [column.heading for column in tab.columns], widths, bold=True)
    styles = _styles(sheet, len(tab.columns) + 2)
    for row, (line, said_of_it, source) in enumerate(zip(lines, texts, sources, strict=True), start=2):
        for at, (text, (_, said)) in enumerate(zip(said_of_it, _cells(tab, line), strict=True), start=1):
            if said is not None:
                cell: Any = sheet.cell(row, at)
                put(cell, text)
                cell._style = styles[said.grade]
        last: Any = sheet.cell(row, len(tab.columns) + 1)
        put(last, source)
        last._style = styles["from"]
        if len(lines) <= PRINTED:
            fine = lines_of(source, widths[-1] * DIGIT_MM, FINE) * FINE
            _height(sheet, row, said_of_it, widths, beside=fine)
    for at, width in enumerate(widths, start=1):
        dimension = sheet.column_dimensions[get_column_letter(at)]
        dimension.width = width
        dimension.number_format = "@"  # else 27/64 typed below would become a day
    print_ready(sheet)


def _cells(tab: Tab, line: TabLine) -> list[tuple[str, Said | None]]:
    return [(column.key, line.cells.get(column.key)) for column in tab.columns]


def widths_of(headings: Sequence[str], texts: Sequence[Sequence[str]]) -> list[float]:
    """Widths of a tab's columns, in digits, that of the places at its end too: together as wide as a page.

    What nobody said anything in is as wide as the longest word of its heading; of the others those give room that
    hold long texts.
    """
    columns = [[head, *(row[at] for row in texts)] for at, head in enumerate(headings)]
    words = [{len(word) for text in column for word in text.split()} for column in columns]
    least = [min(max(LEAST, max(lengths) + 2.0), LEAST_FROM) for lengths in words]
    longest = [max((len(row[at]) for row in texts), default=0) + 2.0 for at in range(len(headings))]
    wanted = [max(few, min(most, MOST)) for few, most in zip(least, longest, strict=True)]
    least, wanted = [*least, LEAST_FROM], [*wanted, MOST]
    page = column_width(room(landscape=True)[0])
    over = max(0.0, sum(wanted) - page)
    gives = min(1.0, over / max(sum(wanted) - sum(least), 1.0))
    widths = [round(want - (want - few) * gives, 1) for want, few in zip(wanted, least, strict=True)]
    return [*widths[:-1], max(widths[-1], round(page - sum(widths[:-1]), 1))]


def _height(
    sheet: Worksheet,
    row: int,
    texts: Sequence[str],
    widths: Sequence[float],
    *,
    bold: bool = False,
    beside: float = 0.0,
) -> None:
    """As high as the longest text of a row needs: programs that print do not all work that out themselves.

    beside: lines of fine print in the row, times their points.
    """
    lines = max(
        1 if len(text) + 1 < width else lines_of(text, width * DIGIT_MM, PLAIN, bold=bold)
        for text, width in zip(texts, widths, strict=False)
    )
    if max(lines, beside / PLAIN) > 1:
        sheet.row_dimensions[row].height = max(height_of(lines, PLAIN) + 3 * bold, height_of(1, beside))


def _styles(sheet: Worksheet, spare: int) -> dict[str, Any]:
    """How cells look by their grade: made once on a cell to spare, for a look made anew is sought among all others."""
    from openpyxl.styles import Alignment, PatternFill

    cell: Any = sheet.cell(1, spare)
    cell.number_format = "@"
    cell.alignment = Alignment(wrap_text=True, vertical="top")
    styles = {"read": copy(cell._style)}
    for grade, colour in SHADES.items():
        cell.fill = PatternFill("solid", fgColor=colour)
        styles[grade] = copy(cell._style)
    cell.fill = PatternFill()
    cell.font = plain_font(size=FINE, color=EDGE, italic=True)
    cell.alignment = Alignment(wrap_text=True, vertical="top")
    styles["from"] = copy(cell._style)
    plain: Any = sheet.cell(2, spare)
    cell._style = copy(plain._style)
    return styles


def _suggest(sheet: Worksheet, letter: str, column: Any) -> None:
    from openpyxl.worksheet.datavalidation import DataValidation

    if column.choices:
        strict = not column.own_words
        rule = DataValidation(
            "list", f'"{",".join(column.choices)}"', allow_blank=True, showErrorMessage=strict
        )
        rule.add(f"{letter}2:{letter}{PREPARED_ROWS}")
        sheet.add_data_validation(rule)


def _mine(workbook: Workbook, written: Written) -> None:
    """Every cell of one's own sheet, and what was made of it; enough to begin again from it."""
    sheet = workbook.create_sheet(MINE)
    _heads(sheet, CELLS)
    fates = fates_of(written.found)
    row = 1
    for grid in written.grids:
        for cell in grid.filled():
            row += 1
            values = (
                grid.file,
                cell.tab,
                cell.ref.rpartition("!")[2],
                cell.text,
                fates.get(cell, ""),
                sort_of(cell.raw),
            )
            for column, value in enumerate(values, start=1):
                put(sheet.cell(row, column), value or None)
            if row <= PRINTED:
                _wrapped(sheet, row, values)
        for name in grid.merges:
            row += 1
            for column, value in enumerate((grid.file, grid.tab, name, "", "", "merged"), start=1):
                put(sheet.cell(row, column), value or None)
    sheet.column_dimensions["F"].hidden = True
    print_ready(sheet)


def _wrapped(sheet: Worksheet, row: int, values: Sequence[str]) -> None:
    """What is longer than its column goes on below, and the row is as high as that."""
    from openpyxl.styles import Alignment

    widths = [_WIDTHS[name] for name in CELLS[:5]]
    long = [
        at
        for at, (text, width) in enumerate(zip(values, widths, strict=False), start=1)
        if len(text) >= width
    ]
    for at in long:
        sheet.cell(row, at).alignment = Alignment(vertical="top", wrap_text=True)
    if long:
        _height(sheet, row, values[:5], widths)


def sort_of(raw: object) -> str:
    """What a cell held, so that it can be read again: number, date, truth or formula; nothing where it is text."""
    if raw is NO_VALUE:
        return "formula"
    if isinstance(raw, bool):
        return "truth"
    if isinstance(raw, date | datetime):
        return "date"
    return "number" if isinstance(raw, int | float) else ""


def fates_of(found: Understanding) -> dict[Any, str]:
    """What became of each cell: the fields it filled, with what they say, or as what it was kept."""
    fates: dict[Any, list[str]] = {}
    for thing in [*found.things, *found.orders]:
        for what, said in thing.said.items():
            for cell in said.cells:
                mark = "" if said.grade == "read" else " (guessed)" if said.grade == "guessed" else " (asked)"
                fates.setdefault(cell, []).append(f"{what}: {said.value}{mark}")
    told = {cell: "; ".join(dict.fromkeys(says))[:500] for cell, says in fates.items()}
    for one in found.kept:
        why = f": {one.why}" if one.why else ""
        told[one.cell] = f"{told[one.cell]}; {one.what}{why}" if one.cell in told else f"{one.what}{why}"
    return told
