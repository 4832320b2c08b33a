"""Rates and losses on the screen and as JSON, for every command that speaks of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction

from inventory.catalogue import Catalogue
from inventory.cli.json.exact import Value
from inventory.cli.screens.tables import Column, table, wrapped
from inventory.jobs.learning.report import LossLine, RateLine, changed_losses, changed_rates
from inventory.ledger.learned import LearnedFigures
from inventory.measures import plural, show_amount, show_date

JUST_SO = Fraction(1, 100)
"""A figure that moves by less than this share of itself is not worth a line."""


def figure(value: Fraction) -> str:
    """Three digits of a rate, without an exponent: 0.0713, 1.4, 1250."""
    if value >= 100:
        return f"{float(value):.0f}"
    shown = f"{float(value):.3g}"
    return f"{float(shown):.12f}".rstrip("0").rstrip(".") if "e" in shown else shown


def with_unit(value: Fraction, unit: str) -> str:
    """The same with the unit; pieces have none."""
    _, _, name = show_amount(2000, unit).partition(" ")
    return f"{figure(value)} {name}".rstrip()


def percent(share: Fraction) -> str:
    """Two digits of a share."""
    return f"{100 * float(share):.2g} %" if share else "0 %"


def rate_json(one: RateLine, days: Mapping[int, date]) -> dict[str, Value]:
    """One rate for programs. days: of documents."""
    return {
        "part": one.part.name,
        "unit": one.part.unit,
        "per": one.per,
        "prior": round(float(one.prior), 6),
        "estimate": round(float(one.estimate), 6),
        "low": round(float(one.low), 6),
        "high": round(float(one.high), 6),
        "sessions": one.sessions,
        "outliers": [{"document": number, "on": days.get(number)} for number in one.outliers],
        "pinned": one.pinned,
        "scatter": round(float(one.scatter), 6),
    }


def loss_json(one: LossLine, interval: tuple[Fraction, Fraction]) -> dict[str, Value]:
    """One loss for programs: shares of 1."""
    low, high = interval
    return {
        "material": one.material,
        "stage": one.stage,
        "prior": round(float(one.prior), 6),
        "estimate": round(float(one.estimate), 6),
        "low": round(float(low), 6),
        "high": round(float(high), 6),
        "reached": one.reached,
        "lost": one.lost,
    }


def rate_table(lines: Sequence[RateLine], days: Mapping[int, date], *, named: bool = True) -> list[str]:
    """Rates as a table, and what is to be said of them. named: whether the supply needs a column."""
    columns = [
        Column("Supply", gives=True),
        Column("Per", gives=True),
        Column("Sheet", right=True),
        Column("Now", right=True),
        Column("9 in 10", right=True),
        Column("Sessions", right=True),
    ]
    rows = [
        [
            one.part.name,
            one.per,
            figure(one.prior),
            with_unit(one.estimate, one.part.unit),
            "held" if one.pinned else f"{figure(one.low)}–{figure(one.high)}",
            "" if one.pinned else str(one.sessions),
        ]
        for one in lines
    ]
    first = 0 if named else 1
    return table(columns[first:], [row[first:] for row in rows]) + _said_of(lines, days)


def _said_of(lines: Sequence[RateLine], days: Mapping[int, date]) -> list[str]:
    done: list[str] = []
    left_out: dict[str, dict[int, None]] = {}
    for one in lines:
        left_out.setdefault(one.part.name, {}).update(dict.fromkeys(one.outliers))
    for name, numbers in left_out.items():
        if numbers:
            told = ", ".join(
                f"document {number}" + (f" of {show_date(days[number])}" if number in days else "")
                for number in sorted(numbers)
            )
            done += wrapped(f"{name}: left out as unlike the others: {told}.", "· ")
    if any(not one.alike for one in lines):
        told = "Where patterns differ, the sheet's figure is their mean; each keeps its proportion."
        done += wrapped(told, "· ")
    return done


def changes(written: Catalogue, before: LearnedFigures, after: LearnedFigures) -> list[str]:
    """What becomes of rates and losses, a line each; those that hardly move are counted."""
    told, small = [], 0
    for old, new in changed_rates(written, before, after):
        if abs(new.estimate - old.estimate) < JUST_SO * old.estimate:
            small += 1
            continue
        moved = f"{figure(old.estimate)} → {with_unit(new.estimate, new.part.unit)}"
        told.append(f"{new.part.name} per {new.per}: {moved}")
    for was, now in changed_losses(written, before, after):
        if was.lost == now.lost and abs(now.estimate - was.estimate) < JUST_SO:
            small += 1
            continue
        told.append(f"{now.material} at {now.stage}: {percent(was.estimate)} → {percent(now.estimate)} lost")
    if small:
        told.append(f"{plural(small, 'other moves', 'others move')} a little")
    return [line for one in told for line in wrapped(f"{one}.", "· ")]
