"""Several orders of a sheet, each looked at after those before it."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.cli.drawing.blocks import Cells, Listing, Screen
from inventory.cli.drawing.draw import draw
from inventory.jobs.orders.order_check import OrderReport
from inventory.jobs.orders.reserving import IN_TURN
from inventory.measures import plural, show_day


def many_screen(reports: Sequence[OrderReport]) -> list[str]:
    """How many can be taken, then one row an order in the order they were looked at."""
    yes = sum(report.verdict in ("from the shelf", "after buying") for report in reports)
    first = min((report.resolved.request.due for report in reports), default=None)
    if first is None:
        return ["No order is on this sheet."]
    shelf = sum(report.verdict == "from the shelf" for report in reports)
    columns = (
        Cells("Order"),
        Cells("Pieces", right=True, folds=1),
        Cells("Pattern", folds=2),
        Cells("Due"),
        Cells("Answer"),
        Cells("Ready", folds=1),
    )
    rows = [
        [
            report.resolved.request.order,
            str(report.resolved.request.count),
            report.resolved.pattern.name,
            show_day(report.resolved.request.due, first.year),
            report.verdict,
            show_day(report.earliest, first.year) if report.earliest else "never",
        ]
        for report in reports
    ]
    head = f"{plural(yes, 'order')} of {len(reports)} can be taken, {shelf} from the shelf"
    return draw(
        Screen(f"{head}; first due {show_day(first)}.", (), [[Listing(columns, rows)]], IN_TURN),
        everything=True,
    )
