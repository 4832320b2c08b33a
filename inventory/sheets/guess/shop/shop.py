"""The understanding written in our own tabs: every cell with how sure it is and where it comes from."""

from __future__ import annotations

from inventory.sheets.guess.guesses import Understanding
from inventory.sheets.guess.shop.families import put_family, put_patterns, put_tools_of_kits, stock_of
from inventory.sheets.guess.shop.lines import PART_TABS, ShopTabs
from inventory.sheets.guess.shop.orders import put_order
from inventory.sheets.guess.shop.parts import put_part
from inventory.sheets.guess.shop.stock import put_count, put_offer


def shop_of(found: Understanding) -> ShopTabs:
    """Our tabs, filled as far as the sheet says it, the rest with what is usual; nothing else is left empty."""
    shop = ShopTabs()
    things = [thing for thing in found.things if thing.value("kind") in PART_TABS]
    for thing in things:
        put_part(shop, thing)
    stock = stock_of(things)
    for kits in stock.kits.values():
        put_family(shop, kits[0].said["family"], stock)
    put_tools_of_kits(shop, things)
    for thing in things:
        put_offer(shop, thing, found.coin)
        put_count(shop, thing, found.coin)
    for number, order in enumerate(found.orders, start=1):
        put_order(shop, order, number, found.today)
    put_patterns(shop)
    return shop
