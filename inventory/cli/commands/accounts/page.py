"""`page`: the shop on one page for a browser."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from inventory.cli.drawing.blocks import Block, Screen, Sentence, Whole
from inventory.cli.drawing.draw import draw
from inventory.cli.json.exact import Exact, dumps
from inventory.cli.past.used import use_by_month
from inventory.cli.session import JsonOption, StoreOption, opened, say, shop_of
from inventory.errors import Refused
from inventory.measures import plural, show_day


def page(
    file: Annotated[Path, typer.Argument(readable=False, metavar="FILE.html", help="Where to write it.")],
    private: Annotated[
        bool,
        typer.Option(
            "--private", help="Without money, customers and names of orders: for the workshop's wall."
        ),
    ] = False,
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Write over a page of that name.")] = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """The shop on one page: orders, what can be made, what runs out, what is due in, every part to search in.

    One file that asks nothing of any network: open it on a phone, or print it.

    For example:
    kitdrawer page shop.html
    kitdrawer page wall.html --private --overwrite
    """
    from inventory.cli.past.earned import goal_stands
    from inventory.jobs.accounts.earned import earned
    from inventory.jobs.accounts.page import PagePast, shop_page
    from inventory.pages.rendering import page_html
    from inventory.sheets.saving import saving

    if file.suffix.casefold() not in (".html", ".htm"):
        raise Refused(f"{file.name} is no name for a page.", hint="Let it end in .html.")
    with opened(store) as found, found.reading() as read:
        shop = shop_of(read)
        first = date(shop.today.year, 1, 1)
        used, days, months, by_month = use_by_month(read, shop)
        made = earned(shop, read.settings(), read.past_sales(first, shop.today), first, shop.today)
        goals = () if private else goal_stands(read, shop)
        worth = sum(lot.cost for lots in shop.book.lots.values() for lot in lots)
    content = shop_page(shop, PagePast(used, days, made, worth, goals, months, by_month), private=private)
    with saving(file, overwrite=overwrite) as unfinished:
        unfinished.write_text(page_html(content), encoding="utf-8")
    if as_json:
        exact = Exact(shop.currency.exponent)
        money = (
            {} if private else {"worth": exact.money(worth), "left_this_year": exact.money(made.total.left)}
        )
        say(dumps({"page": str(file), "orders": len(content.orders), "short": len(content.short), **money}))
        return
    say(_screen(file, len(content.orders), len(content.short), shop.today))


def _screen(file: Path, orders: int, short: int, today: date) -> list[str]:
    """What is on the page, and where it is."""
    head = (
        f"The shop on one page, {show_day(today)}: {plural(orders, 'order')}, {plural(short, 'part')} short."
    )
    where: list[Block] = [
        Whole("Saved", str(file)),
        Sentence("It needs no network: open it in any browser, or print it."),
    ]
    return draw(Screen(head, (), [where]))
