"""The one way a chart is drawn: only where somebody would rather look than read."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from inventory.measures.look import DASHES, SERIES
from inventory.sheets.drawing import ROW_POINTS
from inventory.sheets.paper import DIGIT_MM, HEAD, room

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

LEAST = 4
"""Rows from which on a chart says more than its figures."""
LINE_WIDTH = 22_000
"""In the format's own unit, 12,700 to a point."""
TALLEST = 16.0
"""Centimetres of a chart that a page holds, lying, below the headings."""
POINTS_A_MM, _SURELY = 72 / 25.4, 0.95
"""Rows come out a little higher in some programs: a page is taken to hold that much less."""


def bars(
    sheet: Worksheet,
    where: str,
    title: str,
    columns: Sequence[int],
    rows: tuple[int, int],
    *,
    upright: bool = True,
    stacked: bool = False,
    names: int = 1,
    form: str = "",
    below: bool = False,
    colours: Sequence[str] = SERIES,
    size: tuple[float, float] = (24, 9),
) -> None:
    """Bars of these columns (1 is A), side by side or on each other, their headings as legend.

    rows: first and last below the headings; upright: over time, else the first row on top; form: of the figures along
    the axis; below: some may lie below nothing, else the axis begins there, since a bar is read by its length; size:
    centimetres. Names stand beside the plot, where bars below nothing do not run through them.
    """
    from openpyxl.chart import BarChart

    chart = BarChart()
    chart.type, chart.grouping = "col" if upright else "bar", "stacked" if stacked else "clustered"
    chart.overlap, chart.gapWidth = 100 if stacked else 0, 60
    _filled(sheet, chart, columns, rows, names)
    if not upright:
        chart.x_axis.scaling.orientation = "maxMin"
    chart.x_axis.tickLblPos = "low"
    if not below:
        chart.y_axis.scaling.min = 0
    if form:
        chart.y_axis.number_format = form
    for series, colour in zip(chart.series, colours, strict=False):
        series.graphicalProperties.solidFill = colour
    _framed(sheet, chart, where, title, size)


def lines(
    sheet: Worksheet,
    where: str,
    title: str,
    columns: Sequence[int],
    rows: tuple[int, int],
    *,
    names: int = 1,
    form: str = "",
    dots: bool = False,
    size: tuple[float, float] = (20, 11),
) -> None:
    """Lines of these columns over the column of names; form: of the days along the foot; dots: a mark each row."""
    from openpyxl.chart import LineChart
    from openpyxl.chart.marker import Marker

    chart: Any = LineChart()
    _filled(sheet, chart, columns, rows, names)
    if form:
        chart.x_axis.number_format = form
    chart.x_axis.tickLblSkip = chart.x_axis.tickMarkSkip = max((rows[1] - rows[0] + 1) // 6, 1)
    for at, one in enumerate(chart.series):
        line = one.graphicalProperties.line
        line.solidFill, line.dashStyle, line.width = SERIES[at % 6], DASHES[at % 6], LINE_WIDTH
        one.smooth = False
        if dots:
            one.marker = Marker("circle", size=5)
    _framed(sheet, chart, where, title, size)


def _filled(sheet: Worksheet, chart: Any, columns: Sequence[int], rows: tuple[int, int], names: int) -> None:
    from openpyxl.chart import Reference

    first, last = rows
    for column in columns:
        chart.add_data(
            Reference(sheet, min_col=column, min_row=first - 1, max_row=last), titles_from_data=True
        )
    chart.set_categories(Reference(sheet, min_col=names, min_row=first, max_row=last))


def _framed(sheet: Worksheet, chart: Any, where: str, title: str, size: tuple[float, float]) -> None:
    """On the sheet, with both its axes shown, and a legend where there is more than one series."""
    chart.title, (chart.width, chart.height) = title, size
    chart.x_axis.delete = chart.y_axis.delete = False  # else newer programs draw none
    if len(chart.series) > 1:
        chart.legend.position = "b"
    else:
        chart.legend = None
    _anchored(chart, where, *size)
    sheet.add_chart(chart)


def keep_whole(sheet: Worksheet) -> None:
    """Begin a page before each chart that would else be cut by the end of one.

    To be called when the sheet is filled and its paper set. Breaks hold only where a page is not fitted to its width
    (common programs pass over them there), so a sheet wider than the paper stays as it is.
    """
    from openpyxl.worksheet.pagebreak import Break
    from openpyxl.worksheet.properties import PageSetupProperties

    charts = {one.anchor._from.row + 1: one for one in getattr(sheet, "_charts", ())}
    wide = sum(one.width for one in sheet.column_dimensions.values()) * DIGIT_MM
    across, down = room(landscape=sheet.page_setup.orientation == "landscape")
    if not charts or wide > across:
        return
    page, used = (down - HEAD) * POINTS_A_MM * _SURELY, 0.0
    again = _points(sheet, 1)
    for row in range(1, max(charts) + 1):
        high = charts[row].height * 10 * POINTS_A_MM if row in charts else _points(sheet, row)
        if used + high > page and used > again:
            used = again
            if row in charts:
                sheet.row_breaks.append(Break(id=row - 1))
                sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=False)
        used += _points(sheet, row)


def _anchored(chart: Any, where: str, width: float, height: float) -> None:
    """A little below the top of its row: its frame would be drawn at the foot of the page before. Centimetres."""
    from openpyxl.drawing.spreadsheet_drawing import AnchorMarker, OneCellAnchor
    from openpyxl.drawing.xdr import XDRPositiveSize2D
    from openpyxl.utils.cell import column_index_from_string, coordinate_from_string
    from openpyxl.utils.units import cm_to_EMU

    column, row = coordinate_from_string(where)
    emu: Callable[[float], int] = cm_to_EMU
    corner = AnchorMarker(col=column_index_from_string(column) - 1, row=row - 1, rowOff=2 * LINE_WIDTH)
    chart.anchor = OneCellAnchor(_from=corner, ext=XDRPositiveSize2D(emu(width), emu(height)))


def _points(sheet: Worksheet, row: int) -> float:
    return float(sheet.row_dimensions[row].height or ROW_POINTS)
