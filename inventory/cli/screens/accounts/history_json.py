"""A past as JSON; its fields are promises (see guide/reference.md)."""

from __future__ import annotations

from inventory.cli.json.exact import Exact, Value
from inventory.cli.screens.asleep import asleep_json
from inventory.measures import Currency
from inventory.reports.history import History, HistoryStep, OfferPrices, UsePast


def history_json(made: History, coin: Currency) -> dict[str, Value]:
    """Every figure of it."""
    exact = Exact(coin.exponent)
    return {
        "currency": coin.code,
        "since": made.first,
        "until": made.last,
        "by": "month" if made.by_month else "year",
        "steps": [{"from": one.step, **_step_json(one, exact)} for one in made.steps],
        "total": _step_json(made.total, exact),
        "unpriced": made.unpriced,
        "patterns": _patterns_json(made, exact),
        "spoiled": _spoiled_json(made),
        "suppliers": _suppliers_json(made, exact),
        "prices": [_price_json(one, coin, exact) for one in made.prices],
        "uses": [_use_json(one) for one in made.uses],
        "orders": _orders_json(made),
        **asleep_json(made.asleep, exact),
    }


def _step_json(one: HistoryStep, exact: Exact) -> dict[str, Value]:
    return {
        "made": one.made,
        "spoiled": one.spoiled,
        "sold": one.sold,
        "sold_for": exact.money(one.sold_for),
        "spent": exact.money(one.spent),
        "postage": exact.money(one.postage),
    }


def _price_json(one: OfferPrices, coin: Currency, exact: Exact) -> dict[str, Value]:
    return {
        "part": one.part,
        "supplier": one.supplier,
        "pack": exact.amount(one.pack),
        "unit": one.unit,
        "ordered": one.lines,
        "seen": [
            {"from": step, "price": round(float(price) / 10**coin.exponent, 4)} for step, price in one.seen
        ],
        "change": round(float(one.change), 4),
    }


def _use_json(one: UsePast) -> dict[str, Value]:
    low, high = one.band()
    return {
        "part": one.part.name,
        "unit": one.part.unit,
        "times": round(float(one.times), 4),
        "low": round(float(low), 4),
        "high": round(float(high), 4),
        "looks": [
            {
                "on": seen.on,
                "used": round(float(seen.used), 3),
                "expected": round(float(seen.expected), 3),
                "low": round(float(seen.low), 3),
                "high": round(float(seen.high), 3),
                "counts": seen.counts,
            }
            for seen in one.looks
        ],
    }


def _patterns_json(made: History, exact: Exact) -> list[Value]:
    return [
        {
            "pattern": one.pattern,
            "made": one.made,
            "spoiled": one.spoiled,
            "sold": one.sold,
            "sold_for": exact.money(one.sold_for),
        }
        for one in made.patterns
    ]


def _spoiled_json(made: History) -> list[Value]:
    return [
        {
            "material": one.material,
            "stage": one.stage,
            "spoiled": one.spoiled,
            "started": one.started,
        }
        for one in made.spoiled
    ]


def _suppliers_json(made: History, exact: Exact) -> list[Value]:
    return [
        {
            "supplier": one.supplier or None,
            "parcels": one.parcels,
            "goods": exact.money(one.goods),
            "postage": exact.money(one.postage),
        }
        for one in made.suppliers
    ]


def _orders_json(made: History) -> dict[str, Value]:
    return {
        "handed_over": made.orders.handed_over,
        "on_time": made.orders.on_time,
        "overdue": made.orders.overdue,
        "late": [
            {"order": one.order, "due": one.due, "handed_over": one.on, "days": one.days}
            for one in made.orders.late
        ],
    }
