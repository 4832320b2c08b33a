"""What the lines of a sheet of ordinary days change, on the screen."""

from __future__ import annotations

from inventory.cli.screens.doubtful import doubtful_screen
from inventory.cli.screens.tables import Column, table, wrapped
from inventory.jobs.days.by_hand import ByHand
from inventory.jobs.days.many import Days
from inventory.jobs.days.said_lines import Told
from inventory.ledger.costs import UNKNOWN
from inventory.measures import Currency, plural, show_amount, show_money
from inventory.reports.days_sheet import DayLine

SHOWN = 12
"""Lines on the screen without --all."""


def days_screen(made: Days, coin: Currency, *, everything: bool) -> list[str]:
    """How many lines of each kind; what each does to the shelf; what orders lack by it; what is asked about."""
    lines = wrapped(f"{made.proposal.title}. {plural(len(made.made), 'line')} in one entry.")
    shown = made.made if everything else made.made[:SHOWN]
    columns = (
        Column("Row", right=True),
        Column("What"),
        Column("Part", gives=True),
        Column("How many", right=True),
        Column("Then", right=True),
        Column("Cost", right=True),
    )
    rows = [_day_row(line, one, coin) for line, one in shown if isinstance(line, DayLine)]
    lines += ["", *table(columns, rows)] if rows else []
    for line, told in shown:
        if isinstance(told, Told):
            lines += wrapped(f"Row {line.place.row}, {line.what}: {told.says}", "· ")
    if rest := len(made.made) - len(shown):
        lines.append(f"  … and {rest} more: --all")
    for lack in made.short:
        lines += wrapped(
            f"“{lack.order}” now lacks {show_amount(lack.quantity, lack.unit)} {lack.part}.", "! "
        )
    for note in made.notes:
        lines += wrapped(note, "· ")
    return [*lines, *doubtful_screen(made.doubts)]


def _day_row(line: DayLine, one: ByHand | Told, coin: Currency) -> list[str]:
    if isinstance(one, Told):
        return []
    return [
        str(line.place.row),
        line.why or line.what,
        one.part.name,
        show_amount(abs(one.quantity), one.part.unit),
        show_amount(one.on_hand, one.part.unit),
        "unknown" if one.cost_from == UNKNOWN else show_money(one.cost, coin),
    ]
