"""Several orders of a sheet, each looked at after those before it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from inventory.catalogue import Order, fold
from inventory.cli.drawing.blocks import Cells, Listing, Screen
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.jobs.orders.alternatives import YES
from inventory.jobs.orders.order_check import OrderReport
from inventory.jobs.orders.reserving import IN_TURN
from inventory.measures import plural, show_day


def many_screen(reports: Sequence[OrderReport], known: Mapping[str, Order], sheet: str) -> list[str]:
    """How many can be taken, then one row an order in the order they were looked at.

    known: orders in the book by folded name; sheet: the file they were read from.
    """
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
        Screen(
            f"{head}; first due {show_day(first)}.",
            (),
            [[Listing(columns, rows)]],
            IN_TURN,
            following=_following(reports, known, sheet),
        ),
        everything=True,
    )


def _following(reports: Sequence[OrderReport], known: Mapping[str, Order], sheet: str) -> tuple[str, str]:
    """A sheet's orders are noted first; what is noted already and can be taken is promised."""
    names = [one.resolved.request.order for one in reports]
    if not all(fold(name) in known for name in names):
        return "Note them", f"kitdrawer load {pasted(sheet)}"
    for name, report in zip(names, reports, strict=True):
        if report.verdict in YES and known[fold(name)].state == "wish":
            return "Take it", f"kitdrawer promise {pasted(name)}"
    return "How they stand", "kitdrawer orders"
