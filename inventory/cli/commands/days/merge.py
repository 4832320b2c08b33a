"""`merge`: two names for one thing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import Piece, fold
from inventory.cli.answers import Answer, write
from inventory.cli.drawing.blocks import Fact
from inventory.cli.json.exact import Value
from inventory.cli.screens.entry import entry_screen, labelled
from inventory.cli.session import JsonOption, StoreOption, YesOption, booked_as, opened, say, shop_of
from inventory.errors import BadInput
from inventory.jobs.naming.merging import Merging, learned_as_one, told
from inventory.jobs.naming.merging import merge as work
from inventory.jobs.naming.merging_names import kind_of_both, merge_names

if TYPE_CHECKING:
    from inventory.ledger.shop import Shop
    from inventory.store import Read


def merge(
    old: Annotated[str, typer.Argument(help="The name that goes.")],
    into: Annotated[list[str], typer.Argument(metavar="[INTO] NEW", help="The one it is.")],
    what: Annotated[str, typer.Option(help="part, supplier, plating or pattern.")] = "",
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Two names for one part, supplier, plating or pattern: all that is of the old goes over, and it means the other.

    For example:
    kitdrawer merge "Dunlin kit chromium" into "Dunlin kit chrome"
    kitdrawer merge "Saltmarsh" into "Saltmarsh Turning Supplies"
    """
    new = _the_other(into)

    def work_out(read: Read) -> Merging:
        kind = kind_of_both(shop_of(read, lambda _: [], offers=False), old, new, what)
        if kind != "part":
            every = [one for some in read.offers().values() for one in some] if kind == "supplier" else ()
            return merge_names(shop_of(read), kind, old, new, every)
        shop = shop_of(read, lambda bare: _names(bare, old, new))
        planned = {row.kit for one in read.sessions() if one.state == "planned" for row in one.rows}
        known = read.written()
        parts = known.part(old), known.part(new)
        learned = learned_as_one(known, read.happened(), read.rate_words(), *parts)
        return work(shop, *parts, planned, learned)

    with opened(store) as found:
        write(
            found,
            Answer(work_out, lambda made: made.proposal, _show, "Merge them?", booked_as, _json),
            yes=yes,
            as_json=as_json,
        )


def _the_other(words: Sequence[str]) -> str:
    """The name after OLD, with or without the word between them."""
    names = words[1:] if len(words) > 1 and fold(words[0]) == "into" else words
    if len(names) != 1:
        raise BadInput(
            "Two names are needed.",
            hint='As: kitdrawer merge "CA thin" into "CA thick"; quote names of several words.',
        )
    return names[0]


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
    title, on = f"“{made.old}” is “{made.new}” from now on", made.proposal.on
    old = "Whoever says the old name means the other; the past stays as it was written."
    said = [Fact("Go over", told(made)), *labelled("Note", [*made.notes, old], on.year)]
    say(entry_screen(title, on, said))


def _json(_: int | None, made: Merging) -> Mapping[str, Value]:
    return {
        "what": made.what,
        "old": made.old,
        "new": made.new,
        "lots": made.lots,
        "due": made.due,
        "orders": list(made.orders),
        "offers": made.offers,
        "follow": list(made.follow),
        "notes": list(made.notes),
    }
