"""What one line typed by hand changes: on the screen and as JSON."""

from __future__ import annotations

from inventory.cli.json.exact import Exact, Value
from inventory.cli.screens.doubtful import doubtful_screen
from inventory.cli.screens.tables import Column, table, wrapped
from inventory.jobs.days.by_hand import ByHand
from inventory.jobs.days.many import Days
from inventory.jobs.days.said_lines import Told
from inventory.ledger.costs import BY_OFFER, UNKNOWN, WORDS
from inventory.measures import Currency, plural, show_amount, show_money
from inventory.reports.days_sheet import DayLine


def by_hand_screen(made: ByHand, coin: Currency) -> list[str]:
    """What is booked and what is there then, before the question."""
    unit = made.part.unit
    there = show_amount(made.on_hand, unit)
    free = "all free" if made.free == made.on_hand else f"{show_amount(made.free, unit)} free"
    lines = wrapped(f"{made.proposal.title}. Then {there} on hand, {free}. Cost {_cost(made, coin)}.")
    for line in made.gained:
        lines += wrapped(f"{show_amount(line.quantity, unit)} for “{line.order}”, which waited for it.", "· ")
    for one in made.short:
        many = show_amount(one.quantity, unit)
        lines += wrapped(f"SET ASIDE for “{one.order}”: {many} of it. The order is then short of it.", "· ")
    if made.doubt:
        lines += wrapped(f"Is the price right? {made.doubt}", "? ")
    for note in made.notes:
        lines += wrapped(note, "· ")
    return lines


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


def by_hand_json(made: ByHand, coin: Currency) -> dict[str, Value]:
    """The same for programs."""
    exact = Exact(coin.exponent)
    return {
        "title": made.proposal.title,
        "part": made.part.name,
        "unit": made.part.unit,
        "currency": coin.code,
        "quantity": exact.amount(made.quantity),
        "cost": exact.money(None if made.cost_from == UNKNOWN else made.cost),
        "cost_from": WORDS[made.cost_from],
        "on_hand": exact.amount(made.on_hand),
        "free": exact.amount(made.free),
        "for_orders": [
            {"order": line.order, "quantity": exact.amount(line.quantity)} for line in made.gained
        ],
        "short": [{"order": one.order, "quantity": exact.amount(one.quantity)} for one in made.short],
        "notes": list(made.notes),
        "doubtful": made.doubt or None,
    }


def _cost(made: ByHand, coin: Currency) -> str:
    if made.cost_from == UNKNOWN:
        return "unknown"
    return show_money(made.cost, coin) + " by the offer" * (made.cost_from == BY_OFFER)


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
