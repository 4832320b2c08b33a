"""`can-take`: the main question, answered before anything is promised."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import Order, find, fold
from inventory.cli.json.exact import Value, dumps
from inventory.cli.json.order import order_json
from inventory.cli.order_options import (
    BlankOption,
    ByOption,
    ConfidenceOption,
    CountOption,
    ExtraOption,
    OrderOptions,
    OrPlatingOption,
    PlatingOption,
    RefillOption,
    read_confidence,
)
from inventory.cli.past.asked_for import with_leaves
from inventory.cli.screens.orders.can_take import order_in_full, order_reasons, order_screen
from inventory.cli.screens.orders.facts import asked
from inventory.cli.screens.orders.many import many_screen
from inventory.cli.screens.safety import safety_screen
from inventory.cli.session import (
    AllOption,
    JsonOption,
    SafetyOption,
    StoreOption,
    WhyOption,
    ended,
    existing,
    opened,
    say,
    shop_of,
)
from inventory.errors import BadInput, KitdrawerError, Refused
from inventory.jobs.hours.time_left import with_hours
from inventory.jobs.orders.alternatives import YES, Alternative, alternatives, wanted_parts
from inventory.jobs.orders.order_check import OrderReport, check, parts_involved
from inventory.jobs.orders.requests import OrderRequest, refuse_retired, request_of
from inventory.jobs.orders.reserving import in_turn, without_claims
from inventory.jobs.sessions.safety import making_safety
from inventory.ledger.shop import Shop

if TYPE_CHECKING:
    from inventory.store import Read


def can_take(
    pattern: Annotated[str, typer.Argument(help="What is to be made.")] = "",
    plating: PlatingOption = "",
    blank: BlankOption = "",
    count: CountOption = None,
    by: ByOption = "",
    order: Annotated[str, typer.Option(help="An order in the book, not the options.")] = "",
    confidence: ConfidenceOption = "90",
    or_plating: OrPlatingOption = None,
    refill: RefillOption = "",
    extra_diameter: ExtraOption = "",
    sheet: Annotated[
        Path | None,
        typer.Option(readable=False, help="An orders sheet: all of its orders, each after those before it."),
    ] = None,
    every: AllOption = False,
    why: WhyOption = False,
    safety: SafetyOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Can I take this order? From the shelf, after buying, too late, or not at all; and why.

    For example:
    kitdrawer can-take --order S42
    kitdrawer can-take --order S42 --safety
    kitdrawer can-take "Dunlin pen" -p gunmetal -b "walnut blank" --by 2026-12-20
    """
    sure = read_confidence(confidence)
    said = OrderOptions(pattern, plating, blank, count, by, or_plating, refill, extra_diameter)
    _one_question(order, sheet, said)
    with opened(store) as found, found.reading() as read:
        if sheet is not None:
            reports, shop = _sheet(read, existing(sheet), sure)
            _answer_many(reports, shop, sheet, as_json)
            return
        request = request_of(order_named(read, order), sure) if order else said.request(sure)
        whole = whole_shop(read, request)
        shop = without_claims(whole, request.order) if request.order else whole
        if not (order and shop.book.orders[fold(request.order)].state == "promised"):
            refuse_retired(shop.catalogue, request)
        report = with_leaves(read, shop, with_hours(shop, check(shop, request, exactly=True)))
        found_instead = instead_of(read, whole, report)
    if as_json:
        say(dumps({**order_json(shop, report), "instead": [_alternative(one) for one in found_instead]}))
    elif safety:
        cautions = making_safety(shop, [(report.resolved, report.plan)], selling=True)
        say(safety_screen(cautions, asked(shop, report)))
    elif why:
        say(order_reasons(shop, report))
    else:
        say((order_in_full if every else order_screen)(shop, report, found_instead))
    ended(short=report.verdict != "from the shelf")


def instead_of(read: Read, whole: Shop, report: OrderReport) -> Sequence[Alternative]:
    """What could be taken in its place, where it cannot be taken; nothing more is read where it can.

    A tool that the book does not know lacks for every plating, blank and count of a pattern alike.
    """
    if report.verdict in YES or report.plan.unknown_tools:
        return ()
    request, resolved = report.resolved.request, report.resolved
    shop = shop_of(read, lambda bare: wanted_parts(bare, request, resolved), before=whole)
    shop = without_claims(shop, request.order) if request.order else shop
    return alternatives(shop, report, lambda other: with_hours(shop, check(shop, other, exactly=True)))


def _alternative(one: Alternative) -> dict[str, Value]:
    return {
        "what": one.what,
        "value": one.value,
        "verdict": one.report.verdict,
        "earliest": one.report.earliest,
    }


def _one_question(order: str, sheet: Path | None, options: OrderOptions) -> None:
    """Raises BadInput where an order, a sheet and options of a request are mixed: half of it would be left unheard."""
    said = [
        name
        for name, there in (
            ("--order", bool(order)),
            ("--sheet", sheet is not None),
            ("an enquiry by options", bool(options)),
        )
        if there
    ]
    if len(said) > 1:
        raise BadInput(
            f"{' and '.join(said)} are different questions.",
            hint="Say one of them, and leave the others out.",
        )


def order_named(read: Read, name: str) -> Order:
    """An order noted in the book. Raises UnknownName, or Refused where it is over."""
    order = find(read.orders(), "order", name)
    if order.state == "handed over":
        raise Refused(f"The order “{order.name}” is handed over.", hint="`orders` shows what is open.")
    return order


def whole_shop(read: Read, request: OrderRequest) -> Shop:
    """The shop with the lots and offers this request may touch, every claim as it stands."""
    return shop_of(read, lambda bare: parts_involved(bare.catalogue, request, bare.today))


def _sheet(read: Read, path: Path, confidence: float) -> tuple[list[OrderReport], Shop]:
    from inventory.sheets.stock.reader import read_sheets

    shop = shop_of(read)
    intake = read_sheets(
        [path], shop.catalogue, shop.book.orders, shop.currency, today=shop.today, csv_tab="orders"
    )
    reports = []
    for _, report in in_turn(shop, intake.orders, confidence):
        if isinstance(report, KitdrawerError):
            raise report
        reports.append(report)
    return reports, shop


def _answer_many(reports: Sequence[OrderReport], shop: Shop, sheet: Path, as_json: bool) -> None:
    if as_json:
        say(dumps({"orders": [order_json(shop, report) for report in reports]}))
    else:
        say(many_screen(reports, shop.book.orders, str(sheet)))
    ended(short=any(report.verdict != "from the shelf" for report in reports))
