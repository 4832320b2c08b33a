"""What is shown before an order is promised or changed: the answer, what is missing, the price, what to check."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.cli.drawing.blocks import Block, Fact, Screen, Sentence
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.screens.orders.can_take import rest
from inventory.cli.screens.orders.facts import (
    asked,
    buying,
    checking,
    headline,
    instead,
    leaving,
    making,
    money,
    numbered,
)
from inventory.jobs.orders.alternatives import Alternative
from inventory.jobs.orders.changing import ChangedOrder
from inventory.jobs.orders.order_check import OrderReport
from inventory.jobs.orders.usual_values import said_usual, usual_values
from inventory.jobs.sessions.replanning import PlanOfChanged
from inventory.jobs.sessions.safety import making_safety
from inventory.ledger.shop import Shop
from inventory.measures import listed, show_measurable
from inventory.measures.dates import days_in


def promise_screen(shop: Shop, report: OrderReport, found: Sequence[Alternative] = ()) -> list[str]:
    """What matters before saying yes; what belongs at the bench (cuts, tools, hazards) is said by `can-take`.

    found: what could be taken in its place.
    """
    usual = said_usual(usual_values(shop, [report]))
    selling = making_safety(shop, [(report.resolved, report.plan)], selling=True).selling
    beside: list[Block] = [
        *leaving(report),
        *money(shop, report),
        *checking(report),
        Fact("Usual", usual.partition(": ")[2] and f"not your own: {usual.partition(': ')[2]}"),
        Fact("Selling", selling),
    ]
    groups = [making(report), [*buying(shop, report, every=True), *instead(report, found), *beside]]
    return draw(Screen(headline(report), [asked(shop, report)], groups, rest(report, every=True), reserved=4))


def changed_screen(made: ChangedOrder, plan: PlanOfChanged | None = None) -> list[str]:
    """What changes of an order, the answer as it is wanted now, and what is missing or free again."""
    shop, report = made.shop, made.report
    year = report.resolved.request.due.year
    changes: list[Block] = [Fact("Change", f"{days_in(_said(made), year)}.")]
    if report.verdict in ("too late", "cannot"):
        changes += [Sentence(one, "· ") for one in numbered(report.why, year)]
    if made.freed:
        some = [f"{show_measurable(less, part.unit)} {part.name}" for part, less in made.freed]
        changes.append(Fact("Free", f"{listed(some)}: no longer needed for it."))
    changes += [
        Fact("Goes on", f"{line.part}: some goes to “{line.order}”, which waited for it.")
        for line in made.handed_on
        if line.account == "claim"
    ]
    changes.append(Fact("Blank", report.blank_because))
    changes += [] if plan is None else [Fact("Plan", plan_says(plan, made.order.name))]
    groups = [changes, [*buying(shop, report), *money(shop, report)]]
    return draw(Screen(headline(report), [asked(shop, report)], groups))


def _said(made: ChangedOrder) -> str:
    """What of it changes: its name stands above."""
    return made.proposal.title.removeprefix(f"Change {made.order.name}: ")


def plan_says(plan: PlanOfChanged, order: str) -> str:
    """Whether the plan still fits, and what to run where it does not."""
    was, now = plan.was.starts, plan.now.starts if plan.now else 0
    begin = f"{now} to begin, not {was}" if now != was else f"{now} to begin as before, but of other parts"
    names = listed([one.name for one in (plan.session, *plan.others)])
    if plan.again is not None:
        return f"{names} is planned again as {plan.again.name}: {begin}; its sheet is to be saved again."
    if plan.fits:
        return f"{names} {'fit as they were' if plan.others else 'fits as it was'} planned."
    anew = "plan --again" if plan.others else f"change {pasted(order)} --again"
    return f"{names} no longer fit{'' if plan.others else 's'}: {begin}. Plan again: kitdrawer {anew}"
