"""`merge`: two names for one thing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import Piece, fold
from inventory.cli.answers import Answer, write
from inventory.cli.json.exact import Value
from inventory.cli.screens.tables import wrapped
from inventory.cli.session import JsonOption, StoreOption, YesOption, booked_as, opened, say, shop_of
from inventory.jobs.naming.merging import Merging, told
from inventory.jobs.naming.merging import merge as work

if TYPE_CHECKING:
    from inventory.ledger.shop import Shop
    from inventory.store import Read


def merge(
    old: Annotated[str, typer.Argument(help="The name that goes.")],
    new: Annotated[str, typer.Argument(help="The part it is.")],
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Two names for one part: lots, what is due, set aside and offered go over, and the old name means the other.

    For example:
    kitdrawer merge "Dunlin kit chromium" "Dunlin kit chrome"
    """

    def work_out(read: Read) -> Merging:
        shop = shop_of(read, lambda bare: _names(bare, old, new))
        taught = {one.part for happened in read.happened() for one in happened.observed}
        taught |= {word.part for word in read.rate_words()}
        planned = {row.kit for one in read.sessions() if one.state == "planned" for row in one.rows}
        return work(shop, shop.catalogue.part(old), shop.catalogue.part(new), taught, planned)

    with opened(store) as found:
        write(
            found,
            Answer(work_out, lambda made: made.proposal, _show, "Merge them?", booked_as, _json),
            yes=yes,
            as_json=as_json,
        )


def _names(shop: Shop, old: str, new: str) -> set[str]:
    """The two, and the finished pieces made of them."""
    both = {shop.catalogue.part(one).name for one in (old, new)}
    keys = set(map(fold, both))
    pieces = {
        part.name
        for part in shop.catalogue.parts.values()
        if isinstance(part.detail, Piece)
        and keys & {fold(one) for one in (part.detail.kit, part.detail.blank, part.detail.refill or "")}
    }
    return both | pieces


def _show(made: Merging) -> None:
    lines = wrapped(f"“{made.old.name}” is “{made.new.name}” from now on: {told(made)} go over.")
    lines += wrapped("Whoever says the old name means the other; the past stays as it was written.", "· ")
    say(lines)


def _json(_: int | None, made: Merging) -> Mapping[str, Value]:
    return {
        "old": made.old.name,
        "new": made.new.name,
        "lots": made.lots,
        "due": made.due,
        "orders": list(made.orders),
        "offers": made.offers,
    }
