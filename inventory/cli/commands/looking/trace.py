"""`trace`: why is this number what it is."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated

import typer

from inventory.catalogue import Part
from inventory.cli.json.exact import Exact, Value, dumps
from inventory.cli.screens.learned import rate_json
from inventory.cli.screens.tables import Column, table, wrapped
from inventory.cli.screens.trace_rates import learned_of, rates_screen, use_json
from inventory.cli.session import JsonOption, StoreOption, opened, say, today, with_lateness
from inventory.jobs.orders.usual_values import said_usual, usual_of_parts
from inventory.jobs.stock.tracing import Trace, TraceStep
from inventory.ledger import Lot
from inventory.ledger.bottles.containers import called
from inventory.ledger.bottles.shelf_life import use_by
from inventory.ledger.costs import BY_OFFER, UNKNOWN, WORDS
from inventory.measures import Currency, currency, show_amount, show_date, show_money

CLAIMED = 5
"""The column of running claims."""


def trace(
    part: Annotated[str, typer.Argument(help="The part.")],
    last: Annotated[int, typer.Option(help="Only the last so many lines; 0 for all.", min=0)] = 0,
    everything: Annotated[
        bool, typer.Option("--all", help="What was taken back, too, line by line as it was booked.")
    ] = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Why this number: every document behind on hand, claims and cost, and every session behind a rate.

    For example:
    kitdrawer trace "Dunlin kit chrome"
    """
    from inventory.jobs.stock import tracing as job

    with opened(store) as found, found.reading() as read:
        catalogue = read.catalogue()
        known = catalogue.part(part)
        lines, ever = read.history(part), read.history(part, everything=True)
        book = with_lateness(read, read.book([part]))
        shown = ever if everything else lines
        answer = job.trace(known, shown, book, today(), len(ever) - len(shown))
        coin = currency(read.currency)
        rates, uses = learned_of(read, known)
        usual = usual_of_parts(catalogue, [known])
    if as_json:
        days = {one.document: one.on for one in uses}
        learned = {"rates": [rate_json(one, days) for one in rates], "uses": [use_json(one) for one in uses]}
        told: list[Value] = [{"of": one.of, "what": list(one.what)} for one in usual]
        say(dumps({**_json(answer, coin, last), **learned, "usual": told}))
    else:
        said = said_usual(usual)
        shown_lines = [*_screen(answer, coin, last), *rates_screen(known, rates, uses)]
        say([*shown_lines, *(["", *wrapped(said)] if said else [])])


def _shown(steps: Sequence[TraceStep], last: int) -> Sequence[TraceStep]:
    return steps[-last:] if last else steps


def _json(answer: Trace, coin: Currency, last: int) -> dict[str, Value]:
    exact = Exact(coin.exponent)
    return {
        "part": answer.part.name,
        "unit": answer.part.unit,
        "currency": coin.code,
        "on_hand": exact.amount(answer.balance.on_hand),
        "claimed": exact.amount(answer.balance.claimed),
        "out_of_date": exact.amount(answer.off),
        "free": exact.amount(answer.free[0][1]),
        "due_in": exact.amount(answer.balance.due_in),
        "to_buy": exact.amount(answer.balance.to_buy),
        "worth": exact.money(answer.worth),
        "left_out": answer.left_out,
        "unknown": exact.amount(answer.unknown),
        "free_by_day": [{"from": day, "free": exact.amount(free)} for day, free in answer.free],
        "lines": [
            {
                "document": step.document,
                "kind": step.kind,
                "title": step.title,
                "on": step.on,
                "account": step.account,
                "quantity": exact.amount(step.quantity),
                "cost": exact.money(step.cost),
                "lot": step.lot,
                "order": step.order or None,
                "reason": step.reason,
                "on_hand": exact.amount(step.on_hand),
                "claimed": exact.amount(step.claimed),
                "worth": exact.money(step.worth),
            }
            for step in _shown(answer.steps, last)
        ],
        "lots": [
            {
                "lot": lot.id,
                "name": lot.name or None,
                "received_on": lot.received_on,
                "opened_on": lot.opened_on,
                "use_by": use_by(answer.part, lot),
                "quantity": exact.amount(lot.quantity),
                "cost": exact.money(None if lot.cost_from == UNKNOWN else lot.cost),
                "cost_from": WORDS[lot.cost_from],
            }
            for lot in answer.lots
        ],
    }


def _screen(answer: Trace, coin: Currency, last: int) -> list[str]:
    part, balance = answer.part, answer.balance
    off = f"{show_amount(answer.off, part.unit)} gone off, " if answer.off else ""
    head = (
        f"{part.name}: {show_amount(balance.on_hand, part.unit)} on hand, {off}"
        f"{show_amount(balance.claimed, part.unit)} claimed, {show_amount(answer.free[0][1], part.unit)} free, "
        f"worth {_worth(answer, coin)}."
    )
    steps = _shown(answer.steps, last)
    lines = [
        *wrapped(head),
        *(["", *_table(steps, part, coin)] if steps else ["Nothing was ever booked of it."]),
    ]
    if answer.left_out:
        lines += ["", *wrapped(f"Left out: {answer.left_out} lines that were taken back (--all shows them).")]
    if len(answer.free) > 1:
        told = (f"{show_amount(free, part.unit)} from {show_date(day)}" for day, free in answer.free)
        lines += ["", *wrapped(f"Free to promise: {', '.join(told)}.")]
    if answer.lots:
        lines += ["", "Lots left, first in first:"]
        for lot in answer.lots:
            good = use_by(part, lot)
            lines += wrapped(
                f"{called(lot)}: {show_amount(lot.quantity, part.unit)}, "
                f"{_lot_cost(lot, coin)}"
                f"{f', received {show_date(lot.received_on)}' if lot.received_on else ''}"
                f"{f', use by {show_date(good)}' if good else ''}",
                "· ",
            )
    return lines


def _worth(answer: Trace, coin: Currency) -> str:
    """What is known of it, and how much of it is not."""
    known = show_money(answer.worth, coin)
    if not answer.unknown:
        return known
    unknown = f"what {show_amount(answer.unknown, answer.part.unit)} of it cost is unknown"
    return f"{known}; {unknown}" if answer.worth else f"nobody knows what: {unknown}"


def _lot_cost(lot: Lot, coin: Currency) -> str:
    known = show_money(lot.cost, coin)
    return ("cost unknown" if lot.cost_from == UNKNOWN else known) + " by the offer" * (
        lot.cost_from == BY_OFFER
    )


def _table(steps: Sequence[TraceStep], part: Part, coin: Currency) -> list[str]:
    """The steps; the claims have a column only where there are any, which leaves more room for the words."""
    columns = [
        Column("No.", right=True),
        Column("Day"),
        Column("What", gives=True),
        Column("In / out", right=True),
        Column("On hand", right=True),
        Column("Claimed", right=True),
        Column("Cost", right=True),
    ]
    kept = [at for at in range(len(columns)) if at != CLAIMED or any(step.claimed for step in steps)]
    rows = [_cells(step, part, coin) for step in steps]
    return table([columns[at] for at in kept], [[row[at] for at in kept] for row in rows])


def _cells(step: TraceStep, part: Part, coin: Currency) -> list[str]:
    reason = step.reason or step.kind
    what = f"{reason} for {step.order}" if step.order else f"{reason}: {step.title}"
    if step.reason == "undone":
        what = step.title
    account = "" if step.account == "shelf" else f" {step.account}"
    sign = "+" if step.quantity > 0 else "−" if step.quantity < 0 else ""
    return [
        str(step.document),
        show_date(step.on),
        what,
        f"{sign}{show_amount(abs(step.quantity), part.unit)}{account}",
        show_amount(step.on_hand, part.unit),
        show_amount(step.claimed, part.unit) if step.claimed else "",
        show_money(step.cost, coin).replace("-", "−") if step.account == "shelf" else "",
    ]
