"""The supplier list as JSON. Its fields are promises (see guide/reference.md)."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil

from inventory.buying import Choice, NearMiss, SupplierOrder, Unfilled
from inventory.cli.json.exact import Exact, Value
from inventory.ledger.shop import Shop
from inventory.measures import currency
from inventory.reports.purchasing.demands import Overdue, by_line, saved
from inventory.reports.purchasing.shopping import LookedAhead, Shopping


def shopping_json(shop: Shop, result: Shopping) -> dict[str, Value]:
    """The whole list; sums in the shop's coin, lines in their supplier's."""
    basket = result.basket

    def money(amount: Fraction | None) -> Value:
        return _money(shop, amount)

    return {
        "currency": shop.currency.code,
        "until": result.until,
        "total": money(basket.total),
        "goods": money(basket.goods),
        "postage": money(basket.postage),
        "proven": basket.proven,
        "gap": money(basket.gap),
        "seconds": round(basket.seconds, 3),
        "choice": _choice(basket.choice),
        "cheapest_per_line": money(result.per_line),
        "one_supplier": money(result.one_supplier[1]) if result.one_supplier else None,
        "lists": [_list(shop, bill) for bill in basket.bills],
        "ahead": _ahead(result.ahead),
        "late_parcels": [_late(shop, waits) for waits in by_line(result.late)],
        "near_misses": [_miss(shop, one) for one in result.misses],
        "unfilled": [_unfilled(shop, one) for one in basket.unfilled],
        "warnings": list(result.warnings),
        "inspect": [{"part": w.part.name, "uses": w.uses, "life": w.life} for w in result.inspections],
    }


def _ahead(one: LookedAhead | None) -> Value:
    """What waits for the next trip; None where the list is today's."""
    if one is None:
        return None
    exact = Exact(0)
    return {
        "next_trip": one.trip,
        "gap": round(one.gap, 2),
        "courses": one.courses,
        "likely": {name: round(share, 2) for name, share in one.likely},
        "waits": [
            {
                "part": row.part.name,
                "quantity": exact.amount(row.quantity),
                "orders": list(row.orders),
                "needed_by": row.needed_by,
                "from": supplier or None,
                "reason": row.reason,
            }
            for row, supplier in one.waits
        ],
    }


def _money(shop: Shop, amount: Fraction | None) -> Value:
    """Shop minor units, rounded up to a whole one."""
    return None if amount is None else Exact(shop.currency.exponent).money(ceil(amount))


def _miss(shop: Shop, one: NearMiss) -> Value:
    own = Exact(shop.currency.exponent)
    coin = Exact(currency(shop.catalogue.supplier(one.supplier).currency or shop.currency.code).exponent)
    return {
        "supplier": one.supplier,
        "kind": one.kind,
        "parts": list(one.parts),
        "packs": one.packs,
        "saving": _money(shop, one.saving),
        "extra": _money(shop, one.extra),
        "short": coin.money(one.short),
        "pays": one.pays,
        "postage": _money(shop, one.fee) if one.kind == "postage" else None,
        "filler": _money(shop, one.filler),
        "fill": [
            {
                "part": fill.offer.part,
                "supplier_code": fill.offer.code or None,
                "pack": own.amount(fill.offer.pack),
                "packs": fill.packs,
                "cost": coin.money(fill.cost),
                "needed": fill.needed,
                "why": list(fill.reasons),
            }
            for fill in one.fill
        ],
    }


def _unfilled(shop: Shop, one: Unfilled) -> Value:
    return {
        "part": one.want.part,
        "quantity": Exact(shop.currency.exponent).amount(one.want.quantity),
        "needed_by": one.want.needed_by,
        "why": one.why,
        "earliest": one.earliest,
        "days_late": one.days_late,
        "bought": one.bought,
        "total_with_it": _money(shop, one.with_it),
        "reasons": list(one.want.reasons),
    }


def _late(shop: Shop, waits: Sequence[Overdue]) -> Value:
    exact, one = Exact(shop.currency.exponent), waits[0]
    return {
        "part": one.part.name,
        "supplier": one.row.supplier,
        "quantity": exact.amount(sum(wait.quantity for wait in waits)),
        "orders": [wait.order.name for wait in waits],
        "expected": one.row.expected_on,
        "days_late": one.days,
        "counted_on": one.counted,
        "bought_anew": one.anew is not None,
        "saved_by_cancelling": exact.money(saved(waits)),
    }


def _choice(choice: Choice | None) -> Value:
    """What a budget that did not reach serves; null where everything is bought."""
    if choice is None:
        return None
    return {
        "orders": choice.orders,
        "of_orders": choice.all_orders,
        "trouble": choice.trouble,
        "of_trouble": choice.all_trouble,
        "proven": choice.proven,
        "most_orders": choice.most_orders,
        "most_trouble": choice.most_trouble,
    }


def _list(shop: Shop, bill: SupplierOrder) -> dict[str, Value]:
    coin = Exact(currency(bill.supplier.currency).exponent)
    own = Exact(shop.currency.exponent)
    return {
        "supplier": bill.supplier.name,
        "currency": bill.supplier.currency,
        "goods": coin.money(bill.goods),
        "postage": coin.money(bill.postage),
        "total_in_shop_currency": own.money(ceil(bill.landed)),
        "arrives": bill.arrives,
        "lines": [
            {
                "part": line.offer.part,
                "supplier_code": line.offer.code or None,
                "pack": own.amount(line.offer.pack),
                "packs": line.packs,
                "price": coin.money(line.price),
                "cost": coin.money(line.cost),
                "why": list(line.reasons),
                "needed_by": line.needed_by,
            }
            for line in bill.lines
        ],
    }
