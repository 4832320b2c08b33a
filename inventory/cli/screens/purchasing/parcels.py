"""What was ordered, what is on its way, what came: a supplier at a time."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from inventory.cli.drawing.blocks import Block, Cells, Fact, Group, Listing, Screen, Sentence
from inventory.cli.drawing.colour import look, stop
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.screens.doubtful import doubtful_rows
from inventory.jobs.purchasing.arriving import BookedParcel
from inventory.jobs.purchasing.placing import Sum, sums, together
from inventory.ledger import DueIn, Line, Proposal
from inventory.ledger.costs import UNKNOWN
from inventory.ledger.lateness import days_late
from inventory.ledger.shop import Shop
from inventory.measures import (
    Currency,
    currency,
    listed,
    plural,
    show_amount,
    show_day,
    show_measurable,
    show_money,
)
from inventory.measures.dates import days_in
from inventory.reports.purchasing.placed import Placed

CAME = "arrived"
"""The reason of a line that came as it was ordered."""


def coin_of(shop: Shop, supplier: str) -> Currency:
    """The coin a supplier is paid in."""
    return currency(shop.catalogue.supplier(supplier).currency or shop.currency.code)


def placed_screen(
    shop: Shop, rows: Sequence[Placed], made: Proposal, announced: Sequence[str], *, everything: bool
) -> list[str]:
    """What it costs and when it arrives; then a supplier at a time what was ordered."""
    all_sums = sums(shop, rows)
    days: dict[str, date | None] = {one.supplier: one.expected_on for one in made.purchases}
    groups: list[Group] = [_ordered(shop, rows, one, days) for one in all_sums]
    remarks: list[Block] = [
        Fact("Check" if at == 0 else "", days_in(one, shop.today.year)) for at, one in enumerate(announced)
    ]
    total = show_money(together(shop, all_sums), shop.currency)
    head = (
        f"Ordered on {show_day(shop.today)}: {plural(len(rows), 'line')} from "
        f"{plural(len(all_sums), 'supplier')}, together {total}."
    )
    return draw(Screen(head, (), [*groups, remarks], reserved=4), everything=everything)


def _ordered(shop: Shop, rows: Sequence[Placed], one: Sum, days: dict[str, date | None]) -> Group:
    coin, year, day = coin_of(shop, one.supplier), shop.today.year, days.get(one.supplier)
    postage = f"{show_money(one.postage, coin)} postage" if one.postage else "postage free"
    least = f", {look(f'{show_money(one.lacks, coin)} under its minimum order')}" if one.lacks else ""
    arrives = f"arrives {show_day(day, year)}" if day else "its day is not known"
    head = f"{one.supplier}: {show_money(one.goods, coin)} goods, {postage}{least}, {arrives}"
    mine = [row for row in rows if shop.catalogue.supplier(row.supplier).name == one.supplier]
    cells = [
        [
            shop.catalogue.part(row.part).name,
            show_amount(row.quantity, shop.catalogue.part(row.part).unit),
            show_money(row.cost, coin),
        ]
        for row in mine
    ]
    columns = (Cells("Part"), Cells("Amount", right=True), Cells("Cost", right=True, folds=1))
    return [Sentence(head), Listing(columns, cells, bare=True, indent=2, least=0)]


def due_screen(shop: Shop, rows: Sequence[DueIn], *, everything: bool = False) -> list[str]:
    """What is late stands in the first line, and first in the table."""
    if not rows:
        return draw(Screen(f"Nothing is due in on {show_day(shop.today)}."))
    late = [row for row in rows if days_late(row, shop.today)]
    ordered = [*late, *(row for row in rows if row not in late)]
    senders = dict.fromkeys(row.supplier for row in rows)
    days = [row.expected_on for row in rows if row.expected_on and row.expected_on >= shop.today]
    coming = f" Next on {show_day(min(days))}." if days else ""
    overdue = f" {look(f'{len(late)} late')}: ask." if late else ""
    head = f"{plural(len(rows), 'line')} due in from {listed(list(senders), most=2)}.{coming}{overdue}"
    columns = (
        Cells("Expected"),
        Cells("Part"),
        Cells("Amount", right=True),
        Cells("Cost", right=True, folds=1),
        Cells("Supplier", folds=3),
        Cells("Late", folds=2),
    )
    cells = [_due(shop, row, alone=len(senders) == 1) for row in ordered]
    who = f" --supplier {pasted(ordered[0].supplier)}"
    following = ("When all of it is here", f"kitdrawer arrived{who} --complete")
    return draw(
        Screen(head, (), [[Listing(columns, cells, least=len(late))]], following=following),
        everything=everything,
    )


def _due(shop: Shop, row: DueIn, *, alone: bool) -> list[str]:
    late = days_late(row, shop.today)
    return [
        show_day(row.expected_on, shop.today.year) if row.expected_on else "not known",
        row.part,
        show_amount(row.quantity, shop.catalogue.part(row.part).unit),
        show_money(row.cost, shop.currency),
        "" if alone else row.supplier,
        stop(f"{plural(late, 'day')} late") if late else "",
    ]


def arrived_screen(shop: Shop, on: date, made: BookedParcel, *, everything: bool = False) -> list[str]:
    """What came and what it cost; what is not as ordered; for which orders; then line by line."""
    came = [line for line in made.proposal.lines if line.account == "shelf"]
    waiting = _waiting(shop, made.proposal)
    odd = [line for line in came if line.reason != CAME]
    rest = [line for line in came if line.reason == CAME]
    cost = show_money(sum(line.cost for line in came if line.cost_from != UNKNOWN), shop.currency)
    parts = len({line.part for line in came if line.quantity > 0})
    head = f"{made.proposal.title}, {show_day(on)}: {plural(parts, 'part')}, {cost}."
    columns = (
        Cells("Part"),
        Cells("In / out", right=True),
        Cells("Cost", right=True, folds=2),
        Cells("What", folds=1),
        Cells("For", folds=1),
    )
    ordered = [*odd, *(line for line in rest if line.part in waiting)]
    ordered += [line for line in rest if line.part not in waiting]
    notes: list[Block] = [
        Fact(look("Check") if at == 0 else "", days_in(one, on.year)) for at, one in enumerate(made.notes)
    ]
    rows = [_came(shop, line, waiting) for line in ordered]
    groups: list[Group] = [
        [Listing(columns, rows, least=len(odd))],
        notes,
        doubtful_rows(made.doubts, everything=everything),
    ]
    return draw(Screen(head, (), groups, reserved=3), everything=everything)


def _came(shop: Shop, line: Line, waiting: dict[str, str]) -> list[str]:
    sign = "−" if line.quantity < 0 else "+"
    cost = "unknown" if line.cost_from == UNKNOWN else show_money(line.cost, shop.currency).replace("-", "−")
    return [
        line.part,
        f"{sign}{show_amount(abs(line.quantity), shop.catalogue.part(line.part).unit)}",
        cost,
        "" if line.reason == CAME else look(line.reason),
        waiting.get(line.part, "") if line.quantity > 0 else "",
    ]


def _waiting(shop: Shop, made: Proposal) -> dict[str, str]:
    """By part, the orders it goes to and how much of it: `S42 4, S41 2`."""
    found: dict[str, list[str]] = {}
    for line in made.lines:
        if line.account == "claim" and line.quantity > 0:
            unit = shop.catalogue.part(line.part).unit
            found.setdefault(line.part, []).append(f"{line.order} {show_measurable(line.quantity, unit)}")
    return {part: ", ".join(several) for part, several in found.items()}
