"""What one line typed by hand changes: on the screen and as JSON."""

from __future__ import annotations

from inventory.cli.json.exact import Exact, Value
from inventory.cli.screens.tables import wrapped
from inventory.jobs.days.by_hand import ByHand
from inventory.ledger.costs import BY_OFFER, UNKNOWN, WORDS
from inventory.measures import Currency, show_amount, show_money


def by_hand_screen(made: ByHand, coin: Currency) -> list[str]:
    """What is booked and what is there then, before the question."""
    unit = made.part.unit
    there = show_amount(made.on_hand, unit)
    free = "all free" if made.free == made.on_hand else f"{show_amount(made.free, unit)} free"
    lines = wrapped(f"{made.proposal.title}. Then {there} on hand, {free}. Cost {_cost(made, coin)}.")
    for line in made.gained:
        lines += wrapped(f"{show_amount(line.quantity, unit)} for “{line.order}”, which waited for it.", "· ")
    for one in made.short:
        many = show_amount(one.quantity, unit)
        lines += wrapped(f"SET ASIDE for “{one.order}”: {many} of it. The order is then short of it.", "· ")
    if made.doubt:
        lines += wrapped(f"Is the price right? {made.doubt}", "? ")
    for note in made.notes:
        lines += wrapped(note, "· ")
    return lines


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
