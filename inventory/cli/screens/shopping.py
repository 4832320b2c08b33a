"""The supplier list for a person: per supplier what to order and why, then what to know before sending it."""

from __future__ import annotations

from collections.abc import Iterable

from inventory.buying import BasketLine, SupplierOrder
from inventory.cli.screens.tables import Column, table, wrapped
from inventory.ledger.shop import Shop
from inventory.measures import currency, plural, show_amount, show_date, show_money
from inventory.reports.shopping import Shopping
from inventory.reports.shopping_words import (
    certainty,
    comes_late,
    inspect,
    late_ones,
    late_parcels,
    left_off,
    money,
    nearly,
    not_on_list,
    other_lists,
    within_budget,
)


def shopping_screen(shop: Shop, result: Shopping) -> list[str]:
    """Lines for the terminal."""
    if not result.demands:
        lines = [f"Nothing is wanted until {show_date(result.until)}."]
        return [*lines, *_block("Late parcels:", late_parcels(shop, result))]
    lines = _headline(shop, result)
    for bill in result.basket.bills:
        lines += ["", *_bill(shop, bill)]
    lines += _block("Late parcels:", late_parcels(shop, result))
    lines += _block("Too late:", (comes_late(shop, one) for one in late_ones(result)))
    lines += _block("Not on the list:", (not_on_list(shop, one) for one in left_off(result)))
    lines += _block("Nearly:", (nearly(shop, one) for one in result.misses))
    lines += _block("Mind:", result.warnings)
    lines += _block("Inspect:", map(inspect, result.inspections))
    return lines


def _headline(shop: Shop, result: Shopping) -> list[str]:
    basket = result.basket
    if not basket.bills:
        return ["Nothing can be ordered."]
    count = len(basket.lines)
    text = (
        f"{money(shop, basket.total)} in all: goods {money(shop, basket.goods)}, "
        f"postage {money(shop, basket.postage)}; "
        f"{plural(count, 'line')} from {plural(len(basket.bills), 'supplier')}."
    )
    lines = wrapped(text)
    for sentence in (
        certainty(shop, result),
        *within_budget(result.basket.choice),
        *other_lists(shop, result),
    ):
        lines += wrapped(sentence)
    return lines


def _bill(shop: Shop, bill: SupplierOrder) -> list[str]:
    coin = currency(bill.supplier.currency)
    arrives = f", here {show_date(bill.arrives)}" if bill.arrives else ""
    sums = f"{show_money(bill.goods, coin)} goods + {show_money(bill.postage, coin)} postage"
    head = f"{bill.supplier.name}: {sums}{arrives}"
    columns = (
        Column("Packs", right=True),
        Column("Part", gives=True),
        Column("Pack"),
        Column("Code"),
        Column("Cost", right=True),
        Column("By"),
    )
    rows = [_cells(shop, line, bill) for line in bill.lines]
    lines = [*wrapped(head), *table(columns, rows)]
    for line in bill.lines:
        lines += wrapped(f"{line.offer.part}: {'; '.join(line.reasons)}.", "· ")
    return lines


def _cells(shop: Shop, line: BasketLine, bill: SupplierOrder) -> list[str]:
    part = shop.catalogue.part(line.offer.part)
    return [
        str(line.packs),
        part.name,
        "" if line.offer.pack == 1000 and part.unit == "piece" else show_amount(line.offer.pack, part.unit),
        line.offer.code,
        show_money(line.cost, currency(bill.supplier.currency)),
        show_date(line.needed_by) if line.needed_by else "",
    ]


def _block(title: str, sentences: Iterable[str]) -> list[str]:
    lines: list[str] = []
    for sentence in sentences:
        lines += wrapped(sentence, "· ")
    return ["", title, *lines] if lines else []
