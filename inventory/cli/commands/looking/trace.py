"""`trace`: why is this number what it is."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated

import typer

from inventory.cli.json.exact import Exact, Value, dumps
from inventory.cli.screens.learned import rate_json
from inventory.cli.screens.looking.trace import Taught, trace_screen
from inventory.cli.screens.trace_rates import learned_of, use_json
from inventory.cli.session import JsonOption, StoreOption, opened, say, today, with_lateness
from inventory.jobs.orders.usual_values import said_usual, usual_of_parts
from inventory.jobs.stock.tracing import Trace, TraceStep
from inventory.ledger.bottles.shelf_life import use_by
from inventory.ledger.costs import UNKNOWN, WORDS
from inventory.measures import Currency, currency


def trace(
    part: Annotated[str, typer.Argument(help="The part.")],
    last: Annotated[int, typer.Option(help="Only the last so many lines; 0 for all.", min=0)] = 0,
    everything: Annotated[
        bool, typer.Option("--all", help="What was taken back, too, line by line as it was booked.")
    ] = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Why this number: every entry behind what is on hand, set aside and its cost; every session behind a rate.

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
        taught = {"rates": [rate_json(one, days) for one in rates], "uses": [use_json(one) for one in uses]}
        told: list[Value] = [{"of": one.of, "what": list(one.what)} for one in usual]
        say(dumps({**_json(answer, coin, last), **taught, "usual": told}))
    else:
        learned = Taught(rates, uses, said_usual(usual))
        say(
            trace_screen(answer, _shown(answer.steps, last), coin, learned, everything=everything or last > 0)
        )


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
