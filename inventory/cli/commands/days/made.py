"""`made`: a piece made of an evening: plan, sheet and booking in one."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.answers import Answer, write
from inventory.cli.drawing.texts import pasted
from inventory.cli.entering.evening import BookedSession, looked_back
from inventory.cli.json.exact import Value
from inventory.cli.json.session import session_json
from inventory.cli.order_options import read_lost
from inventory.cli.session import (
    AllOption,
    JsonOption,
    StoreOption,
    YesOption,
    booked_as,
    opened,
    say,
    shop_of,
)
from inventory.jobs.days.evening import MadeTonight, as_made, evening, parts_touched

if TYPE_CHECKING:
    from inventory.store import Read


def made(
    pattern: Annotated[str, typer.Argument(help="What was made; with --order it is known.")] = "",
    blank: Annotated[str, typer.Option(help="The blank: its name, or a word of it.")] = "",
    plating: Annotated[str, typer.Option(help="The plating of its kit.")] = "",
    count: Annotated[int, typer.Option(help="How many came out good.", min=0, max=1000)] = 1,
    spoiled: Annotated[
        list[str] | None, typer.Option(help="Pieces spoiled, as STAGE=N (turn=1); may be repeated.")
    ] = None,
    order: Annotated[str, typer.Option(help="The promised order they are for.")] = "",
    every: AllOption = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Made this evening: parts are used, the piece is on the shelf or waits for its order, losses are learned.

    For example:
    kitdrawer made "Dunlin pen" --blank walnut --plating chrome
    kitdrawer made "Dunlin pen" --blank walnut --spoiled turn=1
    kitdrawer made --order S42 --count 2
    """
    said = MadeTonight(pattern, plating, blank, count, dict(read_lost(text) for text in spoiled or []), order)

    def work_out(read: Read) -> BookedSession:
        shop = shop_of(read, lambda bare: parts_touched(bare, said))
        done = looked_back(read, shop, *evening(shop, said), buying=False)
        return replace(done, booking=replace(done.booking, proposal=as_made(done.booking)))

    with opened(store) as found:
        write(
            found,
            Answer(
                work_out,
                lambda done: done.booking.proposal,
                lambda done: _show(done, everything=every),
                "Book it?",
                _told,
                _json,
                short=_short,
            ),
            yes=yes,
            as_json=as_json,
        )


def _show(done: BookedSession, *, everything: bool) -> None:
    from inventory.cli.screens.days.made import made_screen  # a program that asks for JSON never sees it

    say(made_screen(done.booking, done.report, everything=everything))


def _short(done: BookedSession) -> bool:
    return bool(done.booking.tally.found)


def _json(_: int | None, done: BookedSession) -> dict[str, Value]:
    return session_json(done.booking, done.report)


def _told(number: int | None, done: BookedSession) -> None:
    (one,) = done.booking.made
    order = one.outcome.order
    fetched = [("When it is fetched", f"kitdrawer handed-over {pasted(order)}")] if order else []
    booked_as(number, done, *fetched)
