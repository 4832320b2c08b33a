"""Orders that are due soon: on the screen and as JSON."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal

from inventory.catalogue import whom
from inventory.cli.drawing.blocks import Block, Cells, Fact, Group, Listing, Screen
from inventory.cli.drawing.colour import stop
from inventory.cli.drawing.draw import draw
from inventory.cli.json.exact import Exact, Value
from inventory.cli.screens.listing_words import counted
from inventory.errors import BadMeasure
from inventory.jobs.orders.standing.due_soon import DueSoon, Lacking
from inventory.measures import listed, plural, show_date, show_day
from inventory.measures.dates import days_in
from inventory.reports.due_soon import DueSoonRow

_DAYS = re.compile(r"([0-9]{1,4}) ?(d|days?|w|weeks?)?", re.IGNORECASE)


def days_of(text: str) -> int:
    """Days for `7d`, `7`, `2w`, `10 days`. Raises BadMeasure."""
    found = _DAYS.fullmatch(text.strip())
    if found is None:
        raise BadMeasure(f"“{text}” is no number of days.", hint="Write 7d, or 2w for two weeks.")
    return int(found[1]) * (7 if (found[2] or "d")[0].casefold() == "w" else 1)


def soon_screen(orders: Sequence[DueSoon], today: date, until: date) -> list[str]:
    """The answer first, then each order with what it lacks."""
    day = show_day(until)
    if not orders:
        return draw(Screen(f"Nothing is due by {day}."))
    lacking = sum(bool(one.lacking) for one in orders)
    work = hours(sum(one.minutes for one in orders))
    are = plural(len(orders), "order is", "orders are")
    head = f"{are} due by {day}, {work} of work left. {_lack(lacking)}"
    columns = (
        Cells("Order"),
        Cells("Due"),
        Cells("To make", right=True, folds=1),
        Cells("Work", right=True, folds=2),
        Cells("How it stands", folds=3),
    )
    rows = [_row(one, today) for one in orders]
    groups: list[Group] = [
        [Listing(columns, rows, least=len(rows))],
        [block for one in orders for block in _lacks(one, today)],
    ]
    first = next((one for one in orders if one.lacking), None)
    following = ("Buy", "kitdrawer shopping") if first else ("Make", "kitdrawer plan")
    return draw(Screen(head, (), groups, following=following))


def _lack(many: int) -> str:
    return f"{plural(many, 'lacks', 'lack')} something." if many else "Nothing is lacking."


def hours(minutes: int) -> str:
    """`2 h 30 min`, `45 min`."""
    whole, rest = divmod(minutes, 60)
    return " ".join([*([f"{whole} h"] if whole else []), *([f"{rest} min"] if rest or not whole else [])])


def _row(one: DueSoon, today: date) -> list[str]:
    order = one.order
    overdue = f" {stop('OVERDUE')}" if order.due < today else ""
    stands = days_in(one.standing.stands, today.year)
    return [
        order.name,
        f"{show_day(order.due, today.year)}{overdue}",
        str(one.to_make) if one.to_make else "",
        hours(one.minutes) if one.to_make else "",
        f"enquiry, {stands}" if order.state == "wish" else stands,
    ]


def _lacks(one: DueSoon, today: date) -> list[Block]:
    """What an order lacks, by whence it comes; hours that are too few."""
    groups: dict[str, list[str]] = {}
    for lack in one.lacking:
        groups.setdefault(_whence(lack, today), []).append(counted(lack.part, lack.quantity))
    said = [f"{listed(several, most=3)}: {days_in(whence, today.year)}" for whence, several in groups.items()]
    said += [_time(one).strip()] if _time(one) else []
    return [Fact("" if at else one.order.name, text) for at, text in enumerate(said)]


def _time(one: DueSoon) -> str:
    """Hours left until its day against those needed; nothing where none were said or nothing is to make."""
    if one.left is None or not one.to_make:
        return ""
    lacks = f", {hours(one.needed - one.left)} {stop('TOO FEW')}" if one.needed > one.left else ""
    return f" Until then {hours(one.left)}, needed for all due by then {hours(one.needed)}{lacks}."


def soon_rows(orders: Sequence[DueSoon], today: date) -> list[DueSoonRow]:
    """The same for a sheet: a row for each part that is lacking."""
    rows = []
    for one in orders:
        order = one.order
        platings = " or ".join(order.platings)
        row = DueSoonRow(
            whom(order.name),
            order.customer or "",
            order.due,
            f"{'enquiry' if order.state == 'wish' else order.state}, {one.standing.stands}",
            f"{order.count} × {order.pattern}, {platings}, {order.blank}",
            one.to_make,
            one.minutes,
            one.needed,
            one.left,
        )
        rows += [_with_lack(row, lack, today) for lack in one.lacking] or [row]
    return rows


def _with_lack(row: DueSoonRow, lack: Lacking, today: date) -> DueSoonRow:
    quantity = Exact(0).amount(lack.quantity)
    late = " (too late)" if lack.order_by is not None and lack.order_by < today else ""
    whence = f"{lack.supplier}{late}" if lack.order_by is not None else _whence(lack, today)
    unit = "" if lack.part.unit == "piece" else lack.part.unit
    return replace(
        row,
        lacking=lack.part.name,
        quantity=Decimal(str(quantity)),
        unit=unit,
        whence=whence,
        order_by=lack.order_by,
        here_on=lack.here_on,
    )


def _whence(lack: Lacking, today: date) -> str:
    """From whom, and by when."""
    if lack.here_on is None:
        return "nobody sells it"
    here = show_date(lack.here_on)
    if lack.order_by is None:
        return f"due in {here}{f' from {lack.supplier}' if lack.supplier else ''}"
    late = lack.order_by < today
    by = f"too late, here {here} at the earliest" if late else f"order by {show_date(lack.order_by)}"
    return f"{lack.supplier}, {by}"


def soon_json(one: DueSoon) -> dict[str, Value]:
    """What is said of an order beside how it stands."""
    exact = Exact(0)
    return {
        "to_make": one.to_make,
        "minutes": one.minutes,
        "minutes_needed_by_then": one.needed,
        "minutes_there_by_then": one.left,
        "lacking": [
            {
                "part": lack.part.name,
                "quantity": exact.amount(lack.quantity),
                "unit": lack.part.unit,
                "supplier": lack.supplier or None,
                "here_on": lack.here_on,
                "order_by": lack.order_by,
            }
            for lack in one.lacking
        ],
    }
