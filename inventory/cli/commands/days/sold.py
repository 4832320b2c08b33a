"""`sold`: finished pieces sold off the shelf."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.entering.by_hand import booked_by_hand, looked_at
from inventory.cli.session import JsonOption, StoreOption, YesOption
from inventory.jobs.days.by_hand import ByHand, part_called
from inventory.jobs.days.selling import Sale
from inventory.jobs.days.selling import sold as sell
from inventory.measures import read_money
from inventory.measures.text import plain

if TYPE_CHECKING:
    from inventory.store import Read


def sold(
    piece: Annotated[str, typer.Argument(help="The finished piece: its name, or words of it.")],
    count: Annotated[int, typer.Argument(help="How many.", min=1, max=10_000)] = 1,
    price: Annotated[str, typer.Option(metavar="MONEY", help="For one of them.")] = "",
    at: Annotated[str, typer.Option(help="Where, or to whom.")] = "",
    commission: Annotated[
        str, typer.Option(metavar="SHARE", help="What the seller keeps: 15 %, or a sum for all of them.")
    ] = "",
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Finished pieces are sold off the shelf, without an order before. The price is kept as an order's is.

    For example:
    kitdrawer sold "Dunlin pen gunmetal" 2 --price 38 --at "harbour market"
    kitdrawer sold "Dunlin pen" --price 42 --at gallery --commission "40 %"
    """
    where = plain(at, "name") if at else ""

    def work_out(read: Read) -> ByHand:
        shop = looked_at(read, piece)
        asked = read_money(price, shop.currency) if price else None
        return sell(shop, part_called(shop, piece), Sale(count, asked, where, commission))

    booked_by_hand(store, work_out, yes=yes, as_json=as_json)
