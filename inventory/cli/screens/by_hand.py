"""What one line typed by hand changes: on the screen and as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from inventory.cli.drawing.blocks import Block, Fact, Screen
from inventory.cli.drawing.colour import look, stop
from inventory.cli.drawing.draw import draw
from inventory.cli.json.exact import Exact, Value
from inventory.ledger.costs import BY_OFFER, UNKNOWN, WORDS
from inventory.measures import Currency, show_amount, show_day, show_measurable, show_money
from inventory.measures.dates import days_in
from inventory.reports.shortfalls import Shortfall

if TYPE_CHECKING:
    from inventory.jobs.days.by_hand import ByHand


def by_hand_screen(made: ByHand, coin: Currency) -> list[str]:
    """What is booked and what is there then, before the question; below it what orders get or lack by it."""
    unit, on = made.part.unit, made.proposal.on
    there = show_measurable(made.on_hand, unit, down=True)
    free = (
        "all free" if made.free == made.on_hand > 0 else f"{show_measurable(made.free, unit, down=True)} free"
    )
    head = f"{days_in(made.proposal.title, on.year)}, {show_day(on)}: {there} on hand, {free}."
    gained = [
        f"{show_amount(one.quantity, unit)} for “{one.order}”, which waited for it" for one in made.gained
    ]
    facts: list[Block] = [Fact("Cost", _cost(made, coin)), Fact("Orders", "; ".join(gained))]
    facts += [Fact(stop("Short"), _lacks(one)) for one in made.short]
    facts.append(Fact(look("Check"), f"Is the price right? {made.doubt}" if made.doubt else ""))
    facts += noted(made.notes, on.year)
    return draw(Screen(head, (), [facts], reserved=3))


def _lacks(one: Shortfall) -> str:
    """What an order lacks by it."""
    return f"“{one.order}” lacks {show_amount(one.quantity, one.unit)} now, which was set aside for it"


def noted(notes: Sequence[str], year: int) -> list[Block]:
    """What else is to be known, under one label."""
    return [Fact("Note" if at == 0 else "", days_in(one, year)) for at, one in enumerate(notes)]


def by_hand_json(made: ByHand, coin: Currency) -> dict[str, Value]:
    """The same for programs."""
    exact = Exact(coin.exponent)
    return {
        "title": made.proposal.title,
        "part": made.part.name,
        "unit": made.part.unit,
        "currency": coin.code,
        "quantity": exact.amount(made.quantity),
        "cost": exact.money(None if made.cost_from == UNKNOWN else made.cost),
        "cost_from": WORDS[made.cost_from],
        "on_hand": exact.amount(made.on_hand),
        "free": exact.amount(made.free),
        "for_orders": [
            {"order": line.order, "quantity": exact.amount(line.quantity)} for line in made.gained
        ],
        "short": [{"order": one.order, "quantity": exact.amount(one.quantity)} for one in made.short],
        "notes": list(made.notes),
        "doubtful": made.doubt or None,
    }


def _cost(made: ByHand, coin: Currency) -> str:
    if made.cost_from == UNKNOWN:
        return "unknown"
    return show_money(made.cost, coin) + " by the offer" * (made.cost_from == BY_OFFER)
