"""Rates and losses on the screen and as JSON, for every command that speaks of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction

from inventory.catalogue import Catalogue
from inventory.cli.drawing.blocks import Block, Cells, Listing, Sentence
from inventory.cli.json.exact import Value
from inventory.cli.screens.listing_words import doing
from inventory.jobs.learning.report import LossLine, RateLine, changed_losses, changed_rates
from inventory.ledger.learned import LearnedFigures
from inventory.measures import plural, show_amount, show_day

JUST_SO = Fraction(1, 100)
"""A figure that moves by less than this share of itself is not worth a line."""


def figure(value: Fraction, digits: int = 3) -> str:
    """So many digits of a rate, without an exponent: 0.0713, 1.4, 1250."""
    if value >= 100:
        return f"{float(value):.0f}"
    shown = f"{float(value):.{digits}g}"
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


def rate_listing(lines: Sequence[RateLine], *, named: bool = True, least: int | None = 0) -> Listing:
    """Rates as a table. named: whether the supply needs a column."""
    columns = [
        Cells("Supply"),
        Cells("Per"),
        Cells("Sheet", right=True, folds=3),
        Cells("Now", right=True),
        Cells("90 % range", right=True, folds=2),
        Cells("Sessions", right=True, folds=1),
    ]
    rows = [
        [
            one.part.name,
            one.per,
            figure(one.prior),
            with_unit(one.estimate, one.part.unit),
            "held" if one.pinned else f"{figure(one.low, 2)}–{figure(one.high, 2)}",
            "" if one.pinned else str(one.sessions),
        ]
        for one in lines
    ]
    first = 0 if named else 1
    return Listing(columns[first:], [row[first:] for row in rows], least=least)


def said_of(lines: Sequence[RateLine], days: Mapping[int, date], year: int) -> list[Block]:
    """What was left out of them, and how patterns share them. days: of entries."""
    done: list[Block] = []
    left_out: dict[str, dict[int, None]] = {}
    for one in lines:
        left_out.setdefault(one.part.name, {}).update(dict.fromkeys(one.outliers))
    for name, numbers in left_out.items():
        if numbers:
            told = ", ".join(
                f"entry {number}" + (f" of {show_day(days[number], year)}" if number in days else "")
                for number in sorted(numbers)
            )
            done.append(Sentence(f"{name}: left out as unlike the others: {told}.", "· "))
    if any(not one.alike for one in lines):
        told = "Where patterns differ, the sheet's figure is their mean; each keeps its proportion."
        done.append(Sentence(told, "· "))
    return done


def changes(written: Catalogue, before: LearnedFigures, after: LearnedFigures) -> tuple[list[list[str]], str]:
    """What becomes of rates and losses, (what, before, now) a row; what is said of those that hardly move."""
    told: list[list[str]] = []
    small = 0
    for old, new in changed_rates(written, before, after):
        if abs(new.estimate - old.estimate) < JUST_SO * old.estimate:
            small += 1
            continue
        now = with_unit(new.estimate, new.part.unit)
        told.append([f"{new.part.name} per {new.per}", figure(old.estimate), now])
    for was, now_ in changed_losses(written, before, after):
        if was.lost == now_.lost and abs(now_.estimate - was.estimate) < JUST_SO:
            small += 1
            continue
        spoiled = f"{now_.material} spoiled {doing(now_.stage)}"
        told.append([spoiled, percent(was.estimate), percent(now_.estimate)])
    return told, f"{plural(small, 'other moves', 'others move')} a little" if small else ""


def changes_listing(rows: Sequence[Sequence[str]]) -> Listing:
    """Those rows as a table."""
    return Listing((Cells("Learned"), Cells("Before", right=True), Cells("Now", right=True)), rows, least=0)
