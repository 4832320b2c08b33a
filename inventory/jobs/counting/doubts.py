"""What is asked about before it is booked: costs and counts that are far from what the shop knows of the part.

Bounds are common practice, no source: a unit cost more than 4 times, or less than a quarter of, what the offers say is
most often the price of a pack or a bottle; a count a hundred times the part's usual is most often a slip of a digit or
of a unit.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from inventory.catalogue import Part, Supply, fold
from inventory.errors import Place
from inventory.ledger import Book, Count
from inventory.ledger.costs import UNKNOWN, Prices
from inventory.measures import Currency, show_amount, show_unit_price

TIMES = 4
HUNDRED = 100

Usual = Callable[[Collection[str]], Mapping[str, int]]
"""The most that ever came in at once of each of these parts, by folded name, thousandths."""
Range = tuple[Fraction, Fraction]
"""Lowest and highest cost of one unit, minor units."""


def known_costs(part: str, prices: Prices, book: Book) -> Range | None:
    """What one unit costs by the offers, else by the lots whose cost is known; None where nobody can tell."""
    offered = prices.of_one(part)
    if offered is not None:
        return offered
    each = [
        Fraction(1000 * lot.cost, lot.quantity)
        for lot in book.lots_of(part)
        if lot.cost and lot.cost_from != UNKNOWN
    ]
    return (min(each), max(each)) if each else None


def cost_doubt(part: Part, unit_cost: Fraction, known: Range | None, coin: Currency) -> str:
    """Why a unit cost of a sheet is asked about; empty where it is likely, or nobody can tell."""
    said = unlikely_cost(part, unit_cost, known, coin)
    return f"{said}{_perhaps(part, unit_cost, known)}" if said and known else ""


def unlikely_cost(part: Part, unit_cost: Fraction, known: Range | None, coin: Currency) -> str:
    """The same, without what to write instead."""
    if known is None or (known[0] <= TIMES * unit_cost and unit_cost <= TIMES * known[1]):
        return ""
    low, high = (show_unit_price(one, coin) for one in known)
    usual = low if low == high else f"{low} to {high}"
    one = "one" if part.unit == "piece" else show_amount(1000, part.unit)
    return f"{show_unit_price(unit_cost, coin)} for {one} is far from the usual {usual}."


def _perhaps(part: Part, unit_cost: Fraction, known: Range) -> str:
    """The likeliest slip: what a bottle cost, read as the cost of a unit."""
    net = part.detail.net if isinstance(part.detail, Supply) else None
    if not net:
        return " If it is the price of a pack, write it under “paid”, and “pack” under “for”."
    each = unit_cost * 1000 / net
    if known[0] <= TIMES * each and each <= TIMES * known[1]:
        return (
            f" Was it paid for a bottle of {show_amount(net, part.unit)}? Then write it under “paid”, and “bottle” "
            "under “for”."
        )
    return ""


def count_doubts(
    counts: Sequence[Count], parts: Mapping[str, Part], prices: Prices, book: Book, coin: Currency
) -> Iterable[Place]:
    """Rows whose unit cost is asked about. parts: by folded name."""
    ranges: dict[str, Range | None] = {}
    for row in counts:
        key = fold(row.part)
        if row.unit_cost is None:
            continue
        if key not in ranges:
            ranges[key] = known_costs(row.part, prices, book)
        if why := cost_doubt(parts[key], row.unit_cost, ranges[key], coin):
            yield replace(row.place, column="unit cost", said="", problem=f"{row.part}: {why}")


def quantity_doubts(
    counts: Sequence[Count], parts: Mapping[str, Part], book: Book, usual: Usual
) -> Iterable[Place]:
    """Rows of parts of which a hundred times what is usual was counted: what is there, or the most that ever came."""
    found: Counter[str] = Counter()
    for row in counts:
        found[fold(row.part)] += row.quantity
    large = {key for key, many in found.items() if many >= HUNDRED * max(book.balance(key).on_hand, 1)}
    most = usual(large) if large else {}
    for key in found:
        before = max(most.get(key, 0), book.balance(key).on_hand) if key in large else 0
        if before and found[key] >= HUNDRED * before:
            row = max((one for one in counts if fold(one.part) == key), key=lambda one: one.quantity)
            unit = parts[key].unit
            many, few = show_amount(found[key], unit), show_amount(before, unit)
            problem = f"{row.part}: {many} is a hundred times the usual: there were never more than {few}."
            yield replace(row.place, column="quantity", said="", problem=problem)
