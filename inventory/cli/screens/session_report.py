"""A session looked back on, for a person on Sunday night, and for programs."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from inventory.cli.json.exact import Exact, Value
from inventory.cli.screens.tables import Column, table, wrapped
from inventory.jobs.sessions.reconciling.booking import SessionBooking
from inventory.measures import listed, show_amount, show_date, show_money
from inventory.reports.session_report import SessionDifference, SessionReport

MOST = 8
"""Things to buy that a Sunday night's screen names."""


def session_screen(booking: SessionBooking, report: SessionReport) -> list[str]:
    """Made, lost, what differs and why, what is short, what was learned."""
    good = sum(one.good for one in report.made)
    lost = sum(one.lost for one in report.made)
    cost = sum(one.cost for one in report.made)
    gone = sum(one.cost for one in report.lost)
    lacks = " known" if report.unpriced else ""
    head = (
        f"{report.title}: {good} made for {show_money(cost, report.currency)} of{lacks} materials, {lost} lost"
        f"{f' ({show_money(gone, report.currency)})' if lost else ''}."
    )
    lines = [*wrapped(head), "", *_made(report)]
    if report.unpriced:
        lines += wrapped(f"Nobody knows what {listed(report.unpriced)} cost; the sums leave it out.", "· ")
    for one in report.lost:
        text = f"{one.pieces} lost at {one.stage}"
        cost_of = show_money(one.cost, report.currency) if one.priced else "cost unknown"
        lines += wrapped(f"{text}: {cost_of}.", "· ")
    for name, quantity in booking.tally.saved:
        lines += wrapped(f"Saved: {show_amount(quantity, 'piece')} × {name}.", "· ")
    for name in dict.fromkeys(booking.tally.found):
        lines += wrapped(f"{name}: the book held too little; booked as found. Count it.", "· ")
    lines += _used(report) + _differences(report.differences) + _after(report)
    for said in booking.announced:
        lines += wrapped(said, "· ")
    for said in report.cautions:
        lines += wrapped(said, "Safety ")
    return lines


def _made(report: SessionReport) -> list[str]:
    columns = (
        Column("Pattern", gives=True),
        Column("For", gives=True),
        Column("Good", right=True),
        Column("Lost", right=True),
        Column("Cost", right=True),
    )
    rows = [
        [
            one.pattern,
            one.order or "the stall",
            str(one.good),
            str(one.lost),
            show_money(one.cost, report.currency) if one.priced else "unknown",
        ]
        for one in report.made
    ]
    return table(columns, rows) if rows else []


def _used(report: SessionReport) -> list[str]:
    columns = (Column("Used", gives=True), Column("Expected", right=True), Column("Really", right=True))
    rows = [
        [one.part, show_amount(one.expected, one.unit), _amount(one.used, one.unit)] for one in report.used
    ]
    return ["", *table(columns, rows)] if rows else []


def _amount(quantity: int, unit: str) -> str:
    return f"{'−' * (quantity < 0)}{show_amount(abs(quantity), unit)}"


def _differences(differences: Sequence[SessionDifference]) -> list[str]:
    lines = [""] if differences else []
    for one in differences:
        sign = "more" if one.difference > 0 else "less"
        when = " before the session" if one.before else ""
        lines += wrapped(
            f"{one.part}{when}: {_amount(one.counted, one.unit)} there, {_amount(one.expected, one.unit)} expected, "
            f"{show_amount(abs(one.difference), one.unit)} {sign}.",
        )
        for reason in one.likely:
            lines += wrapped(reason, "  · ")
        if one.unlearned:
            lines += wrapped(one.unlearned, "  → ")
    return lines


def _after(report: SessionReport) -> list[str]:
    lines = [""]
    for short in report.short:
        due = f", due {show_date(short.due)}" if short.due else ""
        lines += wrapped(
            f"{short.order}{due}: {show_amount(short.quantity, short.unit)} × {short.part}", "Short  "
        )
    for rate in report.rates:
        figures = f"{_figure(rate.before)} → {_figure(rate.after)} {rate.unit}"
        lines += wrapped(f"{rate.part} per {rate.per}: {figures}", "Rate   ")
    for loss in report.losses:
        if loss.after <= loss.before:
            continue  # what went well fills the workbook, not the screen
        figures = f"{100 * float(loss.before):.2g} % → {100 * float(loss.after):.2g} %"
        lines += wrapped(f"{loss.material} at {loss.stage}: {figures}", "Loss   ")
    for one in report.to_buy[:MOST]:
        lines += wrapped(f"{one.part}, {show_amount(one.quantity, one.unit)}: {one.reason}", "Buy    ")
    if len(report.to_buy) > MOST:
        lines += wrapped(f"{len(report.to_buy) - MOST} more: kitdrawer shopping", "Buy    ")
    return lines if len(lines) > 1 else []


def _figure(value: Fraction) -> str:
    return f"{float(value):.3g}"


def session_json(booking: SessionBooking, report: SessionReport) -> dict[str, Value]:
    """The same for programs."""
    exact = Exact(report.currency.exponent)
    catalogue = booking.shop.catalogue
    return {
        "session": booking.session.name,
        "currency": report.currency.code,
        "made": [
            {
                "pattern": one.pattern,
                "order": one.order or None,
                "good": one.good,
                "lost": one.lost,
                "cost": exact.money(one.cost if one.priced else None),
            }
            for one in report.made
        ],
        "drawn": [
            {
                "part": catalogue.part(key).name,
                "quantity": exact.amount(quantity),
                "cost": exact.money(None if key in booking.tally.unpriced else booking.tally.cost[key]),
            }
            for key, quantity in booking.tally.quantity.items()
        ],
        "lost": [
            {
                "stage": one.stage,
                "pieces": one.pieces,
                "cost": exact.money(one.cost if one.priced else None),
            }
            for one in report.lost
        ],
        "unpriced": list(report.unpriced),
        "saved": [
            {"part": name, "quantity": exact.amount(quantity)} for name, quantity in booking.tally.saved
        ],
        "differences": [
            {
                "part": one.part,
                "expected": exact.amount(one.expected),
                "counted": exact.amount(one.counted),
                "difference": exact.amount(one.difference),
                "likely": list(one.likely),
                "learned": one.learned,
                "before": one.before,
            }
            for one in report.differences
        ],
        **_afterwards(report, exact),
        "announced": list(booking.announced),
        "cautions": list(report.cautions),
    }


def _afterwards(report: SessionReport, exact: Exact) -> dict[str, Value]:
    """What is short, what was learned, what to buy."""
    return {
        "short": [
            {"order": one.order, "part": one.part, "quantity": exact.amount(one.quantity), "due": one.due}
            for one in report.short
        ],
        "rates": [
            {
                "part": one.part,
                "per": one.per,
                "before": round(float(one.before), 6),
                "after": round(float(one.after), 6),
            }
            for one in report.rates
        ],
        "losses": [
            {
                "material": one.material,
                "stage": one.stage,
                "before": round(float(one.before), 6),
                "after": round(float(one.after), 6),
            }
            for one in report.losses
        ],
        "to_buy": [
            {"part": one.part, "quantity": exact.amount(one.quantity), "reason": one.reason}
            for one in report.to_buy
        ],
    }
