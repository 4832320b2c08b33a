"""An evening's pieces before they are booked: what they cost, what they used, what is missing then."""

from __future__ import annotations

from inventory.catalogue import fold
from inventory.cli.screens.tables import wrapped
from inventory.jobs.sessions.reconciling.booking import SessionBooking
from inventory.measures import listed, show_amount, show_date, show_money
from inventory.reports.session_report import SessionReport

MOST = 4
"""Lines of what orders lack and of what was learned; the rest is counted."""


def made_screen(booking: SessionBooking, report: SessionReport) -> list[str]:
    """What was made and for whom, what it used, what the book held too little of, what was learned."""
    (one,), coin = booking.made, report.currency
    out, blank = one.outcome, one.resolved.blank.name
    (made,) = report.made
    cost = show_money(made.cost, coin) if made.priced else "an unknown sum"
    where = f"for {out.order}" if out.order else "onto the shelf"
    lines = wrapped(
        f"{out.good} × {out.pattern} from {one.kit} and {blank}, {where}, for {cost} of materials."
    )
    for lost in report.lost:
        gone = show_money(lost.cost, coin) if lost.priced else "unknown"
        lines += wrapped(f"{lost.pieces} spoiled at {lost.stage}: {gone}.", "· ")
    for name, quantity in booking.tally.saved:
        lines += wrapped(f"Salvaged: {show_amount(quantity, 'piece')} × {name}.", "· ")
    if report.unpriced:
        lines += wrapped(f"Nobody knows what {listed(report.unpriced)} cost; the sums leave it out.", "· ")
    lines += wrapped(listed(list(_used(booking)), most=30), "Used  ")
    for name in dict.fromkeys(booking.tally.found):
        lines += wrapped(f"{name}: the book held too little; booked as found. Count it.", "! ")
    for short in report.short[:MOST]:
        due = f", due {show_date(short.due)}" if short.due else ""
        amount = show_amount(short.quantity, short.unit)
        lines += wrapped(f"{short.order}{due}: {amount} × {short.part}", "Short ")
    if len(report.short) > MOST:
        lines += wrapped(f"{len(report.short) - MOST} more: kitdrawer orders", "Short ")
    lines += _learned(report)
    for said in booking.announced:
        lines += wrapped(said, "· ")
    return lines


def _used(booking: SessionBooking) -> list[str]:
    catalogue = booking.shop.catalogue
    found = []
    used = ((catalogue.part(key), quantity) for key, quantity in booking.tally.quantity.items())
    for part, quantity in sorted(used, key=lambda one: fold(one[0].name)):
        amount = show_amount(quantity, part.unit)
        found.append(f"{amount} × {part.name}" if part.unit == "piece" else f"{amount} {part.name}")
    return found


def _learned(report: SessionReport) -> list[str]:
    lines = []
    for loss in [one for one in report.losses if one.after > one.before][:MOST]:
        figures = f"{100 * float(loss.before):.2g} % → {100 * float(loss.after):.2g} %"
        lines += wrapped(f"{loss.material} at {loss.stage}: {figures}", "Loss  ")
    return lines
