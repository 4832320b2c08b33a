"""From what was typed to one entry, for the commands of ordinary days."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from inventory.cli.answers import Answer, write
from inventory.cli.json.exact import Value
from inventory.cli.screens.by_hand import by_hand_json, by_hand_screen
from inventory.cli.session import booked_as, opened, say, shop_of
from inventory.errors import UnknownName
from inventory.jobs.days.by_hand import ByHand
from inventory.ledger.shop import Shop
from inventory.measures import currency
from inventory.reports.day_words import pieces_called

if TYPE_CHECKING:
    from inventory.store import Read

Next = Callable[[ByHand], Sequence[tuple[str, str]]]
"""What is done next, once it is booked, and by which command."""


def looked_at(read: Read, part: str) -> Shop:
    """The shop with all there is to say of one part; of the finished pieces its words may mean, where it is none."""

    def wanted(bare: Shop) -> list[str]:
        try:
            return [bare.catalogue.part(part).name]
        except UnknownName:
            return [one.name for one in pieces_called(bare.catalogue, part)]

    return shop_of(read, wanted)


def booked_by_hand(
    store: str | None,
    work_out: Callable[[Read], ByHand],
    *,
    yes: bool,
    as_json: bool,
    then: Next = lambda _: (),
) -> None:
    """Work it out, show it, ask, book it and tell."""
    with opened(store) as found:
        with found.reading() as read:
            coin = currency(read.currency)

        def told(number: int | None, made: ByHand) -> None:
            booked_as(number, made, *then(made))

        def body(_: int | None, made: ByHand) -> Mapping[str, Value]:
            return by_hand_json(made, coin)

        write(
            found,
            Answer(
                work_out,
                lambda made: made.proposal,
                lambda made: say(by_hand_screen(made, coin)),
                "Book it?",
                told,
                body,
                short=lambda made: bool(made.short),
            ),
            yes=yes,
            as_json=as_json,
        )
