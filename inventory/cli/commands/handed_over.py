"""`handed-over`: the order is with its customer; its parts leave the book."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import find
from inventory.cli.answers import Answer, write
from inventory.cli.exact_json import Exact, Value
from inventory.cli.session import JsonOption, StoreOption, YesOption, opened, say, shop_of
from inventory.cli.tables import Column, table, wrapped
from inventory.errors import BadInput
from inventory.jobs.drawing import Drawn
from inventory.jobs.handing_over import HandOver, hand_over
from inventory.jobs.order_check import parts_involved
from inventory.jobs.shop import Shop
from inventory.jobs.wishes import wish_of
from inventory.ledger.costs import BY_OFFER, UNKNOWN
from inventory.measures import Currency, currency, listed, show_amount, show_money

if TYPE_CHECKING:
    from inventory.store import Read


def handed_over(
    order: Annotated[str, typer.Argument(help="The promised order.")],
    lost: Annotated[
        list[str] | None, typer.Option(help="Pieces lost on the way, as STAGE=N (turn=1); may be repeated.")
    ] = None,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """An order is handed over: what went into it is drawn, first in, first out, and its claims end.

    For example:
    kitdrawer handed-over S41
    kitdrawer handed-over S41 --lost turn=1
    """
    losses = dict(_lost(text) for text in lost or [])

    def work_out(read: Read) -> HandOver:
        noted = find(read.book(()).orders, "order", order)
        claimed = [claim.part for claim in read.book(()).claims]

        def wanted(bare: Shop) -> set[str]:
            return {*parts_involved(bare.catalogue, wish_of(noted), min(noted.due, bare.today)), *claimed}

        return hand_over(shop_of(read, wanted), noted, losses)

    with opened(store) as found:
        with found.reading() as read:
            coin = currency(read.currency)

        def show(made: HandOver) -> None:
            columns = (
                Column("Part", gives=True),
                Column("Drawn", right=True),
                Column("Cost", right=True),
                Column(""),
            )
            rows = [_row(one, coin) for one in made.drawn]
            say([*table(columns, rows), "", *wrapped(f"{_together(made, coin)}.")])
            for sentence in made.opened:
                say(wrapped(sentence, "· "))
            for one in made.drawn:
                if one.found:
                    short = show_amount(one.found, one.unit)
                    say(
                        wrapped(
                            f"{one.part}: the book holds {short} too few; booked as found. Count it.", "· "
                        )
                    )

        def body(_: int | None, made: HandOver) -> dict[str, Value]:
            return _json(made, coin)

        write(
            found,
            Answer(work_out, lambda made: made.proposal, show, "Book it as handed over?", _told, body),
            yes=yes,
            as_json=as_json,
        )


def _told(number: int | None, _: HandOver) -> None:
    say("Nothing was booked." if number is None else f"Handed over (document {number}).")


def _json(made: HandOver, coin: Currency) -> dict[str, Value]:
    exact = Exact(coin.exponent)
    return {
        "currency": coin.code,
        "cost": exact.money(made.cost),
        "drawn": [
            {
                "part": one.part,
                "quantity": exact.amount(one.quantity),
                "cost": exact.money(one.cost),
                "found": exact.amount(one.found),
            }
            for one in made.drawn
        ],
    }


def _row(one: Drawn, coin: Currency) -> list[str]:
    return [
        one.part,
        show_amount(one.quantity, one.unit),
        "unknown" if one.cost_from == UNKNOWN else show_money(one.cost, coin),
        "count it" if one.found else "by the offer" if one.cost_from == BY_OFFER else "",
    ]


def _together(made: HandOver, coin: Currency) -> str:
    """What is known of the cost, and of what it is not."""
    known = f"Together {show_money(made.cost, coin)}"
    return f"{known}, without {listed(made.unpriced)}, of unknown cost" if made.unpriced else known


def _lost(text: str) -> tuple[str, int]:
    stage, _, pieces = text.partition("=")
    if not pieces.strip().isdecimal():
        raise BadInput(f"“{text}” is not a loss.", hint="Write STAGE=N, such as turn=1.")
    return stage.strip().casefold(), int(pieces)
