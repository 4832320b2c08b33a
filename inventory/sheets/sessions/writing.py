"""The sheet of a making session: what to lay out, pieces to report, bottles to weigh, parts to count."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

from inventory.catalogue import Blank, Catalogue, Supply
from inventory.reports.session_sheet import REASONS, BottleRow, SessionSheet
from inventory.sheets.counts.writing import guide_counts
from inventory.sheets.drawing import draw_lists, grey
from inventory.sheets.forms.tables import Form, draw_form, offer, weights, whole_numbers
from inventory.sheets.formulas import Formulas
from inventory.sheets.saving import is_workbook, saving
from inventory.sheets.sessions.tabs import (
    AFTER,
    BEFORE,
    BOTTLES,
    COUNTS,
    CUTTING,
    FULL,
    GROSS,
    IN_PART,
    KITS,
    LOST_STAGES,
    PIECES,
    REASON,
    SESSION,
    TUBES,
    USED,
    lost_at,
    session_forms,
)
from inventory.sheets.stock.template import LISTS
from inventory.sheets.writing import plain_font, print_ready, write_csv_folder

if TYPE_CHECKING:
    from openpyxl.workbook import Workbook
    from openpyxl.worksheet.worksheet import Worksheet


@dataclass(frozen=True, slots=True)
class Choices:
    """Names offered by drop-down lists in the empty rows."""

    patterns: tuple[str, ...] = ()
    platings: tuple[str, ...] = ()
    blanks: tuple[str, ...] = ()
    supplies: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()


def choices_of(known: Catalogue) -> Choices:
    """Every name the catalogue has to choose from, in order."""
    parts = sorted(known.parts.values(), key=lambda part: part.name.casefold())
    return Choices(
        tuple(sorted(one.name for one in known.patterns.values())),
        tuple(sorted(one.name for one in known.platings.values())),
        tuple(part.name for part in parts if isinstance(part.detail, Blank)),
        tuple(part.name for part in parts if isinstance(part.detail, Supply)),
        tuple(part.name for part in parts),
    )


def write_session(
    path: Path, sheet: SessionSheet, choices: Choices | None = None, *, overwrite: bool = False
) -> list[Path]:
    """Write a session sheet that `read_session` reads back when it is filled; the files written.

    A name ending in .xlsx becomes a workbook, any other a folder of CSV files with the same headings. Raises Refused
    where something is there already (unless `overwrite`), cannot be written or has the name of another kind of file.
    """
    forms = session_forms(sheet)
    if not is_workbook(path):
        return write_csv_folder(path, {form.name: form.plain() for form in forms}, overwrite=overwrite)
    from openpyxl import Workbook

    with saving(path, overwrite=overwrite) as unfinished:
        workbook, formulas = Workbook(), Formulas()
        workbook.remove(workbook.worksheets[0])
        for form in forms:
            draw_form(workbook.create_sheet(form.name), form)
        drawn = {form.name: form for form in forms}
        _session(workbook[SESSION], drawn[SESSION])
        _pieces(workbook[PIECES], drawn[PIECES], sheet)
        whole_numbers(
            workbook[CUTTING], [drawn[CUTTING].range("cut")], "A whole number of blanks, 0 or more."
        )
        _bottles(workbook[BOTTLES], drawn[BOTTLES], sheet.bottles, formulas)
        guide_counts(workbook[COUNTS], drawn[COUNTS], sheet.counts)
        for name in (BOTTLES, USED, COUNTS):
            offer(workbook[name], drawn[name].range(REASON), f'"{",".join(REASONS)}"')
        _lists(workbook, drawn, choices or Choices())
        workbook.properties.creator, workbook.properties.title = "kitdrawer", drawn[SESSION].title
        formulas.save(workbook, unfinished)
    return [path]


def _session(sheet: Worksheet, form: Form) -> None:
    """What is to be read, not filled: plain rows, the kind of each in bold."""
    for number in range(2, form.last + 1):
        sheet.cell(number, 1).font = plain_font(bold=True)


def _pieces(sheet: Worksheet, form: Form, session: SessionSheet) -> None:
    open_ = [form.range(name) for name in ("good", TUBES, KITS, IN_PART)]
    for stage in LOST_STAGES:
        letter = form.letter(lost_at(stage))
        for number, row in enumerate(session.pieces, start=2):
            if stage in row.stages:
                open_.append(f"{letter}{number}")
            else:
                _absent(sheet, f"{letter}{number}", row.pattern, stage)
        open_.append(f"{letter}{len(session.pieces) + 2}:{letter}{form.last}")
    whole_numbers(sheet, open_, "A whole number of pieces, 0 or more.")
    if session.pieces:
        _amber_where_sums_differ(sheet, form, len(session.pieces) + 1)


def _absent(sheet: Worksheet, place: str, pattern: str, stage: str) -> None:
    """A stage this pattern does not go through: grey, and nothing can be typed there."""
    from openpyxl.worksheet.datavalidation import DataValidation

    grey(sheet[place])
    never = DataValidation("textLength", operator="equal", formula1="0", allow_blank=True)
    never.errorTitle, never.error = "Not taken", f"{pattern[:120]} has no stage “{stage}”."
    never.showErrorMessage = True
    never.add(place)
    sheet.add_data_validation(never)


def _amber_where_sums_differ(sheet: Worksheet, form: Form, last: int) -> None:
    """Good and lost together are the pieces started; where they are not, the cells say so while being filled."""
    from openpyxl.formatting.rule import FormulaRule
    from openpyxl.styles import PatternFill

    first, end = form.letter("good"), form.letter(lost_at(LOST_STAGES[-1]))
    starts = form.letter("starts")
    row = f"${first}2:${end}2"
    formula = f"AND(COUNT({row})>0,SUM({row})<>${starts}2)"
    fill = PatternFill("solid", bgColor="F4C77B")
    rule: Any = FormulaRule
    sheet.conditional_formatting.add(f"{first}2:{first}{last}", rule([formula], fill=fill))


def _bottles(sheet: Worksheet, form: Form, rows: Sequence[BottleRow], formulas: Formulas) -> None:
    there = form.headings
    after = AFTER if AFTER in there else GROSS
    weights(
        sheet,
        [form.range(name) for name in (BEFORE, after) if name in there],
        "What the scale shows, in grams.",
    )
    tare, gross = form.letter("tare g"), form.letter(after)
    if FULL in there:
        whole_numbers(sheet, [form.range(FULL)], "A whole number of full ones, 0 or more.")
    for number, row in enumerate(rows, start=2):
        for name, asked in ((FULL, row.several), (BEFORE, row.before)):
            if name in there and not asked:
                grey(sheet[f"{form.letter(name)}{number}"])
        density = Fraction(row.density) or Fraction(1)
        weight = f"{gross}{number}-{tare}{number}"
        left = f"({weight})*{density.denominator}/{density.numerator}"
        # a weight typed with its unit is text here, and read when the sheet comes back
        formula = f'=IF(ISNUMBER({gross}{number}),ROUND({left},2),"")'
        formulas.put(sheet[f"{form.letter('left')}{number}"], formula, "")


def _lists(workbook: Workbook, forms: dict[str, Form], choices: Choices) -> None:
    """Drop-down lists in the empty rows, from a hidden tab of names."""
    wanted = {
        "patterns": (choices.patterns, ((PIECES, "pattern"),)),
        "platings": (choices.platings, ((PIECES, "plating"),)),
        "blanks": (choices.blanks, ((PIECES, "blank"), (CUTTING, "part"))),
        "supplies": (choices.supplies, ((BOTTLES, "part"), (USED, "part"))),
        "parts": (choices.parts, ((COUNTS, "part"),)),
    }
    if not any(names for names, _ in wanted.values()):
        return
    lists = workbook.create_sheet(LISTS)
    lists.sheet_state = "hidden"
    print_ready(lists)
    ranges = draw_lists(lists, {title: names for title, (names, _) in wanted.items()})
    for title, (_, places) in wanted.items():
        for tab, column in places if title in ranges else ():
            form = forms[tab]
            cells = f"{form.letter(column)}{len(form.rows) + 2}:{form.letter(column)}{form.last}"
            offer(workbook[tab], cells, ranges[title])
