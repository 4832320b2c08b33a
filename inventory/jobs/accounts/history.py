"""The past of the shop, grouped by pandas out of what the store has added up already."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any, NamedTuple

from inventory.catalogue import STAGES
from inventory.ledger.past.asleep import Held, asleep
from inventory.ledger.past.rows import AgreedRow, HandedRow, MadeRow, PastRows, SpentRow, SpoiledRow
from inventory.reports.history import (
    History,
    HistoryStep,
    KeptLate,
    OfferPrices,
    OnTime,
    OrderedAt,
    PatternPast,
    SpoiledAt,
    SupplierSpent,
    UsePast,
)

if TYPE_CHECKING:
    import pandas as pd

MONTHLY = 36
"""Months a past has at most that is told by month; a longer one is told by year."""


class SoldRow(NamedTuple):
    """A hand-over in whole numbers: a price nobody said would make a frame's column one of floats."""

    step: date
    pattern: str
    pieces: int
    sold_for: int
    unpriced: int


def monthly(first: date, last: date) -> bool:
    """Whether a stretch is told by month."""
    return (last.year - first.year) * 12 + last.month - first.month < MONTHLY


def history(
    rows: PastRows, uses: Sequence[UsePast], held: Iterable[Held], first: date, last: date
) -> History:
    """Everything from the first day to the last; what sleeps does so on the last."""
    by_month = monthly(first, last)
    made, spoiled = _frame(MadeRow, rows.made), _frame(SpoiledRow, rows.spoiled)
    sold, spent = _frame(SoldRow, map(_sold, rows.handed)), _frame(SpentRow, rows.spent)
    spent["cost"] = spent["goods"] + spent["postage"]
    return History(
        first,
        last,
        by_month,
        _steps(_calendar(first, last, by_month), made, spoiled, sold, spent),
        _patterns(made, spoiled, sold),
        _spoiled(made, spoiled),
        _suppliers(spent),
        _prices(rows.agreed),
        uses,
        _on_time(rows.handed, rows.overdue),
        asleep(held, last),
        int(sold["unpriced"].sum()),
    )


def _frame(kind: type[NamedTuple], rows: Iterable[NamedTuple]) -> pd.DataFrame:
    """Numbers as a frame has them; names and days as the objects they are: they are but grouped by and given back."""
    import pandas as pd

    columns = list(zip(*rows, strict=True)) or [()] * len(kind._fields)
    types = ("int64" if of == "int" else object for of in kind.__annotations__.values())
    return pd.DataFrame(
        {
            name: pd.Series(column, dtype=of)
            for name, column, of in zip(kind._fields, columns, types, strict=True)
        }
    )


def _sold(one: HandedRow) -> SoldRow:
    known = one.price is not None
    return SoldRow(
        one.step, one.pattern, one.pieces, (one.price or 0) * one.pieces, 0 if known else one.pieces
    )


def _calendar(first: date, last: date, by_month: bool) -> list[date]:
    """The first day of every month or year of the stretch: those in which nothing happened too."""
    if not by_month:
        return [date(year, 1, 1) for year in range(first.year, last.year + 1)]
    months = range(first.year * 12 + first.month - 1, last.year * 12 + last.month)
    return [date(month // 12, month % 12 + 1, 1) for month in months]


def _sums(frame: pd.DataFrame, by: str | list[str], what: str) -> Mapping[Any, int]:
    """A column added up by group, as plain whole numbers."""
    found: Mapping[Hashable, Any] = frame.groupby(by, sort=False)[what].sum().to_dict()
    return {group: int(many) for group, many in found.items()}


def _steps(
    calendar: Sequence[date],
    made: pd.DataFrame,
    spoiled: pd.DataFrame,
    sold: pd.DataFrame,
    spent: pd.DataFrame,
) -> tuple[HistoryStep, ...]:
    columns = (
        (made, "good"),
        (spoiled, "spoiled"),
        (sold, "pieces"),
        (sold, "sold_for"),
        (spent, "cost"),
        (spent, "postage"),
    )
    sums = [_sums(frame, "step", what) for frame, what in columns]
    return tuple(HistoryStep(step, *(one.get(step, 0) for one in sums)) for step in calendar)


def _patterns(made: pd.DataFrame, spoiled: pd.DataFrame, sold: pd.DataFrame) -> tuple[PatternPast, ...]:
    """Most sold for first, then most made."""
    columns = ((made, "good"), (spoiled, "spoiled"), (sold, "pieces"), (sold, "sold_for"))
    sums = [_sums(frame, "pattern", what) for frame, what in columns]
    names = dict.fromkeys(name for one in sums for name in one)
    found = [PatternPast(name, *(one.get(name, 0) for one in sums)) for name in names]
    return tuple(sorted(found, key=lambda one: (-one.sold_for, -one.made, one.pattern)))


def _spoiled(made: pd.DataFrame, spoiled: pd.DataFrame) -> tuple[SpoiledAt, ...]:
    """Most spoiled first."""
    good, lost = _sums(made, "material", "good"), _sums(spoiled, "material", "spoiled")
    at = _sums(spoiled, ["material", "stage"], "spoiled")
    found = [
        SpoiledAt(material, stage, many, good.get(material, 0) + lost[material])
        for (material, stage), many in at.items()
    ]
    return tuple(sorted(found, key=lambda one: (-one.spoiled, one.material, STAGES.index(one.stage))))


def _suppliers(spent: pd.DataFrame) -> tuple[SupplierSpent, ...]:
    """Most spent first; what was bought by hand has no parcels."""
    goods, postage = (_sums(spent, "supplier", what) for what in ("goods", "postage"))
    parcels = spent.groupby("supplier", sort=False)["document"].nunique().to_dict()
    found = [
        SupplierSpent(name, int(parcels[name]) if name else 0, goods[name], postage[name]) for name in goods
    ]
    return tuple(sorted(found, key=lambda one: (-one.spent, one.supplier)))


def _prices(agreed: Sequence[AgreedRow]) -> tuple[OfferPrices, ...]:
    """Those whose price moved most first."""
    frame, numbers = _frame(AgreedRow, agreed), dict[tuple[str, str, str, int], int]()
    # one number to group by: four names beside the step take five times as long
    frame["offer"] = [numbers.setdefault(row[1:5], len(numbers)) for row in agreed]
    sums = frame.groupby(["offer", "step"], sort=True)[["lines", "quantity", "cost"]].sum().reset_index()
    lines, ordered = [0] * len(numbers), [list[OrderedAt]() for _ in numbers]
    for offer, step, many, quantity, cost in zip(*(sums[name].tolist() for name in sums), strict=True):
        lines[offer] += many
        ordered[offer].append(OrderedAt(step, quantity, cost))
    found = [OfferPrices(*key, many, told) for key, many, told in zip(numbers, lines, ordered, strict=True)]
    return tuple(sorted(found, key=_most_moved))


def _most_moved(one: OfferPrices) -> tuple[float, str, str, int]:
    return -abs(float(one.change)), one.part, one.supplier, one.pack


def _on_time(handed: Iterable[HandedRow], overdue: int) -> OnTime:
    """What was sold from the stall had no day to keep."""
    orders = [one for one in handed if one.whole and not one.market]
    late = [KeptLate(one.order, one.due, one.on) for one in orders if one.on > one.due]
    return OnTime(len(orders), tuple(sorted(late, key=lambda one: (-one.days, one.order))), overdue)
