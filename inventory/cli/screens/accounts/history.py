"""The past of the shop: what was made and sold in line 1, then by year or month, and a line on everything else."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen
from inventory.cli.drawing.colour import look
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.screens.accounts.history_tables import (
    BY_HAND,
    history_tables,
    range_of,
    share_of,
    signed,
    sum_of,
)
from inventory.cli.screens.asleep import asleep_said
from inventory.measures import Currency, listed, plural, show_day
from inventory.measures.dates import month_of
from inventory.reports.history import History, HistoryStep, OfferPrices, SupplierSpent, UsePast

MOST_STEPS = 12
"""Months a screen has; more are told by year, every one behind --all."""
NAMED = 3


def history_screen(made: History, coin: Currency, *, everything: bool, saved: Path | None) -> list[str]:
    """Each listing alone behind --all."""
    total = made.total
    days = f"{show_day(made.first, made.last.year)} to {show_day(made.last)}"
    if total == HistoryStep(made.first) and not made.asleep and not made.uses:
        return draw(Screen(f"Nothing was made, sold or bought: {days}."), everything=everything)
    head = (
        f"{total.made} made, {total.spoiled} spoiled; {total.sold} sold for {sum_of(total.sold_for, coin)}, "
        f"{sum_of(total.spent, coin)} spent on parts, {coin.code}."
    )
    groups: list[Sequence[Block]] = [[_steps(made, coin, everything=everything)]]
    if everything:
        groups += [*([one] for one in history_tables(made, coin) if one.rows), _left_over(made, coin)]
    else:
        groups.append(_facts(made, coin))
    doors = [] if everything else [("Every month, price and part", "--all")]
    following = None if saved else ("Charts", "kitdrawer history --save history.xlsx")
    rest = "" if saved is None else f"Saved as {pasted(str(saved))}."
    return draw(Screen(head, (f"From {days}",), groups, rest, doors, following), everything=everything)


def _steps(made: History, coin: Currency, *, everything: bool) -> Listing:
    by_year = not made.by_month or (len(made.steps) > MOST_STEPS and not everything)
    steps = made.years() if by_year else made.steps
    columns = (
        Cells("Year" if by_year else "Month"),
        *(
            Cells(name, right=True, folds=at)
            for name, at in (
                ("Made", 0),
                ("Spoiled", 1),
                ("Sold", 0),
                ("Sold for", 0),
                ("Spent", 0),
                ("Postage", 2),
            )
        ),
    )
    rows = [
        [
            f"{one.step.year}" if by_year else month_of(f"{one.step:%Y-%m}"),
            *(f"{many}" for many in (one.made, one.spoiled, one.sold)),
            *(sum_of(cost, coin) for cost in (one.sold_for, one.spent, one.postage)),
        ]
        for one in steps
    ]
    return Listing(columns, rows)


def _facts(made: History, coin: Currency) -> list[Block]:
    return [
        Fact("Spoiled", _spoiled(made)),
        Fact("Spent", _spent(made, coin)),
        Fact("Prices", _prices(made, coin)),
        Fact("Used", _uses(made)),
        Fact("On time", _on_time(made)),
        Fact("Asleep", asleep_said(made.asleep, coin)),
        Fact("No price", _unpriced(made)),
    ]


def _spoiled(made: History) -> str:
    most = made.spoiled[:NAMED]
    return "; ".join(
        f"{one.spoiled} of {one.started} of {one.material} at {one.stage} ({share_of(one.spoiled, one.started)})"
        for one in most
    )


def _spent(made: History, coin: Currency) -> str:
    whole = sum(one.spent for one in made.suppliers)
    said = [
        f"{one.supplier or BY_HAND} {sum_of(one.spent, coin)} ({share_of(one.spent, whole)}{_postage(one)})"
        for one in made.suppliers[:NAMED]
    ]
    return "; ".join(said)


def _postage(one: SupplierSpent) -> str:
    return f", postage {share_of(one.postage, one.spent)} of it" if one.postage else ""


def _moved(made: History) -> list[OfferPrices]:
    return [one for one in made.prices if one.change]


def _prices(made: History, coin: Currency) -> str:
    moved = _moved(made)
    if not moved:
        return f"none of {plural(len(made.prices), 'offer')} changed" if made.prices else ""
    said = [
        f"{one.part} {sum_of(one.seen[0][1], coin)} to {sum_of(one.seen[-1][1], coin)} ({signed(one.change)})"
        for one in moved[:NAMED]
    ]
    return f"{len(moved)} of {plural(len(made.prices), 'offer')} changed: {'; '.join(said)}"


def _uses(made: History) -> str:
    """Beside what the bills write; most looked at first."""
    return "; ".join(map(_use, made.uses[:NAMED]))


def _use(one: UsePast) -> str:
    looks = plural(len(one.looks), "look")
    return f"{one.part.name} {float(one.times):.2f} times its bills ({range_of(one)}, {looks})"


def _on_time(made: History) -> str:
    orders = made.orders
    late = [f"{one.order} {plural(one.days, 'day')}" for one in orders.late]
    said = [
        f"{orders.on_time} of {plural(orders.handed_over, 'order')}" if orders.handed_over else "",
        f"late: {listed(late, most=NAMED)}" if late else "",
        look(f"{plural(orders.overdue, 'order is', 'orders are')} overdue now") if orders.overdue else "",
    ]
    return "; ".join(filter(None, said))


def _unpriced(made: History) -> str:
    if not made.unpriced:
        return ""
    return look(f"{plural(made.unpriced, 'piece')} sold without a price count as sold for nothing")


def _left_over(made: History, coin: Currency) -> list[Block]:
    return [
        Fact("On time", _on_time(made)),
        Fact("Asleep", asleep_said(made.asleep, coin)),
        Fact("No price", _unpriced(made)),
    ]
