"""A count: what is worth counting, and what differs from the book."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from inventory.cli.drawing.blocks import Block, Cells, Fact, Group, Listing, Screen, Sentence, Whole
from inventory.cli.drawing.colour import look, stop
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.screens.entry import labelled
from inventory.jobs.counting.count_booking import CountReport, FoundDifference
from inventory.measures import Currency, listed, plural, show_amount, show_day, show_measurable, show_money
from inventory.measures.dates import days_in
from inventory.reports.session_sheet import CountSheet


def sheet_screen(
    sheet: CountSheet, save: Path | None, files: Sequence[Path], today: date, *, everything: bool
) -> list[str]:
    """How many rows there are to count, the most worth it first."""
    if not sheet.rows:
        return draw(Screen(f"There is nothing like that to count, {show_day(today)}."))
    columns = (Cells("Part"), Cells("Booked", right=True), Cells("Why", folds=1))
    rows = [
        [
            f"{row.part}, {row.name}" if row.lot else row.part,
            "" if row.booked is None else show_measurable(row.booked, row.unit, down=True),
            days_in(row.why, today.year),
        ]
        for row in sheet.rows
    ]
    head = f"{plural(len(rows), 'row')} to count, {show_day(today)}."
    saved = [Whole("Saved", str(path)) for path in files]
    following = ("For a sheet", "kitdrawer count sheet --save count.xlsx")
    if files and save is not None:
        following = ("Fill it and book it", f"kitdrawer count book {pasted(str(save))}")
    groups: list[Group] = [[Listing(columns, rows, least=0)], saved]
    return draw(Screen(head, (), groups, following=following), everything=everything)


def count_screen(report: CountReport, coin: Currency, *, everything: bool = False) -> list[str]:
    """What differs, with the likeliest reason; what is to be counted again; what promises lack by it."""
    on = report.proposal.on
    lacks = [
        f"{one.order}{f', due {show_day(one.due, on.year)}' if one.due else ''}, now lacks "
        f"{show_measurable(one.quantity, one.unit)} {one.part}"
        for one in report.short
    ]
    again: list[Block] = []
    if report.asked_again:
        once_more = f"{look('Count these once more')}, and write it under “second count” of the same sheet:"
        sure = "They are not booked. What you are sure of is booked by --as-counted."
        again = [Sentence(once_more), _listing(report.asked_again, coin, on), Sentence(sure)]
    groups: list[Group] = [
        [_listing(report.found, coin, on)],
        again,
        [
            Fact("Cost", _cost(report, coin)),
            *labelled(stop("Short"), lacks, on.year),
            *labelled("Check", report.announced, on.year),
        ],
    ]
    doors = [("Every reason", "--why")] if report.found or report.asked_again else []
    return draw(Screen(_headline(report), (), groups, doors=doors, reserved=3), everything=everything)


def count_reasons(report: CountReport, coin: Currency, *, everything: bool = True) -> list[str]:
    """Of each difference every likely reason, and why it is to be counted again."""
    year = report.proposal.on.year
    groups: list[Group] = []
    for one in (*report.found, *report.asked_again):
        said = one.difference
        there = (
            f"{show_amount(said.counted, said.unit)} there, {show_amount(said.expected, said.unit)} expected"
        )
        why = [f"to be counted again: {one.again}"] if one.again else []
        reasons = [Sentence(days_in(text, year), "· ") for text in (*why, *said.likely)]
        groups.append([Sentence(f"{_name(one)}: {there}."), *reasons])
    return draw(
        Screen(_headline(report), (), [*groups, [Fact("Cost", _cost(report, coin))]]), everything=everything
    )


def _headline(report: CountReport) -> str:
    differs = plural(len(report.found) + len(report.asked_again), "row differs", "rows differ")
    right = plural(report.right, "row is", "rows are") if report.right else "none is"
    return f"{differs}, {right} as the book has it, {show_day(report.proposal.on)}."


def _cost(report: CountReport, coin: Currency) -> str:
    if not report.found:
        return ""
    lacks = f", without {listed(report.unpriced)}, of unknown cost" if report.unpriced else ""
    return f"the shelf's changes by {show_money(report.cost, coin).replace('-', '−')}{lacks}"


def _listing(rows: Sequence[FoundDifference], coin: Currency, on: date) -> Listing:
    columns = (
        Cells("Part"),
        Cells("Counted", right=True),
        Cells("Expected", right=True, folds=2),
        Cells("Worth", right=True, folds=3),
        Cells("Most likely", folds=1),
    )
    return Listing(columns, [_cells(one, coin, on.year) for one in rows], least=1)


def _name(one: FoundDifference) -> str:
    return f"{one.difference.part}, {one.lot}" if one.lot else one.difference.part


def _cells(one: FoundDifference, coin: Currency, year: int) -> list[str]:
    said = one.difference
    reason = stop("UNEXPLAINED") if said.unexplained or not said.likely else days_in(said.likely[0], year)
    return [
        _name(one),
        show_amount(said.counted, said.unit),
        show_amount(said.expected, said.unit),
        "unknown" if one.value is None else show_money(one.value, coin).replace("-", "−"),
        days_in(one.again, year) if one.again else reason,
    ]
