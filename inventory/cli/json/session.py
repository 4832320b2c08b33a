"""A session looked back on, for programs."""

from __future__ import annotations

from inventory.cli.json.exact import Exact, Value
from inventory.jobs.sessions.reconciling.booking import SessionBooking
from inventory.reports.session_report import SessionReport


def session_json(booking: SessionBooking, report: SessionReport) -> dict[str, Value]:
    """Everything of it, exact."""
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
