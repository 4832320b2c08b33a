"""`count book`: what was really there."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.answers import Answer, answered
from inventory.cli.entering.asked import read_asking
from inventory.cli.json.exact import Exact, Value, dumps
from inventory.cli.past import past_of
from inventory.cli.screens.tables import Column, table, wrapped
from inventory.cli.session import JsonOption, StoreOption, YesOption, ended, existing, opened, say, shop_of
from inventory.jobs.counting.count_booking import (
    CountReport,
    FoundDifference,
    Moved,
    Since,
    book_count,
    checked_rows,
)
from inventory.measures import Currency, currency, listed, plural, show_amount, show_date, show_money

if TYPE_CHECKING:
    from inventory.reports.filled import FilledCounts
    from inventory.store import Read


def count_book(
    sheet: Annotated[Path, typer.Argument(readable=False, metavar="FILE", help="The filled count sheet.")],
    as_counted: Annotated[
        bool, typer.Option("--as-counted", help="Book large differences without a second count.")
    ] = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Book a filled count sheet: differences with their likely reasons; large ones are asked for again.

    For example:
    kitdrawer count book count.xlsx
    kitdrawer count book count.xlsx --as-counted
    """
    from inventory.sheets.counts.reading import read_counts

    path = existing(sheet)
    with opened(store) as found:
        with found.reading() as read:
            known, coin = read.catalogue(), currency(read.currency)
        filled = read_asking(lambda said: read_counts(path, known, said), ask=not (yes or as_json))

        def work_out(read: Read) -> CountReport:
            return _work_out(read, filled, as_counted)

        with found.reading() as read:
            report = work_out(read)
        if not report.books:
            say(dumps({"entry": None, **_json(report, None, coin)}) if as_json else _screen(report, coin))
        else:
            answer = Answer(
                work_out,
                lambda made: made.proposal,
                lambda made: say(_screen(made, coin)),
                "Book this count?",
                lambda number, _: say(_booked(number)),
                lambda number, made: _json(made, number, coin),
            )
            _, report = answered(found, answer, yes=yes, as_json=as_json)
    ended(short=bool(report.asked_again))


def _work_out(read: Read, filled: FilledCounts, as_counted: bool) -> CountReport:
    shop, since = shop_of(read), Since()
    if filled.mark == read.mark():
        moved = {key: Moved(*both) for key, both in read.moved_since(filled.version).items()}
        since = Since(moved, read.counted_by())
    past = past_of(read, checked_rows(shop, filled))
    return book_count(shop, filled, read.mark(), since=since, context=past, as_counted=as_counted)


def _booked(number: int | None) -> str:
    if number is None:
        return "Nothing was booked."
    return f"Booked (entry {number}). Take it back: kitdrawer undo"


def _json(report: CountReport, number: int | None, coin: Currency) -> dict[str, Value]:
    exact = Exact(coin.exponent)
    return {
        "document": number,
        "currency": coin.code,
        "right": report.right,
        "cost": exact.money(report.cost),
        "unpriced": list(report.unpriced),
        "differences": [_difference(one, exact) for one in report.found],
        "count_again": [{**_difference(one, exact), "again": one.again} for one in report.asked_again],
        "short": [
            {"order": one.order, "part": one.part, "short": exact.amount(one.quantity), "due": one.due}
            for one in report.short
        ],
        "announced": list(report.announced),
    }


def _difference(one: FoundDifference, exact: Exact) -> dict[str, Value]:
    said = one.difference
    return {
        "part": said.part,
        **({"lot": one.lot} if one.lot else {}),
        "expected": exact.amount(said.expected),
        "counted": exact.amount(said.counted),
        "difference": exact.amount(said.difference),
        "value": exact.money(one.value),
        "likely": list(said.likely),
    }


def _screen(report: CountReport, coin: Currency) -> list[str]:
    lines = [line for text in report.announced for line in wrapped(text, "· ")]
    right = plural(report.right, "row is as the book has it", "rows are as the book has them")
    lines.append(f"{right}.")
    if report.found:
        lines += ["", *_differences(report.found, coin)]
        changes = f"The shelf's cost changes by {show_money(report.cost, coin)}"
        lacks = f", without {listed(report.unpriced)}, of unknown cost" if report.unpriced else ""
        lines += ["", *wrapped(f"{changes}{lacks}.")]
    if report.asked_again:
        lines += ["", *wrapped("Count these once more, and write it under “second count” of the same sheet:")]
        lines += ["", *_differences(report.asked_again, coin)]
        lines += ["", *wrapped("They are not booked. What you are sure of is booked by --as-counted.")]
    for one in report.short:
        when = f", due {show_date(one.due)}" if one.due else ""
        lines += wrapped(
            f"{one.order}{when}, now lacks {show_amount(one.quantity, one.unit)} {one.part}.", "! "
        )
    return lines


def _differences(rows: Sequence[FoundDifference], coin: Currency) -> list[str]:
    columns = (
        Column("Part", gives=True),
        Column("Expected", right=True),
        Column("Counted", right=True),
        Column("Difference", right=True),
        Column("Worth", right=True),
    )
    lines = table(columns, [_cells(one, coin) for one in rows])
    for one in rows:
        lines += ["", f"{_name(one)}:"]
        why = [f"to be counted again: {one.again}"] if one.again else []
        for text in [*why, *one.difference.likely]:
            lines += wrapped(text, "  - ")
    return lines


def _name(one: FoundDifference) -> str:
    return f"{one.difference.part}, {one.lot}" if one.lot else one.difference.part


def _cells(one: FoundDifference, coin: Currency) -> list[str]:
    said = one.difference
    sign = "+" if said.difference > 0 else ""
    return [
        _name(one),
        show_amount(said.expected, said.unit),
        show_amount(said.counted, said.unit),
        sign + show_amount(said.difference, said.unit),
        "unknown" if one.value is None else show_money(one.value, coin),
    ]
