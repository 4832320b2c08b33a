"""Buying: a list becomes due-in, and the promises that wait for it claim it before it arrives."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from math import ceil

from inventory.catalogue import Supplier, fold
from inventory.errors import AlreadyBooked, BadInput, Place
from inventory.jobs.orders.standing.overdue_parcels import movable
from inventory.ledger import Claim, Line, NewPurchase, Proposal, fingerprint
from inventory.ledger.documents.booked import Bought
from inventory.ledger.lateness import counted_on
from inventory.ledger.shop import Shop
from inventory.measures import show_date
from inventory.reports.purchasing.placed import Placed


@dataclass(frozen=True, slots=True)
class Sum:
    """What goes to one supplier, minor units of its coin. lacks: what is missing to its minimum order."""

    supplier: str
    goods: int
    postage: int
    lacks: int


def sums(shop: Shop, rows: Iterable[Placed]) -> tuple[Sum, ...]:
    """Goods and postage by supplier, in the order of the list."""
    goods: Counter[str] = Counter()
    for row in rows:
        name = shop.catalogue.supplier(row.supplier).name
        goods[name] += row.cost
    return tuple(_sum(shop.catalogue.supplier(name), cost) for name, cost in goods.items())


def _sum(supplier: Supplier, goods: int) -> Sum:
    free = supplier.free_from is not None and goods >= supplier.free_from
    lacks = max((supplier.minimum_order or 0) - goods, 0)
    return Sum(supplier.name, goods, 0 if free else supplier.postage, lacks)


def together(shop: Shop, all_: Sequence[Sum]) -> int:
    """Goods and postage of all suppliers, shop minor units, rounded up to a whole one as on the list."""
    rates = {one.supplier: shop.rate(shop.catalogue.supplier(one.supplier).currency) for one in all_}
    return ceil(sum((one.goods + one.postage) * (rates[one.supplier] or Fraction(0)) for one in all_))


def place(
    shop: Shop, rows: Sequence[Placed], before: Iterable[Bought] | None = None, *, again: bool = False
) -> Proposal:
    """The document that turns ordered lines into due-in.

    before: all that was ordered so far, where the rows are those of a saved list (None: they are not). Raises
    BadInput where a line orders nothing or the exchange rate is not known; AlreadyBooked where what a supplier gets by
    a saved list was ordered before, on whatever day, unless it is ordered once more: `again`.
    """
    if not rows:
        raise BadInput("There is nothing to order.", hint="`kitdrawer shopping` shows what is wanted.")
    _check(shop, rows)
    same = _ordered_before(rows, before or ())
    if same and not again:
        raise _already(shop, same)
    purchases, lines = [], []
    waiting = _Waiting(shop)
    for number, row in enumerate(rows, start=1):
        supplier = shop.catalogue.supplier(row.supplier)
        part = shop.catalogue.part(row.part)
        tag = f"purchase {number}"
        expected = shop.today + timedelta(days=supplier.lead_days) if supplier.lead_days is not None else None
        cost = ceil(row.cost * (shop.rate(supplier.currency) or Fraction(0)))
        purchases.append(NewPurchase(tag, supplier.name, part.name, expected, row.code, row.pack))
        lines.append(Line("due", part.name, row.quantity, cost, purchase=tag, reason="ordered"))
        lines += waiting.claim(part.name, row.quantity, tag, expected)
    content = sorted((fold(r.supplier), fold(r.part), r.code, r.pack, r.packs, r.price) for r in rows)
    suppliers = ", ".join(dict.fromkeys(purchase.supplier for purchase in purchases))
    return Proposal(
        "placed",
        f"Order from {suppliers}",
        shop.today,
        lines=tuple(lines),
        purchases=tuple(purchases),
        fingerprint=fingerprint("placed", *_list(shop, before, same), content),
        expected_version=shop.book.version,
    )


def _list(shop: Shop, before: Iterable[Bought] | None, same: Sequence[Bought]) -> tuple[object, ...]:
    """What tells two equal lists apart: the day, or for a saved one how often it was placed."""
    day = shop.today.isoformat()
    return (day,) if before is None else ("saved", *sorted({one.document for one in same}))


def _ordered_before(rows: Iterable[Placed], before: Iterable[Bought]) -> tuple[Bought, ...]:
    """Lines of earlier orders that are just what one supplier gets now: the same packs of the same parts."""
    now: dict[str, Counter[tuple[str, str, int, int]]] = {}
    for row in rows:
        lines = now.setdefault(fold(row.supplier), Counter())
        lines[fold(row.part), row.code, row.pack, row.quantity] += 1
    then: dict[tuple[str, int], list[Bought]] = {}
    for one in before:
        then.setdefault((one.supplier, one.document), []).append(one)
    return tuple(
        lines[0]
        for (supplier, _), lines in then.items()
        if Counter((one.part, one.code, one.pack, one.quantity) for one in lines) == now.get(supplier)
    )


def _already(shop: Shop, same: Sequence[Bought]) -> AlreadyBooked:
    newest = {one.supplier: one for one in same}
    said = [
        f"{shop.catalogue.supplier(one.supplier).name} on {show_date(one.on)} (entry {one.document})"
        for one in newest.values()
    ]
    return AlreadyBooked(
        f"This list was placed before: {', '.join(said)}.",
        hint="Nothing was booked. Place the rest with --supplier; say --again where the same is ordered once more.",
    )


def _check(shop: Shop, rows: Iterable[Placed]) -> None:
    wrong = []
    for row in rows:
        if row.packs < 1 or row.pack < 1:
            wrong.append((row, "orders nothing: packs and pack are whole numbers above 0"))
            continue
        shop.catalogue.part(row.part)
        supplier = shop.catalogue.supplier(row.supplier)
        if shop.rate(supplier.currency) is None:
            wrong.append((row, f"no exchange rate for {supplier.currency} is known"))
    if wrong:
        first, why = wrong[0]
        raise BadInput(
            f"{first.part} from {first.supplier}: {why}.",
            hint="Nothing was ordered. Correct the line; a rate is said with --rate USD=0.92.",
            where=[
                Place(r.place.file, r.place.tab, r.place.row, r.place.column, r.part, problem)
                for r, problem in wrong
            ],
        )


class _Waiting:
    """What promised orders still have to buy, or wait for in vain, handed out earliest due first."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self.late = {row.purchase: row for row in shop.book.due}
        self.claims = sorted(
            movable(shop), key=lambda claim: (shop.book.orders[fold(claim.order)].due, claim.order)
        )
        self.left = [claim.quantity for claim in self.claims]

    def claim(self, part: str, quantity: int, tag: str, expected: date | None) -> list[Line]:
        lines = []
        for at, claim in enumerate(self.claims):
            if fold(claim.part) != fold(part) or not self._sooner(claim, expected):
                continue
            got = min(self.left[at], quantity)
            if got:
                self.left[at] -= got
                quantity -= got
                reason = "ordered" if claim.purchase is None else "ordered again"
                lines += [
                    Line(
                        claim.account, part, -got, order=claim.order, purchase=claim.purchase, reason=reason
                    ),
                    Line("due claim", part, got, order=claim.order, purchase=tag, reason=reason),
                ]
        return lines

    def _sooner(self, claim: Claim, expected: date | None) -> bool:
        """Whether a new parcel is expected before the late one the claim waits for, if it waits for one."""
        if claim.purchase is None:
            return True
        counted = counted_on(self.shop.book, self.late[claim.purchase], self.shop.today)
        return expected is not None and counted is not None and expected < counted
