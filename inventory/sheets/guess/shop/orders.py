"""Orders in our tab, with the blanks they need."""

from __future__ import annotations

from datetime import date

from inventory.sheets.guess.guesses import GuessedOrder, Said, Thing
from inventory.sheets.guess.shop.families import pattern_name
from inventory.sheets.guess.shop.lines import ShopTabs
from inventory.sheets.guess.shop.parts import put_part
from inventory.sheets.guess.shop.stock import coins
from inventory.sheets.guess.texts.words import plainly


def put_order(shop: ShopTabs, order: GuessedOrder, number: int, today: date) -> None:
    due, family, wood = order.said.get("due"), order.said.get("family"), order.said.get("wood")
    customer = order.said.get("customer")
    who = customer.value if customer else f"order {number}"
    missing = [
        what
        for what, said in (("a day", due), ("a kit", family), ("a blank", wood))
        if said is None or not said.value
    ]
    count = order.said.get("count")
    if (
        missing
        or due is None
        or family is None
        or wood is None
        or count is None
        or not shop.has("families", family.value)
    ):
        lacks = " and ".join(missing) or "a kit of the shop"
        shop.left_out.append(
            f"{order.anchor.ref}: the order of {who} lacks {lacks}, so it is not among the orders yet."
        )
        return
    if due.value < today.isoformat():
        told = f"the order of {who} was due on {due.value}, which has passed, so it is not among the orders."
        shop.left_out.append(f"{order.anchor.ref}: {told}")
        return
    blank = _blank_for(shop, wood)
    if order.value("state") == "paid":
        told = f"the order of {who} is paid. Note it once it is in the book: kitdrawer paid."
        shop.left_out.append(f"{order.anchor.ref}: {told}")
    named = who if not shop.has("orders", who) else f"{who} {number}"
    plating = order.said.get("plating")
    if plating:
        shop.put("platings", plating.value, plating=plating)
    price = order.said.get("asked")
    if price and not coins(price.value, order.value("coin") or "EUR"):
        price = None
    pattern = Said(pattern_name(shop, family.value), family.grade, family.why, family.cells)
    shop.put(
        "orders", named, order=Said(named, "guessed" if not customer else customer.grade, "", (order.anchor,)),
        pattern=pattern, blank=blank, count=count, due=due, plating=plating, customer=customer, price=price,
    )  # fmt: skip


def _blank_for(shop: ShopTabs, wood: Said) -> Said:
    """The blank part of an order: one on the shelf of this material, else a new one that nobody has counted."""
    for line in shop.lines.get("blanks", []):
        if plainly(line.cells["material"].value) == plainly(wood.value):
            return Said(line.cells["part"].value, wood.grade, wood.why, wood.cells)
    thing = Thing(wood.cells[0])
    name = wood.value if "blank" in plainly(wood.value) else f"{wood.value} blank"
    for what, value in (("kind", "blank"), ("name", name), ("material", wood.value), ("sort", "wood")):
        thing.put(what, value, "guessed", "ordered, but not on the shelf", *wood.cells)
    put_part(shop, thing)
    return thing.said["name"]
