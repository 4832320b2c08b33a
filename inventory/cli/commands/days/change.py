"""`change`: the customer wants it otherwise."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import find, fold
from inventory.cli.answers import Answer, write
from inventory.cli.json.exact import Exact, Value
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
from inventory.cli.screens.orders.promising import changed_screen
from inventory.cli.session import JsonOption, StoreOption, YesOption, booked_as, opened, say, shop_of
from inventory.jobs.orders.changing import ChangedOrder, differences, wanted_request
from inventory.jobs.orders.changing import change as work
from inventory.jobs.orders.order_check import parts_involved
from inventory.jobs.sessions.replanning import PlanOfChanged, plan_of, planned_again
from inventory.measures import currency

if TYPE_CHECKING:
    from inventory.ledger.shop import Shop
    from inventory.store import Read


Planned = tuple[ChangedOrder, PlanOfChanged | None]
"""What changes, and how the plan the order stands in fits it."""


def change(
    order: Annotated[str, typer.Argument(help="The order's name.")],
    count: CountOption = None,
    by: ByOption = "",
    blank: BlankOption = "",
    plating: PlatingOption = "",
    or_plating: OrPlatingOption = None,
    refill: RefillOption = "",
    extra_diameter: ExtraOption = "",
    pattern: Annotated[str, typer.Option(help="What is to be made.")] = "",
    price: Annotated[str, typer.Option(help="The price of a piece.")] = "",
    customer: Annotated[str, typer.Option(help="For whom.")] = "",
    confidence: ConfidenceOption = "90",
    again: Annotated[
        bool, typer.Option("--again", help="Plan its part of the session planned for it again, too.")
    ] = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """The order is wanted otherwise: judged again, and what is set aside for it moved in the same entry.

    For example:
    kitdrawer change S42 --count 4 --by 2026-12-21
    kitdrawer change S42 --blank "olivewood blank"
    kitdrawer change S42 --count 4 --again
    """
    sure = read_confidence(confidence)
    said = OrderOptions(
        pattern, plating, blank, count, by, or_plating, refill, extra_diameter, customer, price
    )

    def work_out(read: Read) -> Planned:
        made = _worked_out(read, order, said, sure, as_it_is=again)
        sessions = read.sessions()
        return planned_again(sessions, made) if again else (made, plan_of(sessions, made))

    with opened(store) as found:
        write(
            found,
            Answer(
                work_out,
                lambda made: made[0].proposal,
                lambda made: say(changed_screen(*made)),
                "Change it?",
                booked_as,
                _json,
                short=lambda made: bool(_to_buy(made[0])),
            ),
            yes=yes,
            as_json=as_json,
        )


def _worked_out(read: Read, name: str, said: OrderOptions, sure: float, *, as_it_is: bool) -> ChangedOrder:
    """The order with what was said in its place; the count is of all of it, also of what is with the customer."""
    before = find(read.orders(), "order", name)
    whole = replace(before, count=before.whole, handed=0)
    now = said.laid_over(whole, currency(read.currency))

    def looked_at(bare: Shop) -> set[str]:
        involved = {
            name
            for one in (before, now)
            for name in parts_involved(bare.catalogue, wanted_request(bare, one), min(one.due, bare.today))
        }
        return {*involved, *(claim.part for claim in bare.book.claims)}

    return work(shop_of(read, looked_at), before, now, sure, as_it_is=as_it_is)


def _to_buy(made: ChangedOrder) -> dict[str, int]:
    """What is to buy for the order now, thousandths by part."""
    name = fold(made.order.name)
    found: dict[str, int] = {}
    for line in made.proposal.lines:
        if line.account == "to buy" and fold(line.order or "") == name and line.quantity > 0:
            found[line.part] = found.get(line.part, 0) + line.quantity
    return found


def _json(_: int | None, changed: Planned) -> Mapping[str, Value]:
    made, plan = changed
    exact = Exact(made.shop.currency.exponent)
    return {
        **order_json(made.shop, made.report),
        "order": made.order.name,
        "changed": list(differences(made.shop, made.before, made.order)),
        "freed": [{"part": part.name, "quantity": exact.amount(less)} for part, less in made.freed],
        "to_buy": [{"part": part, "quantity": exact.amount(many)} for part, many in _to_buy(made).items()],
        "handed_on": [
            {"order": line.order, "part": line.part, "quantity": exact.amount(line.quantity)}
            for line in made.handed_on
            if line.account == "claim"
        ],
        "plan": None if plan is None else _plan(plan),
    }


def _plan(plan: PlanOfChanged) -> Mapping[str, Value]:
    return {
        "session": plan.session.name,
        "fits": plan.fits,
        "starts_planned": plan.was.starts,
        "starts": plan.now.starts if plan.now else 0,
        "again": plan.again.name if plan.again else None,
    }
