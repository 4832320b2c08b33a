"""The workbook of Sunday night, on two pages: what was made and is to do; what was used, missing and learned."""

from __future__ import annotations

from pathlib import Path

from inventory.reports.session_report import SessionReport
from inventory.sheets.forms.pages import draw_page
from inventory.sheets.paper import AUTHOR
from inventory.sheets.reports.pages import MADE, PAGE_MM, USED, made_page, one_page, used_page
from inventory.sheets.saving import check_workbook, save_workbook, saving


def write_report(path: Path, report: SessionReport, *, overwrite: bool = False) -> None:
    """Write the report as a workbook (.xlsx) that prints on A4 and on Letter.

    Raises Refused where the file is there already (unless `overwrite`), cannot be written or is no name for a workbook.
    """
    from openpyxl import Workbook

    check_workbook(path)
    with saving(path, overwrite=overwrite) as unfinished:
        workbook = Workbook()
        workbook.remove(workbook.worksheets[0])
        for name, items in ((MADE, made_page(report)), (USED, used_page(report))):
            draw_page(workbook.create_sheet(name), items, PAGE_MM, landscape=False, one_page=one_page(items))
        workbook.properties.creator, workbook.properties.title = AUTHOR, report.title
        save_workbook(workbook, unfinished)
