"""`found`: more is there than the book knew, or what was lent is back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.entering.by_hand import booked_by_hand, looked_at
from inventory.cli.session import JsonOption, StoreOption, YesOption
from inventory.errors import BadInput
from inventory.jobs.days.bringing import back as come_back
from inventory.jobs.days.bringing import found as more
from inventory.jobs.days.by_hand import ByHand, part_called
from inventory.measures import read_date
from inventory.reports.day_words import amount_of

if TYPE_CHECKING:
    from inventory.store import Read


def found(
    part: Annotated[str, typer.Argument(help="The part, or a finished piece.")],
    amount: Annotated[
        str, typer.Argument(help="How much: 2, 50 ml, 1 bottle. With --back: all that is lent of it.")
    ] = "",
    back: Annotated[bool, typer.Option("--back", help="It was lent, and is back.")] = False,
    lot: Annotated[str, typer.Option(help="The lot it belongs to, as `trace` calls it.")] = "",
    use_by: Annotated[str, typer.Option("--use-by", metavar="DATE", help="What is written on it.")] = "",
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Found in a drawer, so that there is more than the book knew; it costs what the rest of it did.

    For example:
    kitdrawer found "Dunlin kit chrome" 1
    kitdrawer found "CA thin" "1 bottle" --use-by 2027-03-01
    kitdrawer found "tube 7 x 53" 2 --back
    """
    _check(amount, lot, use_by, back=back)
    day = read_date(use_by) if use_by else None

    def work_out(read: Read) -> ByHand:
        shop = looked_at(read, part)
        meant = part_called(shop, part)
        quantity = amount_of(meant, amount) if amount else None
        if back or quantity is None:
            return come_back(shop, meant, quantity, read.lent())
        return more(shop, meant, quantity, lot=lot, use_by=day)

    booked_by_hand(store, work_out, yes=yes, as_json=as_json)


def _check(amount: str, lot: str, use_by: str, *, back: bool) -> None:
    if not (amount or back):
        raise BadInput("How much was found?", hint="Write it after the part: 2, 50 ml, 1 bottle.")
    if back and (lot or use_by):
        raise BadInput("What was lent comes back as it went.", hint="Leave --lot and --use-by out.")
    if lot and use_by:
        raise BadInput("A lot has its own day.", hint="Say --lot or --use-by.")
