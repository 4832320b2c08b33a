"""Enquiries and promises, and how each stands; one of them with what is set aside and what is missing."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from inventory.cli.drawing.blocks import Cells, Listing, Screen
from inventory.cli.drawing.colour import stop
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.jobs.orders.reserving import IN_TURN
from inventory.jobs.orders.standing.listing import Standing
from inventory.ledger.shop import Shop
from inventory.measures import plural, show_amount, show_day, show_measurable
from inventory.measures.dates import days_in

STATES = {"wish": "enquiry"}
"""How a state is called on screens, where it is called otherwise in the book."""
PAGE = 10
"""Orders that are never folded: the earliest due."""


def orders_screen(answer: Sequence[Standing], today: date, *, everything: bool) -> list[str]:
    """How many there are and which is due next, then a row each, the earliest due first."""
    if not answer:
        return ["No orders."]
    columns = (
        Cells("Order"),
        Cells("Due"),
        Cells("Pieces", right=True, folds=1),
        Cells("Pattern", folds=2, keeps=12),
        Cells("How it stands", keeps=16),
        Cells("State", folds=1),
    )
    rows = [
        [
            one.order.name,
            show_day(one.order.due, today.year),
            str(one.order.count),
            one.order.pattern,
            _stands(one, today.year),
            STATES.get(one.order.state, one.order.state),
        ]
        for one in answer
    ]
    enquiries = sum(one.order.state == "wish" for one in answer)
    screen = Screen(
        _headline(answer),
        (),
        [[Listing(columns, rows, least=PAGE, rest=lambda many: f"and {many} due later: --all")]],
        IN_TURN if enquiries > 1 else "",
        following=("One in full", f"kitdrawer orders {pasted(answer[0].order.name)}"),
    )
    return draw(screen, everything=everything)


def _headline(answer: Sequence[Standing]) -> str:
    promised = [one for one in answer if one.order.state == "promised"]
    enquiries = sum(one.order.state == "wish" for one in answer)
    counts = [(len(promised), "promise"), (len(answer) - len(promised) - enquiries, "over")]
    said = [f"{many} over" if word == "over" else plural(many, word) for many, word in counts if many]
    said += [plural(enquiries, "enquiry", "enquiries")] if enquiries else []
    late = sum(one.late for one in promised)
    lacking = f" {stop(f'{late} cannot be kept as things are')}." if late else ""
    first = next(iter(promised), answer[0])
    day = show_day(first.order.due)
    return f"{', '.join(said)}. Next is {first.order.name}, due {day}: {_stands(first, first.order.due.year)}.{lacking}"


def _stands(one: Standing, year: int) -> str:
    return days_in(one.stands, year)


def order_in_hand(shop: Shop, one: Standing, *, everything: bool) -> list[str]:
    """How it stands and when it is due; of its parts those that are not on the shelf, the others with everything."""
    order = one.order
    state = STATES.get(order.state, order.state)
    whom = f"{order.customer}: " if order.customer else ""
    blank = order.blank if order.wished_blank == order.blank else order.blanks
    what = f"{order.count} × {order.pattern}, {' or '.join(order.platings)}, {blank}"
    if order.blanks and blank == order.blank:
        what += f" ({order.blanks} would do)"
    where = {"claim": "set aside", "due claim": "due in", "to buy": "TO BUY"}
    shown = [claim for claim in one.claims if everything or claim.account != "claim"]
    amount = show_amount if everything else show_measurable
    rows = [
        [
            claim.part,
            amount(claim.quantity, shop.catalogue.part(claim.part).unit),
            stop(where[claim.account]) if claim.account == "to buy" else where[claim.account],
        ]
        for claim in shown
    ]
    columns = (Cells("Part"), Cells("Amount", right=True), Cells("Where"))
    aside = len({claim.part for claim in one.claims} - {claim.part for claim in shown})
    other = "other " if shown else ""
    rest = f"The {other}{plural(aside, 'part is', 'parts are')} set aside" if aside else ""
    screen = Screen(
        f"{order.name}, {state}: {_stands(one, order.due.year)}. Due {show_day(order.due)}.",
        [f"{whom}{what}"],
        [[Listing(columns, rows, least=PAGE)]],
        rest,
        [("Every part", "--all")] if aside else [],
        _following(one),
    )
    return draw(screen, everything=everything)


def _following(one: Standing) -> tuple[str, str] | None:
    """What is done next with an order as it stands."""
    name = pasted(one.order.name)
    if one.order.state == "wish":
        return "Can it be taken", f"kitdrawer can-take --order {name}"
    if one.order.state != "promised":
        return None
    if any(claim.account == "to buy" for claim in one.claims):
        return "Buy", "kitdrawer shopping"
    if one.stands.startswith("finished"):
        return "It is fetched", f"kitdrawer handed-over {name}"
    return "Make it", f"kitdrawer plan {name}"
