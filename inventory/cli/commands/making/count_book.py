"""`count book`: what was really there."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.answers import Answer, answered
from inventory.cli.drawing.draw import command
from inventory.cli.drawing.texts import pasted
from inventory.cli.entering.asked import read_asking
from inventory.cli.json.exact import Exact, Value, dumps
from inventory.cli.past.used import past_of
from inventory.cli.screens.making.counting import count_reasons, count_screen
from inventory.cli.session import (
    AllOption,
    JsonOption,
    StoreOption,
    WhyOption,
    YesOption,
    booked_as,
    ended,
    existing,
    opened,
    say,
    shop_of,
)
from inventory.jobs.counting.count_booking import (
    CountReport,
    FoundDifference,
    Moved,
    Since,
    book_count,
    checked_rows,
)
from inventory.measures import Currency, currency

if TYPE_CHECKING:
    from inventory.reports.filled import FilledCounts
    from inventory.store import Read


def count_book(
    sheet: Annotated[Path, typer.Argument(readable=False, metavar="FILE", help="The filled count sheet.")],
    as_counted: Annotated[
        bool, typer.Option("--as-counted", help="Book large differences without a second count.")
    ] = False,
    every: AllOption = False,
    why: WhyOption = False,
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

    path = existing(sheet, "count sheet --save count.xlsx")
    with opened(store) as found:
        with found.reading() as read:
            known, coin = read.catalogue(), currency(read.currency)
        filled = read_asking(lambda said: read_counts(path, known, said), ask=not (yes or as_json))

        def work_out(read: Read) -> CountReport:
            return _work_out(read, filled, as_counted)

        def show(made: CountReport) -> None:
            say((count_reasons if why else count_screen)(made, coin, everything=every))
            if not (made.books or why):
                say(command(*_following(made, path)))

        with found.reading() as read:
            report = work_out(read)
        if not report.books:
            show(report) if not as_json else say(dumps({"entry": None, **_json(report, None, coin)}))
        else:
            answer = Answer(
                work_out,
                lambda made: made.proposal,
                show,
                "Book this count?",
                lambda number, made: booked_as(number, made, _following(made, path)),
                lambda number, made: _json(made, number, coin),
            )
            _, report = answered(found, answer, yes=yes, as_json=as_json)
    ended(short=bool(report.asked_again))


def _following(report: CountReport, path: Path) -> tuple[str, str]:
    """Rows that are counted again come first, then what promises lack."""
    if report.asked_again:
        return "When they are counted", f"kitdrawer count book {pasted(str(path))}"
    return ("Buy", "kitdrawer shopping") if report.short else ("What is low now", "kitdrawer shelf --low")


def _work_out(read: Read, filled: FilledCounts, as_counted: bool) -> CountReport:
    shop, since = shop_of(read), Since()
    if filled.mark == read.mark():
        moved = {key: Moved(*both) for key, both in read.moved_since(filled.version).items()}
        since = Since(moved, read.counted_by())
    past = past_of(read, checked_rows(shop, filled))
    return book_count(shop, filled, read.mark(), since=since, context=past, as_counted=as_counted)


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
