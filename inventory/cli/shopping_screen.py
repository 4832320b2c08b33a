"""The supplier list for a person: per supplier what to order and why, then what to know before sending it."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import ceil

from inventory.buying import Bill, Line, NearMiss, Unfilled
from inventory.cli.tables import Column, table, wrapped
from inventory.jobs.shop import Shop
from inventory.jobs.shopping import Shopping
from inventory.measures import currency, show_amount, show_date, show_money


def shopping_screen(shop: Shop, result: Shopping) -> list[str]:
    """Lines for the terminal."""
    if not result.demands:
        return [f"Nothing is wanted until {show_date(result.until)}."]
    lines = _headline(shop, result)
    for bill in result.basket.bills:
        lines += ["", *_bill(shop, bill)]
    lines += _block("Not on the list:", (_unfilled(shop, one) for one in result.basket.unfilled))
    lines += _block("Nearly:", (_miss(shop, one) for one in result.misses))
    lines += _block("Mind:", result.warnings)
    lines += _block(
        "Inspect:",
        (f"{wear.part.name}: {wear.uses} uses of about {wear.life}." for wear in result.inspections),
    )
    return lines


def money(shop: Shop, amount: Fraction | int) -> str:
    """Shop minor units, rounded up to a whole one where an exchange rate left a fraction."""
    return show_money(ceil(amount), shop.currency)


def _headline(shop: Shop, result: Shopping) -> list[str]:
    basket = result.basket
    if not basket.bills:
        return ["Nothing can be ordered."]
    count = len(basket.lines)
    text = (
        f"{money(shop, basket.total)} in all: goods {money(shop, basket.goods)}, "
        f"postage {money(shop, basket.postage)}; "
        f"{count} line{'s' * (count > 1)} from {len(basket.bills)} supplier{'s' * (len(basket.bills) > 1)}."
    )
    if basket.proven:
        sure = "No list costs less (proven)."
    else:
        sure = f"Not proven in the time given: the best list may cost up to {money(shop, basket.gap)} less."
    return [*wrapped(text), sure, *_naive(shop, result)]


def _naive(shop: Shop, result: Shopping) -> Iterable[str]:
    total = result.basket.total
    if result.per_line is not None:
        saved = result.per_line - total
        yield from wrapped(
            f"The cheapest offer line by line would cost {money(shop, result.per_line)}"
            f"{f', {money(shop, saved)} more' if saved > 0 else ', the same'}."
        )
    if result.one_supplier is not None:
        name, cost = result.one_supplier
        more = f", {money(shop, cost - total)} more" if cost > total else ", the same"
        yield from wrapped(f"All from {name} would cost {money(shop, cost)}{more}.")


def _bill(shop: Shop, bill: Bill) -> list[str]:
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


def _cells(shop: Shop, line: Line, bill: Bill) -> list[str]:
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


def _unfilled(shop: Shop, one: Unfilled) -> str:
    part = shop.catalogue.part(one.want.part)
    when = f", wanted by {show_date(one.want.needed_by)}" if one.want.needed_by else ""
    earliest = f"; the earliest is {show_date(one.earliest)}" if one.earliest else ""
    why = "; ".join(one.want.reasons)
    return f"{part.name}, {show_amount(one.want.quantity, part.unit)}{when}: {one.why}{earliest} ({why})."


def _miss(shop: Shop, one: NearMiss) -> str:
    if one.kind == "postage":
        short = show_money(
            one.short, currency(shop.catalogue.supplier(one.supplier).currency or shop.currency.code)
        )
        return f"{one.supplier}: {short} short of free postage, which would save {money(shop, one.saving)}."
    packs = f"{one.packs} more pack{'s' * (one.packs > 1)}"
    what = f"of {' or '.join(one.parts[:3])}" if len(one.parts) < 4 else f"of any {one.group or 'of these'}"
    return (
        f"{one.supplier}: {packs} {what} reach{'es' * (one.packs == 1)} the next step and cost"
        f"{'s' * (one.packs == 1)} {money(shop, one.extra)} instead of {money(shop, one.alone)}, "
        f"saving {money(shop, one.saving)}."
    )
