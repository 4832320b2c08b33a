"""`levels`: at what stock to order each part again, worked out from what was asked for."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.json.exact import dumps
from inventory.cli.rates import RateOption, with_rates
from inventory.cli.session import JsonOption, StoreOption, opened, say, shop_of
from inventory.errors import BadInput
from inventory.measures import read_fraction, read_money

if TYPE_CHECKING:
    from inventory.jobs.ahead.keeping import KeptPast
    from inventory.jobs.ahead.levels import DemandPast, Levels
    from inventory.ledger.shop import Shop
    from inventory.store import Read


def levels(
    part: Annotated[str, typer.Argument(help="Only this part.")] = "",
    money: Annotated[
        str, typer.Option(metavar="MONEY", help="The most that may lie in stock on average.")
    ] = "",
    before: Annotated[
        str, typer.Option(metavar="MARKET", help="What to have before this market, and when to order it.")
    ] = "",
    keeping: Annotated[
        bool, typer.Option("--keeping", help="What each drawer costs a year, classes, what slept.")
    ] = False,
    holding: Annotated[
        str, typer.Option(metavar="SHARE", help="With --keeping: what money in stock costs a year, 25 %.")
    ] = "",
    rate: RateOption = None,
    everything: Annotated[
        bool, typer.Option("--all", help="Every part that is expected to be used.")
    ] = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """At what stock to order each part again, and up to what: from what was asked for, postage and lead times.

    For example:
    kitdrawer levels
    kitdrawer levels --money 400
    kitdrawer levels --before "harbour market"
    kitdrawer levels --keeping --holding 15%
    """
    from inventory.cli.past.asked_for import past_of, with_all_lateness
    from inventory.cli.screens.purchasing.levels import levels_json, levels_screen
    from inventory.jobs.ahead.levels import levels as worked_out

    with opened(store) as found, found.reading() as read:
        shop = with_all_lateness(read, with_rates(shop_of(read), rate or []))
        name = shop.catalogue.part(part).name if part else ""
        past = past_of(read, shop)
        kept_past = _kept_past(read, shop, past) if keeping else None
    most = read_money(money, shop.currency) if money else None
    if most is not None and most <= 0:
        raise BadInput(f"{money} cannot lie in stock.", hint="Give a sum above 0.")
    made = worked_out(shop, past, most_money=most / 10**shop.currency.exponent if most else None)
    if kept_past is not None:
        _keeping(shop, made, kept_past, holding, everything=everything, as_json=as_json)
        return
    if before:
        _before(shop, made, before, everything=everything, as_json=as_json)
        return
    say(dumps(levels_json(made, name)) if as_json else levels_screen(shop, made, name, everything=everything))


def _before(shop: Shop, made: Levels, market: str, *, everything: bool, as_json: bool) -> None:
    from inventory.cli.screens.purchasing.before import before_json, before_screen
    from inventory.jobs.ahead.before import before as to_have

    found = to_have(shop, made, market)
    say(dumps(before_json(found)) if as_json else before_screen(shop, found, everything=everything))


def _kept_past(read: Read, shop: Shop, past: DemandPast) -> KeptPast:
    from inventory.jobs.ahead.keeping import KeptPast

    moved = read.moved(shop.today - timedelta(days=365), shop.today)
    thrown: dict[str, int] = {}
    for one in moved:
        if one.word == "thrown out":
            thrown[one.part] = thrown.get(one.part, 0) - one.cost
    return KeptPast(past.asked, read.held_still(shop.today), thrown)


def _keeping(
    shop: Shop, made: Levels, past: KeptPast, holding: str, *, everything: bool, as_json: bool
) -> None:
    from inventory.cli.screens.purchasing.keeping import keeping_json, keeping_screen
    from inventory.jobs.ahead.keeping import kept
    from inventory.jobs.ahead.terms import HOLDING

    found = kept(shop, made, past, float(read_fraction(holding)) if holding else HOLDING)
    say(dumps(keeping_json(shop, found)) if as_json else keeping_screen(shop, found, everything=everything))
