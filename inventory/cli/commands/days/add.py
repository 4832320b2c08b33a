"""`add`: more on the shelf without a parcel."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.entering.by_hand import booked_by_hand, looked_at
from inventory.cli.session import JsonOption, StoreOption, YesOption, packs_offered
from inventory.errors import Doubtful
from inventory.jobs.days.bringing import added
from inventory.jobs.days.by_hand import ByHand
from inventory.jobs.days.new_kits import known_or_new
from inventory.ledger.paid import Paid, cost_said
from inventory.measures import read_date
from inventory.reports.day_words import amount_of

if TYPE_CHECKING:
    from inventory.store import Read


def add(
    part: Annotated[str, typer.Argument(help="The part.")],
    amount: Annotated[str, typer.Argument(help="How much: 3, 50 ml, 2 bottles.")],
    paid: Annotated[str, typer.Option(metavar="MONEY", help="What was paid; for what says --for.")] = "",
    what_for: Annotated[
        str,
        typer.Option("--for", metavar="WHAT", help="each, pack, bottle, all, or an amount such as 50 ml."),
    ] = "",
    family: Annotated[str, typer.Option(help="Of a kit nobody knew yet: its family.")] = "",
    plating: Annotated[str, typer.Option(help="Of a kit nobody knew yet: its plating.")] = "",
    use_by: Annotated[str, typer.Option("--use-by", metavar="DATE", help="What is written on it.")] = "",
    sure: Annotated[bool, typer.Option("--sure", help="An unlikely price is right: do not ask.")] = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """More on the shelf without a parcel: bought over a counter, swapped, given.

    For example:
    kitdrawer add "Dunlin kit chrome" 3 --paid 4.10
    kitdrawer add "CA thin" "2 bottles" --paid 17 --for all
    kitdrawer add "Dunlin kit copper" 2 --family Dunlin --plating copper
    """
    day = read_date(use_by) if use_by else None

    def work_out(read: Read) -> ByHand:
        shop = looked_at(read, part)
        meant, new = known_or_new(shop, part, family, plating)
        quantity = amount_of(meant, amount)
        packs = packs_offered(read)(meant.name)
        cost = cost_said(meant, quantity, Paid(paid, what_for), packs, shop.currency)
        made = added(shop, meant, quantity, cost, new=new, use_by=day)
        if made.doubt and yes and not sure:
            raise Doubtful(made.doubt, hint="Nothing was booked. Where it is right, say --sure.")
        return made

    booked_by_hand(store, work_out, yes=yes, as_json=as_json)
