"""`market`: days of markets to come, with what is expected to be sold, for levels and rehearsals."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.answers import Answer, write
from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.json.exact import Value, dumps
from inventory.cli.session import JsonOption, StoreOption, YesOption, booked_as, opened, say, shop_of
from inventory.errors import BadInput
from inventory.measures import plural, read_date, show_day
from inventory.measures.dates import days_in

if TYPE_CHECKING:
    from inventory.ledger import Proposal
    from inventory.ledger.shop import Shop
    from inventory.planning.demand.markets import MarketDemand
    from inventory.store import Read


def market(
    name: Annotated[str, typer.Argument(help='Its name, as in `sold --at "harbour market"`.')] = "",
    day: Annotated[str, typer.Argument(metavar="[DAY]", help="The day it is on.")] = "",
    expected: Annotated[
        float | None, typer.Option(metavar="N", help="Pieces you expect to sell; else as its past days went.")
    ] = None,
    off: Annotated[bool, typer.Option("--off", help="It is not, or you do not go.")] = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Markets to come and what they are expected to sell: levels and rehearse reckon with them.

    For example:
    kitdrawer market
    kitdrawer market "harbour market" 2026-12-12 --expected 20
    kitdrawer market "harbour market" 2026-12-12 --off
    """
    from inventory.jobs.ahead.markets import with_market, without_market
    from inventory.ledger.markets import Market

    if not name and (day or off or expected is not None):
        raise BadInput("The market has no name.", hint='Say it: kitdrawer market "harbour market" 2026-12-12')
    if not name:
        _look(store, as_json=as_json)
        return
    if not day:
        raise BadInput("A market is on a day.", hint=f'Say it: kitdrawer market "{name}" 2026-12-12')
    said = Market(name, read_date(day), expected)

    def work_out(read: Read) -> Proposal:
        shop = shop_of(read, lambda _: (), offers=False)
        return without_market(shop, said) if off else with_market(shop, said)

    def show(made: Proposal) -> None:
        text = days_in(f"{made.title}.", made.on.year)
        say(draw(Screen(text, reserved=3)))

    with opened(store) as found:
        answer = Answer(
            work_out, lambda made: made, show, "Book it?", booked_as, lambda _, made: {"said": made.title}
        )
        write(found, answer, yes=yes, as_json=as_json)


def _look(store: str | None, *, as_json: bool) -> None:
    from inventory.cli.past.asked_for import past_of

    with opened(store) as found, found.reading() as read:
        shop = shop_of(read)
        past = past_of(read, shop)
    from inventory.jobs.ahead.markets import to_come

    rows = to_come(shop, past)
    say(dumps(_json(rows)) if as_json else _screen(shop, rows))


def _screen(shop: Shop, rows: tuple[MarketDemand, ...]) -> list[str]:
    year = shop.today.year
    head = f"{plural(len(rows), 'market')} to come, {show_day(shop.today)}."
    table = Listing(
        (
            Cells("Market"),
            Cells("Day", right=True),
            Cells("Expected", right=True),
            Cells("Past days", right=True),
        ),
        [[one.name, show_day(one.on, year), f"{one.pieces:.0f}", str(one.days or "")] for one in rows],
    )
    note = Fact("Expected", "pieces beside those a planned session makes for a stall")
    blocks: list[list[Block]] = [[table], [note]] if rows else []
    following = (
        ("What to have for it", f"kitdrawer levels --before {pasted(rows[0].name)}")
        if rows
        else ("Say one", 'kitdrawer market "harbour market" 2026-12-12 --expected 20')
    )
    return draw(Screen(head, (), blocks, following=following))


def _json(rows: tuple[MarketDemand, ...]) -> dict[str, Value]:
    return {
        "markets": [
            {"market": one.name, "on": one.on, "expected": round(one.pieces, 3), "past_days": one.days}
            for one in rows
        ]
    }
