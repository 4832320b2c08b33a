"""A rehearsal: ways of buying side by side, then what may run out as things are, and what sleeps."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen
from inventory.cli.drawing.draw import draw
from inventory.cli.json.exact import Value
from inventory.cli.screens.shares import percent
from inventory.measures import plural, show_day
from inventory.planning.rehearsal.telling import Spread
from inventory.reports.rehearsed import Rehearsed, RehearsedWay

LEAST = 0.05
"""What is less likely to run out is behind `--all`, with all that may."""
MANY = 3
"""Sleeping parts that are named."""


def rehearse_screen(told: Rehearsed, *, everything: bool, saved: bool) -> list[str]:
    """Ways first, as now on top; parts by how soon and how likely they run out."""
    ways = Listing(
        (
            Cells("Way of buying"),
            Cells("Late", right=True),
            Cells("90 % range", right=True, folds=2),
            Cells("Missed", right=True),
            Cells("Parcels", right=True, folds=3),
            Cells("In stock", right=True, folds=1),
            Cells("Cost", right=True),
            Cells("Saves", right=True, folds=1),
        ),
        [_way(told, one) for one in told.ways],
        least=len(told.ways),
    )
    out = Listing(
        (
            Cells("May run out, as now"),
            Cells("From week to", right=True, folds=1),
            Cells("Worst week to", right=True),
            Cells("Chance", right=True),
        ),
        _out(told, 0.0 if everything else LEAST),
        least=0,
    )
    blocks: list[Sequence[Block]] = [[ways], *([[out]] if out.rows else []), _facts(told)]
    doors = [] if everything else [("Every part that may run out", "--all")]
    charts = "Charts", "kitdrawer rehearse --save ahead.xlsx"
    following = ("Levels worked out", "kitdrawer levels") if saved else charts
    return draw(Screen(_head(told), (), blocks, "", doors, following), everything=everything)


def _head(told: Rehearsed) -> str:
    now = told.ways[0]
    end = show_day(told.ends(told.weeks - 1))
    return f"As now, {now.late.mean:.1f} of {told.asked:.1f} orders are late by {end}."


def _way(told: Rehearsed, one: RehearsedWay) -> list[str]:
    first = one is told.ways[0]
    return [
        one.name,
        f"{one.late.mean:.1f}",
        f"{one.late.low:.0f} to {one.late.high:.0f}",
        f"{one.missed.mean:.1f}" if told.markets else "",
        "" if told.markets else f"{one.parcels:.1f}",
        f"{one.money.mean:.0f}",
        f"{one.cost.mean:.0f}",
        "" if first else f"{one.saves.mean:.0f} ({one.saves.low:.0f} to {one.saves.high:.0f})",
    ]


def _out(told: Rehearsed, least: float) -> list[list[str]]:
    """Parts somebody may wait for: the first week in which that is likely enough to be told, and the likeliest."""
    rows: list[tuple[int, float, str, int]] = []
    for key, chances in told.ways[0].chances.items():
        top = max(chances)
        if top > least:
            first = next(week for week, chance in enumerate(chances) if chance > least)
            rows.append((first, -top, told.parts[key].name, chances.index(top)))
    return [
        [name, _week(told, first), _week(told, at), percent(-top)] for first, top, name, at in sorted(rows)
    ]


def _week(told: Rehearsed, week: int) -> str:
    return show_day(told.ends(week), told.ends(told.weeks - 1).year)


def _facts(told: Rehearsed) -> list[Block]:
    worth = sum(one.worth for one in told.sleeps)
    named = ", ".join(one.part.name for one in told.sleeps[:MANY])
    parts = plural(len(told.sleeps), "part")
    sleeps = f"{parts} worth {worth:.0f} {told.currency.code} left in 19 of 20 futures, most in {named}"
    past = (
        plural(told.looked_back, "week") + " of past" if told.looked_back else "no past: half an order a week"
    )
    hours = "your hours" if told.hours else "hours no limit"
    return [
        Fact("Markets", _markets(told)),
        Fact("Sleeps", sleeps if told.sleeps else ""),
        Fact(
            "Cost",
            f"{told.currency.code} for goods and postage, less what is left more than now, and a quarter of the "
            "stock's worth a year; saved against as now, 95 % sure",
        ),
        Fact("From", f"{past}; {told.futures} futures of {told.weeks} weeks, seed {told.seed}; {hours}"),
    ]


def _markets(told: Rehearsed) -> str:
    year = told.ends(told.weeks - 1).year
    days = ", ".join(f"{name} {show_day(on, year)}" for name, on in told.markets)
    return f"{days}: {told.pieces:.0f} pieces, of which some are missed" if told.markets else ""


def rehearse_json(told: Rehearsed) -> dict[str, Value]:
    """Its fields are promises (see guide/reference.md)."""
    return {
        "seed": told.seed,
        "weeks": told.weeks,
        "futures": told.futures,
        "currency": told.currency.code,
        "asked": round(told.asked, 3),
        "policies": [
            {
                "policy": one.name,
                "late_orders": _spread(one.late),
                "missed_sales": _spread(one.missed),
                "cost": _spread(one.cost),
                "money_in_stock": _spread(one.money),
                "parcels": round(one.parcels, 3),
                "saves": _spread(one.saves),
                "fewer_late": _spread(one.spares),
            }
            for one in told.ways
        ],
        "parts": [
            {
                "policy": one.name,
                "part": told.parts[key].name,
                "week": told.ends(week),
                "chance_out": round(chance, 4),
            }
            for one in told.ways
            for key, chances in one.chances.items()
            for week, chance in enumerate(chances)
            if chance
        ],
        "sleeps": [
            {"part": one.part.name, "worth": round(one.worth, told.currency.exponent)} for one in told.sleeps
        ],
    }


def _spread(one: Spread) -> dict[str, Value]:
    return {"mean": round(one.mean, 3), "low": round(one.low, 3), "high": round(one.high, 3)}
