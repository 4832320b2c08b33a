"""The workbook of Sunday night: what was made and lost, used against expected, what is short, learned and to buy."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from pathlib import Path
from typing import TYPE_CHECKING, Any

from inventory.jobs.sessions.reconciling.outcome import SessionReport
from inventory.measures import listed, show_date
from inventory.sheets.drawing import ROW_POINTS, draw_sentences
from inventory.sheets.forms.tables import narrow
from inventory.sheets.formulas import Formulas
from inventory.sheets.reports.tables import (
    NUMBER,
    SHARE,
    SIGNED,
    columns,
    difference_rows,
    draw,
    loss_rows,
    money,
    plain_rows,
    rate_rows,
    total,
    used_rows,
)
from inventory.sheets.saving import check_workbook, saving
from inventory.sheets.writing import page_head, print_ready

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

_USED = columns(
    ("part", 34),
    ("unit", 10),
    ("expected", 13, NUMBER),
    ("used", 13, NUMBER),
    ("of expected", 14, SHARE),
)
_DIFFERENCES = columns(
    ("part", 28),
    ("unit", 8),
    ("expected", 11, NUMBER),
    ("counted", 11, NUMBER),
    ("difference", 12, SIGNED),
    ("likely", 62),
)
_RATES = columns(
    ("part", 30),
    ("per", 18),
    ("before", 11, "0.####"),
    ("after", 11, "0.####"),
    ("unit", 9),
    ("change", 12, "+0.0%;-0.0%;0.0%"),
)
_LOSSES = columns(
    ("material", 30),
    ("lost at", 18),
    ("before", 11, SHARE),
    ("after", 11, SHARE),
    ("", 9),
    ("change", 12, "+0.0%;-0.0%;0.0%"),
)
_BAR = "5B7553"
_PAGE_CM = 24.5
"""Height left for rows on an upright page of A4."""
_MOST_BARS = 40
"""Parts in the chart; the table holds all of them."""


def write_report(path: Path, report: SessionReport, *, overwrite: bool = False) -> None:
    """Write the report as a workbook (.xlsx) that prints on A4; formulas hold their results.

    Raises Refused where the file is there already (unless `overwrite`), cannot be written or is no name for a workbook.
    """
    from openpyxl import Workbook

    check_workbook(path)
    with saving(path, overwrite=overwrite) as unfinished:
        workbook, formulas = Workbook(), Formulas()
        summary = workbook.worksheets[0]
        summary.title = "summary"
        _summary(summary, report, formulas)
        _used(_tab(workbook.create_sheet("used"), report), report, formulas)
        sheet = _tab(workbook.create_sheet("differences"), report, landscape=True)
        draw(sheet, _DIFFERENCES, difference_rows(report), formulas)
        _learned(_tab(workbook.create_sheet("learned"), report), report, formulas)
        for name, (of, rows) in plain_rows(report).items():
            draw(_tab(workbook.create_sheet(name), report), of, rows, formulas)
        workbook.move_sheet("short", offset=-1)
        workbook.properties.creator, workbook.properties.title = "kitdrawer", report.title
        formulas.save(workbook, unfinished)


def _tab(sheet: Worksheet, report: SessionReport, *, landscape: bool = False) -> Worksheet:
    """A tab ready to print."""
    print_ready(sheet)
    narrow(sheet, landscape=landscape)
    day = show_date(report.on)
    page_head(sheet, report.title if day in report.title else f"{report.title}, {day}")
    return sheet


def _summary(sheet: Worksheet, report: SessionReport, formulas: Formulas) -> None:
    form, coin = money(report)
    of = columns(("pattern", 30), ("order", 26), ("good", 9, "0"), ("lost", 9, "0"), ("cost", 16, form))
    _tab(sheet, report)
    rows = [
        (one.pattern, one.order, one.good, one.lost, coin(one.cost) if one.priced else None)
        for one in report.made
    ]
    row = draw(sheet, of, rows, formulas)
    if rows:
        good, lost = sum(one.good for one in report.made), sum(one.lost for one in report.made)
        sums = (
            (3, good, "0"),
            (4, lost, "0"),
            (5, coin(sum(one.cost for one in report.made if one.priced)), form),
        )
        row = total(sheet, row, 1, sums, formulas)
    row = _lost(sheet, row + 1, report, formulas)
    _sentences(sheet, row + 1, report, [one.width for one in of])


def _lost(sheet: Worksheet, first: int, report: SessionReport, formulas: Formulas) -> int:
    form, coin = money(report)
    of = columns(("lost at", 30), ("", 26), ("", 9), ("pieces", 9, "0"), ("cost", 16, form))
    rows = [
        (one.stage, None, None, one.pieces, coin(one.cost) if one.priced else None) for one in report.lost
    ]
    row = draw(sheet, of, rows, formulas, first)
    if not rows:
        return row
    pieces = sum(one.pieces for one in report.lost)
    sums = ((4, pieces, "0"), (5, coin(sum(one.cost for one in report.lost if one.priced)), form))
    return total(sheet, row, first, sums, formulas)


def _sentences(sheet: Worksheet, row: int, report: SessionReport, widths: Sequence[float]) -> None:
    """What to mind, across the table's width, and where the rest stands."""
    counts = (
        (len(report.differences), "differences"),
        (len(report.short), "short"),
        (len(report.rates) + len(report.losses), "learned"),
        (len(report.to_buy), "to buy"),
    )
    rest = ", ".join(f"{name}: {number}" for number, name in counts)
    unknown = (f"{listed(report.unpriced)}: the sums leave it out.",) if report.unpriced else ()
    said = (("Mind", report.cautions), ("Cost unknown", unknown), ("On the other tabs", (f"{rest}.",)))
    for title, sentences in said:
        row = draw_sentences(sheet, row, title, sentences, widths)


def _used(sheet: Worksheet, report: SessionReport, formulas: Formulas) -> None:
    from openpyxl.worksheet.pagebreak import Break

    rows = used_rows(report)
    after = draw(sheet, _USED, rows, formulas)
    if any(one.expected > 0 for one in report.used):
        bars = min(len(rows), _MOST_BARS)
        height = min(5 + 0.75 * bars, 24)
        table = sum(sheet.row_dimensions[row].height or ROW_POINTS for row in range(1, after)) / 72 * 2.54
        if table + height > _PAGE_CM:
            sheet.row_breaks.append(Break(after))  # a chart cut in two says nothing
            after += 1
        _chart(sheet, after + 1, bars, height)


def _chart(sheet: Worksheet, row: int, bars: int, height: float) -> None:
    """How many times the expected was used, a bar a part from the line of “as expected” to either side.

    Shares, because strips and millilitres have no axis in common.
    """
    from openpyxl.chart import BarChart, Reference
    from openpyxl.chart.shapes import GraphicalProperties
    from openpyxl.drawing.line import LineProperties
    from openpyxl.drawing.text import CharacterProperties, ParagraphProperties

    chart: Any = BarChart()
    chart.type, chart.gapWidth, chart.style, chart.legend = "bar", 60, 2, None
    chart.title = "Used, as a share of what was expected"
    chart.title.tx.rich.p[0].pPr = ParagraphProperties(defRPr=CharacterProperties(sz=1200, b=True))
    chart.add_data(Reference(sheet, min_col=5, min_row=1, max_row=bars + 1), titles_from_data=True)
    chart.set_categories(Reference(sheet, min_col=1, min_row=2, max_row=bars + 1))
    chart.series[0].graphicalProperties.solidFill = _BAR
    chart.series[0].invertIfNegative = False
    chart.x_axis.delete = chart.y_axis.delete = False
    chart.x_axis.title, chart.y_axis.title = "part", "used / expected (100% is as expected)"
    chart.x_axis.scaling.orientation = "maxMin"  # the first part on top, as in the table
    chart.x_axis.tickLblPos = "low"
    # where the other axis crosses this one, in its own numbers: at 1, that is 100 %
    chart.x_axis.crosses, chart.x_axis.crossesAt = None, 1
    chart.y_axis.crosses = "max"  # at the foot, though the first part is on top
    chart.y_axis.majorGridlines.spPr = GraphicalProperties(ln=LineProperties(solidFill="D9D9D9"))
    chart.y_axis.number_format, chart.y_axis.scaling.min = "0%", 0
    chart.height, chart.width = height, 18
    sheet.add_chart(chart, f"A{row}")
    last = row + ceil(chart.height / (ROW_POINTS / 72 * 2.54)) + 1
    sheet.print_area = f"A1:E{last}"


def _learned(sheet: Worksheet, report: SessionReport, formulas: Formulas) -> None:
    row = draw(sheet, _RATES, rate_rows(report), formulas)
    draw(sheet, _LOSSES, loss_rows(report), formulas, row + 1)
