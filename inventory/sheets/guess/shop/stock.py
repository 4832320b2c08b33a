"""Offers and counts: what was paid, for how much, from whom, and what is there."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from inventory.measures import currency, show_money
from inventory.sheets.guess.guesses import Grade, Said, Thing, worst
from inventory.sheets.guess.shop import usual
from inventory.sheets.guess.shop.lines import ShopTabs, TabLine
from inventory.sheets.guess.shop.parts import CONTAINERS, part_name
from inventory.sheets.guess.texts.words import plainly


def put_offer(shop: ShopTabs, thing: Thing, coin: str) -> None:
    supplier, paid = thing.said.get("supplier"), thing.said.get("paid")
    if supplier is None:
        return
    theirs = thing.value("coin")
    foreign = Said(theirs, "read", "", paid.cells) if paid and theirs and theirs != coin else None
    shop.put(
        "suppliers",
        supplier.value,
        supplier=supplier,
        lead_days=Said(str(usual.LEAD_DAYS), "guessed", usual.WHY),
        currency=foreign,
    )
    line = shop.by_name[("suppliers", plainly(supplier.value))]
    if ("currency" in line.cells) != bool(foreign) or (foreign and line.cells["currency"].value != theirs):
        return  # prices in two coins of one supplier: an offer can only be in one
    pack = _pack(thing)
    price = coins(paid.value, theirs or coin) if paid else ""
    if paid is None or pack is None or not price or Fraction(paid.value) <= 0:
        return
    name = part_name(thing)
    shop.put(
        "offers", f"{supplier.value}|{name.value}|{pack.value}", supplier=supplier, part=name, pack=pack,
        price=Said(price, worst((paid.grade, pack.grade)), paid.why, paid.cells), supplier_code=thing.said.get("code"),
    )  # fmt: skip


def coins(text: str, code: str) -> str:
    """A sum as the shop's coin takes it, or nothing where it is finer than its smallest coin."""
    coin = currency(code or "EUR")
    minor = Fraction(text) * coin.scale
    return show_money(int(minor), coin).split(" ")[0] if minor.denominator == 1 else ""


def _pack(thing: Thing) -> Said | None:
    """What one pack of an offer holds, by what the price was for."""
    per = thing.said.get("per")
    if per is None:
        return None
    unit = thing.value("unit")
    if per.value == "each":
        return Said(f"1 {unit}" if unit else "1", per.grade, per.why, per.cells)
    if per.value == "pack" and (thing.value("pack") or unit in CONTAINERS):
        return Said(thing.value("pack") or f"1 {unit}", per.grade, per.why, per.cells)
    return (
        Said(per.value, per.grade, per.why, per.cells) if per.value.isdecimal() and per.value != "0" else None
    )


def put_count(shop: ShopTabs, thing: Thing, coin: str) -> None:
    quantity = thing.said.get("quantity")
    if quantity is None:
        return
    name, unit = part_name(thing), thing.value("unit")
    if unit in CONTAINERS and not _holds(shop, name.value):  # another row counts it in pieces
        unit, quantity = "", replace(quantity, grade="guessed", why=f"{unit}s taken as pieces")
    amount = Said(f"{quantity.value} {unit}".strip(), quantity.grade, quantity.why, quantity.cells)
    key, lot = name.value, None
    if shop.has("counts", key):
        where = thing.said.get("where")
        text = f"{where.value} " if where else ""
        key = f"{name.value}|{thing.anchor.ref}"
        lot = Said(f"{text}{thing.anchor.ref}", "guessed", "counted in more than one row", (thing.anchor,))
    line = shop.put(
        "counts", key, part=name, quantity=amount, lot=lot, received_on=thing.said.get("received")
    )
    _cost(line, thing, coin)


def _holds(shop: ShopTabs, name: str) -> bool:
    """Whether it is said how much a container of a supply holds."""
    line = shop.by_name.get(("supplies", plainly(name)))
    return line is None or "net" in line.cells


def _cost(line: TabLine, thing: Thing, coin: str) -> None:
    """What it cost, in the shop's coin: of one, or what was paid and for how much."""
    paid, per = thing.said.get("paid"), thing.said.get("per")
    if paid is None or per is None or (thing.value("coin") or coin) != coin:
        return
    pack = _pack(thing)
    grade = worst((paid.grade, per.grade))
    if per.value == "all":
        if Fraction(thing.value("quantity")) > 0:
            _put_paid(line, paid, grade, "all", coin)
    elif pack is not None and pack.value == "1":
        line.cells["unit cost"] = Said(
            coins(paid.value, coin) or paid.value, grade, paid.why or per.why, paid.cells
        )
    elif pack is not None:
        _put_paid(line, paid, grade, pack.value, coin)


def _put_paid(line: TabLine, paid: Said, grade: Grade, what_for: str, coin: str) -> None:
    price = coins(paid.value, coin)
    if price:
        line.cells["paid"] = Said(price, grade, paid.why, paid.cells)
        line.cells["for"] = Said(what_for, grade, paid.why, paid.cells)
