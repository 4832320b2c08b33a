"""What the lines of a sheet of ordinary days change, on the screen."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen
from inventory.cli.drawing.colour import stop
from inventory.cli.drawing.draw import draw
from inventory.cli.screens.by_hand import noted
from inventory.cli.screens.doubtful import doubtful_rows
from inventory.cli.screens.orders.promising import plan_says
from inventory.jobs.days.by_hand import ByHand
from inventory.jobs.days.many import Days
from inventory.jobs.days.said_lines import Told
from inventory.ledger.costs import UNKNOWN
from inventory.measures import Currency, plural, show_amount, show_day, show_measurable, show_money
from inventory.measures.dates import days_in
from inventory.reports.days_sheet import DayLine, SaidLine


def days_screen(made: Days, coin: Currency, *, everything: bool) -> list[str]:
    """How many lines of each kind; what orders lack by it; what each does to the shelf; what is asked about."""
    on = made.proposal.on
    lines = plural(len(made.made), "line")
    head = f"{days_in(made.proposal.title, on.year)}; {lines} in one entry, {show_day(on)}."
    rows = [_day_row(line, one, coin) for line, one in made.made if isinstance(line, DayLine)]
    columns = (
        Cells("Row", right=True),
        Cells("What", folds=1),
        Cells("Part"),
        Cells("How many", right=True),
        Cells("Then", right=True, folds=3),
        Cells("Cost", right=True, folds=2),
    )
    told = [
        [f"Row {line.place.row}, {line.what}: {days_in(one.says, on.year)}"]
        for line, one in made.made
        if isinstance(one, Told)
    ]
    short: list[Block] = [
        Fact(stop("Short"), f"“{lack.order}” now lacks {show_amount(lack.quantity, lack.unit)} {lack.part}")
        for lack in made.short
    ]
    groups: list[Sequence[Block]] = [
        [Listing(columns, rows, least=0)],
        [Listing([Cells("")], told, bare=True, least=0)],
        [*short, *_plans(made), *noted(made.notes, on.year)],
        doubtful_rows(made.doubts, everything=everything),
    ]
    return draw(Screen(head, (), groups, reserved=3), everything=everything)


def _plans(made: Days) -> list[Block]:
    """Planned sessions that no longer fit an order a line changed, as the command says it."""
    plans = {
        line.of: one.plan for line, one in made.made if isinstance(one, Told) and isinstance(line, SaidLine)
    }
    return [
        Fact("Plan", plan_says(plan, order))
        for order, plan in plans.items()
        if plan is not None and not plan.fits
    ]


def _day_row(line: DayLine, one: ByHand | Told, coin: Currency) -> list[str]:
    if isinstance(one, Told):
        return []
    return [
        str(line.place.row),
        line.why or line.what,
        one.part.name,
        show_amount(abs(one.quantity), one.part.unit),
        show_measurable(one.on_hand, one.part.unit, down=True),
        "unknown" if one.cost_from == UNKNOWN else show_money(one.cost, coin),
    ]
