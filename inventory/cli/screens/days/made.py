"""An evening's pieces before they are booked: what they cost, what they used, what is missing then."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.catalogue import fold
from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen
from inventory.cli.drawing.colour import look, stop
from inventory.cli.drawing.draw import draw
from inventory.cli.screens.by_hand import noted
from inventory.cli.screens.learned import percent
from inventory.cli.screens.listing_words import counted_of, doing
from inventory.jobs.sessions.reconciling.booking import SessionBooking
from inventory.measures import listed, plural, show_amount, show_day, show_money
from inventory.reports.session_report import SessionReport
from inventory.reports.shortfalls import Shortfall

MOST = 4
"""Of what orders lack and of what was learned so many are said; the rest is counted."""


def made_screen(booking: SessionBooking, report: SessionReport, *, everything: bool = False) -> list[str]:
    """What was made and for whom; what the book held too little of, what orders lack by it, what was learned."""
    (one,), (made,), coin = booking.made, report.made, report.currency
    out, on = one.outcome, booking.session.on
    cost = show_money(made.cost, coin) if made.priced else "of unknown cost"
    known = "known materials" if report.unpriced else "materials"
    spoiled = f", {sum(gone.pieces for gone in report.lost)} spoiled" if report.lost else ""
    head = f"{show_day(on)}: {out.good} × {out.pattern} good{spoiled}; {known} {cost}."
    where = f"for {out.order}" if out.order else "onto the shelf"
    facts: list[Block] = [
        Fact(look("Spoiled"), _spoiled(report)),
        Fact(
            "Salvaged",
            listed([f"{show_amount(many, 'piece')} × {name}" for name, many in booking.tally.saved]),
        ),
        *(Fact(stop("Short"), text) for text in _short(report.short, on.year)),
        Fact("Learned", _learned(report)),
        *_checks(booking, report),
        *noted(booking.announced, on.year),
    ]
    used = _used(booking)
    groups: list[Sequence[Block]] = [facts, [used]] if everything else [facts]
    rest = "" if everything else f"{plural(len(used.rows), 'part is', 'parts are')} used from the shelf"
    doors = [] if everything else [("Every part", "--all")]
    under = [f"from {one.kit} and {one.resolved.blank.name}, {where}"]
    return draw(Screen(head, under, groups, rest, doors, reserved=3), everything=everything)


def _spoiled(report: SessionReport) -> str:
    coin = report.currency
    return ", ".join(
        f"{gone.pieces} {doing(gone.stage)}: {show_money(gone.cost, coin) if gone.priced else 'unknown cost'}"
        for gone in report.lost
    )


def _used(booking: SessionBooking) -> Listing:
    catalogue = booking.shop.catalogue
    used = [(catalogue.part(key), quantity) for key, quantity in booking.tally.quantity.items()]
    rows = [
        [part.name, show_amount(quantity, part.unit)]
        for part, quantity in sorted(used, key=lambda one: fold(one[0].name))
    ]
    return Listing((Cells("Part"), Cells("Used", right=True)), rows)


def _short(short: Sequence[Shortfall], year: int) -> list[str]:
    """What promised orders lack then."""
    said = [
        f"{one.order}{f', due {show_day(one.due, year)}' if one.due else ''}: "
        f"{counted_of(one.part, one.unit, one.quantity)}"
        for one in short[:MOST]
    ]
    return [*said, f"{len(short) - MOST} more: kitdrawer orders"] if len(short) > MOST else said


def _learned(report: SessionReport) -> str:
    worse = [one for one in report.losses if one.after > one.before]
    said = [
        f"{one.material} {doing(one.stage)} {percent(one.before)} → {percent(one.after)} spoiled"
        for one in worse
    ]
    more = [f"{len(worse) - MOST} more: kitdrawer losses"] if len(worse) > MOST else []
    return "; ".join([*said[:MOST], *more])


def _checks(booking: SessionBooking, report: SessionReport) -> list[Block]:
    said = [
        f"{name}: the book held too little; booked as found. {look('Count it')}."
        for name in dict.fromkeys(booking.tally.found)
    ]
    if report.unpriced:
        said.append(f"Nobody knows what {listed(report.unpriced)} cost; the sums leave it out.")
    return [Fact("Check" if at == 0 else "", one) for at, one in enumerate(said)]
