"""What a piece would have to sell for by several rules, what such pieces sold for, and how many pay a fee."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from inventory.catalogue import fold
from inventory.ledger.shop import Shop
from inventory.measures import show_money
from inventory.planning.contribution import (
    margin_of,
    markup_of,
    pieces_for,
    price_by_margin,
    price_by_multiple,
)
from inventory.reports.accounts.cost import BreakEven, CostReport, RulePrice, SoldBefore

TIMES = Fraction(2)
"""Materials and work, doubled: a price for trade (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class AskedPrices:
    """What the maker wants prices for; None as the shop is settled. wage, price, fee: minor units."""

    margin: Fraction | None = None
    times: Fraction = TIMES
    wage: int | None = None
    price: int | None = None
    fee: int | None = None


def rule_prices(
    shop: Shop, cost: CostReport, asked: AskedPrices, before: SoldBefore | None
) -> tuple[RulePrice, ...]:
    """By margin, by multiple, by wage, what they sold for in the middle, and the price that was named."""
    each, goods = cost.each(cost.total), cost.each(cost.goods)
    hours = cost.minutes / cost.pieces / 60
    margin = shop.margin if asked.margin is None else asked.margin
    wage = shop.labour_rate if asked.wage is None else asked.wage
    named = [
        (f"{_share(margin)} margin", price_by_margin(each, margin)),
        (f"{_plain(asked.times)} × cost", price_by_multiple(each, asked.times)),
        (f"{show_money(wage, shop.currency)} an hour", price_by_multiple(goods + hours * wage, Fraction(1))),
        *([("sold for, median", before.median)] if before else []),
        *([("as named", asked.price)] if asked.price is not None else []),
    ]
    return tuple(
        RulePrice(
            rule,
            price,
            margin_of(price, each),
            markup_of(price, each),
            round((price - goods) / hours) if hours else None,
        )
        for rule, price in named
    )


def _share(share: Fraction) -> str:
    return f"{float(100 * share):g} %"


def _plain(number: Fraction) -> str:
    return f"{float(number):g}"


def sold_before(shop: Shop, pattern: str, handed: Mapping[str, date]) -> SoldBefore | None:
    """What pieces of a pattern brought, None where no price is known. handed: by folded order the day it went out."""
    sold = sorted(
        (
            handed[key],
            order.name,
            order.price,
            order.whole - (order.count if order.state == "promised" else 0),
        )
        for key, order in shop.book.orders.items()
        if key in handed and order.price is not None and fold(order.pattern) == fold(pattern)
    )
    if not sold:
        return None
    prices = sorted(price for _, _, price, many in sold for _ in range(many))
    on, _, last, _ = sold[-1]
    return SoldBefore(len(prices), prices[0], prices[-1], _median(prices), last, on)


def _median(prices: Sequence[int]) -> int:
    """The middle one; between two middle ones halfway, rounded to even."""
    half, odd = divmod(len(prices), 2)
    return prices[half] if odd else round(Fraction(prices[half - 1] + prices[half], 2))


def break_even(cost: CostReport, asked: AskedPrices, prices: Sequence[RulePrice]) -> BreakEven | None:
    """How many pieces pay a fee, at the price named, else what they sold for, else the first rule's.

    What a piece more costs is all but the work: that is paid out of what is left.
    """
    if asked.fee is None:
        return None
    price = prices[-1].price if len(prices) > 3 else prices[0].price
    variable = cost.each(cost.goods)
    return BreakEven(asked.fee, price, price - variable, pieces_for(asked.fee, price, variable))
