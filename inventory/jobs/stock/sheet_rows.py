"""A catalogue and its orders as the rows a sheet would say them in, so that two can be compared row by row."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, fields
from datetime import date
from fractions import Fraction
from typing import Any

from inventory.catalogue import (
    Catalogue,
    Family,
    Material,
    Named,
    Offer,
    Order,
    Part,
    Pattern,
    Supplier,
    fold,
)
from inventory.catalogue.merging import offer_key
from inventory.ledger.markets import Market, market_key
from inventory.measures import (
    Currency,
    Drill,
    Length,
    currency,
    show_amount,
    show_date,
    show_money,
    show_number,
)

RowKey = tuple[str, str]
"""A tab, and the folded name of a row in it (`row_key`)."""


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One row: its tab, what it is called, and what each field says, as it is compared and as it is shown."""

    tab: str
    name: str
    says: Mapping[str, tuple[object, str]]


def row_key(*names: str) -> str:
    """The key of a row that several names tell apart."""
    return "\x1f".join(map(fold, names))


def offered(offer: Offer) -> str:
    """The key of an offer's rows, whatever its price breaks are."""
    supplier, part, pack, code = offer_key(offer)
    return row_key(supplier, part, str(pack), code)


_TABS = {"kit": "kits", "tube": "tubes", "blank": "blanks", "supply": "supplies", "tool": "tools"}
TABS_OF: Mapping[Named, tuple[str, ...]] = {
    "part": tuple(_TABS.values()),
    "plating": ("platings",),
    "material": ("materials",),
    "family": ("families",),
    "pattern": ("patterns",),
    "supplier": ("suppliers",),
}
"""The tabs in which a kind of thing has its own rows."""
_DAYS = frozenset(("keeps_sealed", "keeps_opened", "lead_days"))


def rows_of(of: Catalogue, whole: Catalogue, coin: Currency) -> dict[RowKey, SheetRow]:
    """Every row of a catalogue. whole: where the units and coins of what it names are found; coin: the shop's."""
    found: dict[RowKey, SheetRow] = {}
    for key, row in (*_things(of, coin), *_making(of, whole), *_offers(of, whole, coin)):
        found[row.tab, key] = row
    return found


def order_rows(orders: Iterable[Order], coin: Currency) -> dict[RowKey, SheetRow]:
    """Every order as its row."""
    found = {}
    for order in orders:
        says = _said(order, ("state", "count", "handed"), money={"price": coin})
        says["count"] = (order.whole, str(order.whole))
        found["orders", row_key(order.name)] = SheetRow("orders", order.name, says)
    return found


def market_rows(markets: Iterable[Market]) -> dict[RowKey, SheetRow]:
    """Every day of a market as its row."""
    return {
        ("markets", market_key(one.name, one.on)): SheetRow(
            "markets", f"{one.name} on {show_date(one.on)}", _said(one)
        )
        for one in markets
    }


def _things(of: Catalogue, coin: Currency) -> Iterator[tuple[str, SheetRow]]:
    for part in of.parts.values():
        if (tab := _TABS.get(part.kind)) is not None:
            yield row_key(part.name), SheetRow(tab, part.name, _part(part))
    for plating in of.platings.values():
        yield row_key(plating.name), SheetRow("platings", plating.name, _said(plating))
    for material in of.materials.values():
        yield row_key(material.name), SheetRow("materials", material.name, _material(material))
    for supplier in of.suppliers.values():
        money = dict.fromkeys(("postage", "free_from", "minimum_order"), _coin(supplier, coin))
        yield row_key(supplier.name), SheetRow("suppliers", supplier.name, _said(supplier, money=money))


def _part(part: Part) -> dict[str, tuple[object, str]]:
    amounts = {"level": part.unit, "net": part.unit, "tare": "g"}
    return {
        **_said(part, ("detail",), amounts=amounts),
        **_said(part.detail, amounts={} if part.kind != "supply" else amounts),
    }


def _material(material: Material) -> dict[str, tuple[object, str]]:
    losses = {f"lost at {stage}": _value(share) for stage, share in material.losses.items()}
    return {**_said(material, ("losses",)), **losses}


def _making(of: Catalogue, whole: Catalogue) -> Iterator[tuple[str, SheetRow]]:
    for family in of.families.values():
        yield row_key(family.name), SheetRow("families", family.name, _said(family, ("barrels",)))
        yield from _barrels(family)
    for pattern in of.patterns.values():
        yield row_key(pattern.name), SheetRow("patterns", pattern.name, _said(pattern, ("bill",)))
        yield from _bill(pattern, whole)


def _barrels(family: Family) -> Iterator[tuple[str, SheetRow]]:
    for barrel in family.barrels:
        name = f"{family.name}, {barrel.name}"
        yield row_key(family.name, barrel.name), SheetRow("barrels", name, _said(barrel))


def _bill(pattern: Pattern, whole: Catalogue) -> Iterator[tuple[str, SheetRow]]:
    for line in pattern.bill:
        part = whole.parts.get(fold(line.part))
        name = f"{pattern.name}, {line.stage}: {line.part} per {line.per}"
        says = {"quantity": (line.quantity, show_amount(line.quantity, part.unit if part else "piece"))}
        yield row_key(pattern.name, line.stage, line.part, line.per), SheetRow("bills", name, says)


def _offers(of: Catalogue, whole: Catalogue, coin: Currency) -> Iterator[tuple[str, SheetRow]]:
    for several in of.offers.values():
        for offer in several:
            unit = whole.parts[fold(offer.part)].unit
            supplier = whole.suppliers.get(fold(offer.supplier))
            own = _coin(supplier, coin) if supplier else coin
            says = _said(offer, ("supplier", "part", "pack", "steps", "code"))
            says["price"] = (offer.steps, _prices(offer, own))
            told = f"{offer.supplier}: {offer.part}, pack of {show_amount(offer.pack, unit)}"
            yield offered(offer), SheetRow("offers", f"{told} {offer.code}".rstrip(), says)


def _prices(offer: Offer, coin: Currency) -> str:
    return ", ".join(
        show_money(step.price, coin) + (f" from {step.from_packs}" if step.from_packs > 1 else "")
        for step in offer.steps
    )


def _coin(supplier: Supplier, coin: Currency) -> Currency:
    return currency(supplier.currency) if supplier.currency else coin


def _said(
    thing: Any,
    beside: Iterable[str] = (),
    *,
    money: Mapping[str, Currency] | None = None,
    amounts: Mapping[str, str] | None = None,
) -> dict[str, tuple[object, str]]:
    """What each field says. money, amounts: those in coins and in a unit; beside: those told elsewhere."""
    coins, units = money or {}, amounts or {}
    found = {}
    for one in fields(thing):
        value = getattr(thing, one.name)
        if one.name in beside:
            continue
        if value is not None and one.name in coins:
            found[one.name] = (value, show_money(value, coins[one.name]))
        elif value is not None and one.name in units:
            found[one.name] = (value, show_amount(value, units[one.name]))
        elif value is not None and one.name in _DAYS:
            found[one.name] = (value, f"{value} days")
        else:
            found[one.name] = _value(value)
    return found


_SHOWN: Mapping[type, Callable[[Any], str]] = {
    bool: lambda value: "yes" if value else "no",
    Fraction: show_number,
    date: show_date,
}


def _value(value: Any) -> tuple[object, str]:
    """A value as it is compared and shown; names are compared without their case, lengths by what they measure."""
    if value is None:
        return "", ""
    if isinstance(value, tuple):
        return tuple(fold(str(one)) for one in value), "; ".join(map(str, value))
    if isinstance(value, Length | Drill):
        return value, str(value)
    return value, _SHOWN.get(type(value), str)(value)
