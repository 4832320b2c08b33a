"""`shopping`: what to buy, from whom, for the least money."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.drawing.draw import command
from inventory.cli.drawing.texts import pasted
from inventory.cli.json.exact import dumps
from inventory.cli.past.used import use_and_wear
from inventory.cli.rates import RateOption, with_rates
from inventory.cli.session import (
    AllOption,
    JsonOption,
    StoreOption,
    WhyOption,
    ended,
    opened,
    say,
    shop_of,
    talk,
)
from inventory.measures import read_date, read_money

if TYPE_CHECKING:
    from inventory.ledger.shop import Shop
    from inventory.reports.purchasing.shopping import Shopping
    from inventory.store import Read


LateOption = Annotated[
    bool, typer.Option("--late", hidden=True, help="Not needed: what is promised is always bought.")
]


def shopping(
    save: Annotated[
        Path | None,
        typer.Option(
            readable=False, metavar="FILE.xlsx", help="Write the list: a workbook, or a folder of CSV files."
        ),
    ] = None,
    budget: Annotated[
        str, typer.Option(metavar="MONEY", help="The most to spend; promises come first.")
    ] = "",
    until: Annotated[
        str, typer.Option(metavar="DATE", help="How far to look ahead; 8 weeks if not said.")
    ] = "",
    only: Annotated[list[str] | None, typer.Option(help="Only this supplier; may be repeated.")] = None,
    without: Annotated[list[str] | None, typer.Option(help="Not this supplier; may be repeated.")] = None,
    today_only: Annotated[
        bool, typer.Option("--today-only", help="Today's list: nothing waits for the next trip.")
    ] = False,
    late: LateOption = False,
    rate: RateOption = None,
    time_limit: Annotated[
        float, typer.Option("--time-limit", help="Seconds to look for the best list.", min=0.1)
    ] = 20,
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace the file if it is there.")] = False,
    every: AllOption = False,
    why: WhyOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """The supplier list that costs least: whole packs, price breaks, postage, minimum orders, days; and why.

    For example:
    kitdrawer shopping
    kitdrawer shopping --save list.xlsx --budget 80 --until 2026-12-20
    """
    from inventory.cli.json.shopping import shopping_json
    from inventory.cli.screens.purchasing.shopping import (
        shopping_in_full,
        shopping_reasons,
        shopping_screen,
    )

    always_bought(late)
    with opened(store) as found, found.reading() as read:
        shop, result = work_out(
            read, budget, until, only or [], without or [], rate or [], time_limit, today_only=today_only
        )
    if save is not None:
        _write(save, shop, result, overwrite)
    if as_json:
        say(dumps(shopping_json(shop, result)))
    elif why or every:
        say((shopping_reasons if why else shopping_in_full)(shop, result))
    else:
        say(shopping_screen(shop, result, saved=save is not None, noted=late))
    if save is not None and not as_json:
        say(["", f"Saved: {save}", *command("When it is ordered", f"kitdrawer placed {pasted(str(save))}")])
    ended(short=bool(result.basket.unfilled or result.late))


def always_bought(late: bool) -> None:
    """A word to those who still ask for what is done anyway."""
    if late:
        talk("--late is not needed: what is promised is always bought, as early as it can be.")


def work_out(
    read: Read,
    budget: str,
    until: str,
    only: list[str],
    without: list[str],
    rate: list[str],
    time_limit: float,
    *,
    today_only: bool = False,
) -> tuple[Shop, Shopping]:
    """The list, from one moment of the store."""
    from inventory.cli.past.asked_for import past_of, with_all_lateness
    from inventory.jobs.ahead.history import expects
    from inventory.jobs.purchasing.shopping import HORIZON, ShoppingRequest
    from inventory.jobs.purchasing.shopping import shopping as job

    shop = with_rates(shop_of(read), rate)
    requests = ShoppingRequest(
        read_date(until) if until else shop.today + HORIZON,
        read_money(budget, shop.currency) if budget else None,
        tuple(only),
        tuple(without),
        time_limit,
        today_only,
    )
    ahead = past_of(read, shop)
    if not expects(ahead.asked, ahead.markets, shop.today):
        return shop, job(shop, use_and_wear(read, shop), requests)
    shop = with_all_lateness(read, shop)
    return shop, job(shop, use_and_wear(read, shop), requests, ahead)


def _write(path: Path, shop: Shop, result: Shopping, overwrite: bool) -> None:
    from inventory.sheets.saving import is_workbook

    if is_workbook(path):
        from inventory.sheets.purchasing.list_writing import write_lists

        write_lists(path, shop, result, overwrite=overwrite)
    else:
        from inventory.sheets.purchasing.list_writing import write_csv_lists

        write_csv_lists(path, shop, result, overwrite=overwrite)
