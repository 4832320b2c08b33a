"""The supplier list: demand with its reasons, the basket that costs least, and what makes it worth trusting."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from inventory.buying import (
    Basket,
    NearMiss,
    PackOffer,
    Situation,
    SupplierTerms,
    Want,
    best_basket,
    naive_cheapest_per_line,
    naive_one_supplier,
    near_misses,
    postage_misses,
)
from inventory.catalogue import Blank, Supplier, Supply, fold
from inventory.catalogue.hazards import FLAMMABLE
from inventory.catalogue.safety import standing
from inventory.errors import BadInput
from inventory.jobs.ahead.levels import DemandPast, levels
from inventory.jobs.ahead.looking import look
from inventory.jobs.orders.standing.overdue_parcels import overdue
from inventory.jobs.orders.usual_values import said_usual, usual_of_list
from inventory.jobs.purchasing.demand import Past, demand, inspections, unknown_tools
from inventory.jobs.purchasing.late import eased, told
from inventory.jobs.purchasing.market import offers_of, sellers_of
from inventory.jobs.purchasing.upcoming_needs import beyond_promises, upcoming_needs
from inventory.ledger.shop import Shop
from inventory.measures import show_amount, show_date
from inventory.reports.purchasing.demands import Demand, Overdue
from inventory.reports.purchasing.shopping import Shopping

HORIZON = timedelta(weeks=8)
"""How far ahead the list looks where nobody says: one order a supplier every two months (an assumption)."""


@dataclass(frozen=True, slots=True)
class ShoppingRequest:
    """What the maker said: a budget in shop minor units, suppliers to keep to or to leave out, the horizon."""

    until: date
    budget: int | None = None
    only: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    time_limit: float = 20.0
    today_only: bool = False


def shopping(shop: Shop, past: Past, requests: ShoppingRequest, ahead: DemandPast | None = None) -> Shopping:
    """Work the list out. Raises UnknownName for a supplier nobody knows, BadInput for terms that contradict.

    ahead: what was asked for, where levels are to be worked out of it and the list is to look ahead.
    """
    chosen = _suppliers(shop, requests)
    notes: list[str] = []
    sellers, rates = sellers_of(shop, chosen, notes)
    late = overdue(shop, {fold(name) for name in sellers})
    made = levels(shop, ahead) if ahead is not None else None
    reorder_at = {fold(one.part.name): one.reorder_at for one in made.parts} if made else {}
    demands = demand(shop, past, requests.until, late, reorder_at, counts=requests.today_only)
    looked = None
    if made is not None and ahead is not None and not requests.today_only:
        looked = look(shop, ahead, made, demands, chosen, requests.time_limit)
        if looked is None:
            demands = demand(shop, past, requests.until, late, reorder_at)
            notes.append(
                f"What can wait could not be found in {requests.time_limit:g} s, so this is today's list: "
                "a longer --time-limit finds it."
            )
    if looked is not None:
        demands = looked.now
        sellers = {name: one for name, one in sellers.items() if name in looked.sent}
    offers = _believed(offers_of(shop, (fold(one.part.name) for one in demands), sellers, notes), late)
    wanted = eased([_want(one) for one in demands], offers, sellers, shop.today)
    wants = wanted.wants
    basket = best_basket(
        wants, offers, sellers, rates, shop.today, budget=requests.budget, time_limit=requests.time_limit
    )
    cheapest = naive_cheapest_per_line(wants, offers, sellers, rates, shop.today)
    single = naive_one_supplier(wants, offers, sellers, rates, shop.today)
    return Shopping(
        told(basket, wanted),
        demands,
        _complete(cheapest, basket),
        _single(single, basket),
        _misses(shop, past, requests.until, demands, (basket, wants, sellers, rates)),
        (*notes, *_warnings(shop, basket)),
        inspections(shop, past),
        requests.until,
        late,
        looked.told if looked is not None else None,
    )


def _believed(offers: Sequence[PackOffer], late: Iterable[Overdue]) -> list[PackOffer]:
    """The offers without those of suppliers who are late with the part, where somebody else has it in time."""
    owed = {
        (fold(one.part.name), fold(one.row.supplier))
        for one in late
        if one.anew is not None and not one.again
    }
    return [one for one in offers if (fold(one.part), fold(one.supplier)) not in owed]


def _misses(
    shop: Shop,
    past: Past,
    until: date,
    demands: Sequence[Demand],
    made: tuple[Basket, Sequence[Want], Mapping[str, SupplierTerms], Mapping[str, Fraction]],
) -> tuple[NearMiss, ...]:
    """What the list nearly reaches: free postage first, then price steps."""
    basket, wants, sellers, rates = made
    if not basket.bills:
        return ()
    offers = offers_of(shop, shop.offers, sellers, [])
    ahead = [
        Want(one.part.name, one.quantity, reasons=one.reasons)
        for one in upcoming_needs(shop, past, until, beyond_promises(basket, demands))
    ]
    return (
        *postage_misses(Situation(basket, wants, ahead, offers, sellers, rates, shop.today)),
        *near_misses(basket, wants, offers, sellers, rates, shop.today),
    )


def _suppliers(shop: Shop, requests: ShoppingRequest) -> tuple[Supplier, ...]:
    only = {fold(shop.catalogue.supplier(name).name) for name in requests.only}
    out = {fold(shop.catalogue.supplier(name).name) for name in requests.without}
    if only & out:
        raise BadInput(
            "A supplier is both asked for and left out.", hint="Say --only or --without, not both of one."
        )
    return tuple(
        one for key, one in shop.catalogue.suppliers.items() if key not in out and (not only or key in only)
    )


def _want(one: Demand) -> Want:
    return Want(one.part.name, one.quantity, one.needed_by, one.orders, one.trouble, (one.reason,))


def _complete(naive: Basket | None, best: Basket) -> Fraction | None:
    """What a naive list costs, where it serves the same as the best one; no naive list keeps to a budget."""
    if naive is None or best.choice is not None or len(naive.unfilled) > len(best.unfilled):
        return None
    return naive.total


def _single(naive: Basket | None, best: Basket) -> tuple[str, Fraction] | None:
    total = _complete(naive, best)
    if naive is None or total is None or not naive.bills:
        return None
    return naive.bills[0].supplier.name, total


def _warnings(shop: Shop, basket: Basket) -> Iterable[str]:
    for bill in basket.bills:
        for line in bill.lines:
            part = shop.catalogue.part(line.offer.part)
            detail = part.detail
            if (
                bill.supplier.hazard_air
                and isinstance(detail, Supply)
                and not FLAMMABLE.isdisjoint(detail.hazards)
            ):
                yield f"{part.name} from {bill.supplier.name}: flammable goods may not go by air post; ask first."
            if isinstance(detail, Blank):
                species = shop.catalogue.material(detail.material).listed_species
                if species:
                    papers = standing(["protected"])[0].says
                    yield f"{part.name} is a protected species ({species.rstrip('.')}): {papers}"
        if bill.postage > bill.goods:
            names = ", ".join(line.offer.part for line in bill.lines)
            yield f"{bill.supplier.name}: the postage is more than the goods. Can {names} wait?"
    for order, what in unknown_tools(shop):
        yield f"{order.name} wants {what}, and the book knows none: it cannot be put on a list."
    yield from _already(shop, [line.offer.part for line in basket.lines])
    parts = dict.fromkeys(line.offer.part for line in basket.lines)
    if said := said_usual(usual_of_list(shop, map(shop.catalogue.part, parts))):
        yield said


def _already(shop: Shop, parts: Sequence[str]) -> Iterable[str]:
    for row in shop.book.due:
        if fold(row.part) in map(fold, parts):
            unit = shop.catalogue.part(row.part).unit
            day = f", expected {show_date(row.expected_on)}" if row.expected_on else ""
            late = " (late: ask)" if row.expected_on and row.expected_on < shop.today else ""
            yield (
                f"{row.part}: {show_amount(row.quantity, unit)} already due in from {row.supplier}{day}{late}; "
                "the list is for what is wanted beyond that."
            )
