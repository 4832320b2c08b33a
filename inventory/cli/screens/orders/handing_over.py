"""What is shown before an order is handed over: what it cost, and of its parts only what is odd."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen
from inventory.cli.drawing.colour import look
from inventory.cli.drawing.draw import draw
from inventory.jobs.orders.handing_over import HandOver
from inventory.jobs.stock.drawing import Drawn
from inventory.ledger.costs import BY_OFFER, UNKNOWN
from inventory.measures import (
    Currency,
    listed,
    plural,
    show_amount,
    show_day,
    show_measurable,
    show_money,
)
from inventory.measures.dates import days_in

FEW = 4
"""Parts that are shown without being asked for: a line for each is shorter than a word about them."""


def hand_over_screen(made: HandOver, coin: Currency, *, everything: bool) -> list[str]:
    """The entry and its cost, what the book held too little of, then what was taken for made now."""
    on = made.proposal.on
    everything = everything or len(made.drawn) <= FEW
    found = [one for one in made.drawn if one.found]
    said: list[Block] = [
        Fact(
            look("Count it"),
            f"{one.part}: the book holds {show_measurable(one.found, one.unit)} too few; booked as found",
        )
        for one in found
    ]
    if made.unpriced:
        said.append(Fact("Cost", f"without {listed(made.unpriced)}: nobody knows what it cost"))
    said += [Fact("Note" if at == 0 else "", days_in(one, on.year)) for at, one in enumerate(made.said)]
    rows = [_row(one, coin) for one in made.drawn]
    columns = (
        Cells("Part"),
        Cells("Used", right=True),
        Cells("Cost", right=True, folds=1),
        Cells("", folds=2),
    )
    groups: list[Sequence[Block]] = [said, [Listing(columns, rows)]] if everything else [said]
    head = f"{made.proposal.title}, {show_day(on)}: {show_money(made.cost, coin)} of materials."
    rest = "" if everything else _rest(made, len(found))
    doors = [] if everything or not rest else [("Every part", "--all")]
    return draw(Screen(head, (), groups, rest, doors, reserved=3), everything=everything)


def _rest(made: HandOver, odd: int) -> str:
    others = len({one.part for one in made.drawn}) - odd
    if not others:
        return ""
    pieces = plural(others, "other part" if odd else "part", "other parts" if odd else "parts")
    return f"{pieces} {'is' if others == 1 else 'are'} used from the shelf"


def _row(one: Drawn, coin: Currency) -> list[str]:
    return [
        one.part,
        show_amount(one.quantity, one.unit),
        "unknown" if one.cost_from == UNKNOWN else show_money(one.cost, coin),
        "count it" if one.found else "by the offer" if one.cost_from == BY_OFFER else "",
    ]
