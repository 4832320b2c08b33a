"""`came-back`: a piece came back for a repair."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import Order, Part, find
from inventory.cli.answers import Answer, write
from inventory.cli.drawing.blocks import Fact
from inventory.cli.json.exact import Exact, Value
from inventory.cli.screens.entry import entry_screen, labelled, short
from inventory.cli.session import JsonOption, StoreOption, YesOption, booked_as, opened, say, shop_of
from inventory.errors import BadInput
from inventory.jobs.days.repairing import Repair, refill_of
from inventory.jobs.days.repairing import came_back as work
from inventory.ledger.costs import UNKNOWN
from inventory.measures import Currency, currency, show_amount, show_money
from inventory.reports.day_words import amount_of

if TYPE_CHECKING:
    from inventory.ledger.shop import Shop
    from inventory.store import Read


def came_back(
    order: Annotated[str, typer.Argument(help="The order it was handed over with, or its sale.")],
    parts: Annotated[
        list[str] | None,
        typer.Option(
            "--part", metavar="NAME=AMOUNT", help="What the repair takes; may be repeated. Else one refill."
        ),
    ] = None,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """A piece came back, for a new refill or another repair: what that takes leaves the shelf, for its order.

    For example:
    kitdrawer came-back S41
    kitdrawer came-back S41 --part "CA thin=0.2 ml" --part "Avocet clip chrome=1"
    """

    def work_out(read: Read) -> tuple[Repair, Currency]:
        noted = find(read.orders(), "order", order)
        shop = shop_of(read, lambda bare: [part.name for part, _ in _needs(bare, noted, parts)])
        return work(shop, noted, _needs(shop, noted, parts)), currency(read.currency)

    with opened(store) as found:
        write(
            found,
            Answer(
                work_out,
                lambda made: made[0].proposal,
                lambda made: _show(*made),
                "Book it?",
                booked_as,
                _json,
                short=lambda made: bool(made[0].short),
            ),
            yes=yes,
            as_json=as_json,
        )


def _needs(shop: Shop, order: Order, said: list[str] | None) -> list[tuple[Part, int]]:
    """What the repair takes, thousandths of each part: as it was said, else one refill."""
    if not said:
        return [(refill_of(shop, order), 1000)]
    return [_need(shop, one) for one in said]


def _need(shop: Shop, said: str) -> tuple[Part, int]:
    name, _, amount = said.rpartition("=") if "=" in said else (said, "", "1")
    if not amount.strip():
        raise BadInput(f"How much of {name}?", hint="Write --part NAME=AMOUNT.")
    part = shop.catalogue.part(name)
    return part, amount_of(part, amount)


def _show(made: Repair, coin: Currency) -> None:
    on = made.proposal.on
    cost = [
        f"{show_amount(one.quantity, one.unit)} {one.part} "
        f"{'of unknown cost' if one.cost_from == UNKNOWN else show_money(one.cost, coin)}"
        for one in made.drawn
    ]
    lacks = [
        f"“{one.order}” lacks {show_amount(one.quantity, one.unit)} {one.part} now, set aside for it"
        for one in made.short
    ]
    said = [Fact("Cost", ", ".join(cost)), *short(lacks, on.year), *labelled("Note", made.notes, on.year)]
    say(entry_screen(made.proposal.title, on, said))


def _json(_: int | None, made: tuple[Repair, Currency]) -> Mapping[str, Value]:
    repair, coin = made
    exact = Exact(coin.exponent)
    return {
        "order": repair.order.name,
        "currency": coin.code,
        "drawn": [
            {
                "part": one.part,
                "quantity": exact.amount(one.quantity),
                "cost": exact.money(None if one.cost_from == UNKNOWN else one.cost),
            }
            for one in repair.drawn
        ],
        "short": [
            {"order": one.order, "part": one.part, "quantity": exact.amount(one.quantity)}
            for one in repair.short
        ],
    }
