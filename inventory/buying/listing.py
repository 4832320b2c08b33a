"""Between the search's integers and the list a person reads: what can be had at all, and the finished basket."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction

from inventory.buying.basket import Basket, BasketLine, SupplierOrder, Unfilled
from inventory.buying.limits import within_reach
from inventory.buying.problem import Packs, Problem
from inventory.buying.terms import PackOffer, SupplierTerms, Want, buyable

FILLS = "fills up the order; too late for its own day"
"""Why an offer is on the list that comes too late for all its part is wanted for."""


def sort_out(
    wants: Sequence[Want], offers: Sequence[PackOffer], suppliers: Mapping[str, SupplierTerms], today: date
) -> tuple[list[Want], list[Unfilled]]:
    """The wants somebody can send in time, and the others with the reason and the earliest day.

    A want of which only a part can be had stands in both, each with its share. A part that leaves the list takes its
    packs from the price groups of others, so what can be bought is looked at again until nothing changes.
    """
    good = [want for want in wants if want.quantity > 0]
    unfilled: list[Unfilled] = []
    while True:
        parts = {want.part for want in good}
        mine = buyable(offer for offer in offers if offer.part in parts)
        arrivals: dict[str, list[date | None]] = {}
        for offer in mine:
            arrivals.setdefault(offer.part, []).append(suppliers[offer.supplier].arrives(today))
        missed = {n: _missed(want, arrivals.get(want.part, [])) for n, want in enumerate(good)}
        lost = [one for one in missed.values() if one is not None]
        if not lost:
            break
        unfilled += lost
        good = [want for n, want in enumerate(good) if missed[n] is None]
    good, beyond = within_reach(good, mine, suppliers, today)
    return good, [*unfilled, *beyond]


def _missed(want: Want, days: Sequence[date | None]) -> Unfilled | None:
    """Why nobody can send it in time; None where somebody can."""
    known = sorted(day for day in days if day is not None)
    if not days:
        return Unfilled(want, "nobody offers it")
    if want.needed_by is not None and not (known and known[0] <= want.needed_by):
        return Unfilled(want, "nobody has it in time", known[0] if known else None)
    return None


def basket_of(
    problem: Problem,
    bought: Packs,
    wants: Sequence[Want],
    unfilled: Sequence[Unfilled],
    bound: int,
    seconds: float,
    rates: Mapping[str, Fraction],
    today: date,
) -> Basket:
    """The list with exact costs. bound: the least any list could cost, in atoms."""
    held = {number: packs for number, packs in bought.items() if packs}
    found = [_bill(problem, number, held, wants, rates, today) for number in range(len(problem.terms))]
    bills = [bill for bill in found if bill is not None]
    total = sum((bill.landed for bill in bills), Fraction(0))
    goods = sum((bill.goods * rates[bill.supplier.currency] for bill in bills), Fraction(0))
    least = Fraction(min(bound, int(total * problem.atom)), problem.atom)
    return Basket(tuple(bills), tuple(unfilled), goods, total - goods, total, least >= total, least, seconds)


def _bill(
    problem: Problem,
    supplier: int,
    bought: Packs,
    wants: Sequence[Want],
    rates: Mapping[str, Fraction],
    today: date,
) -> SupplierOrder | None:
    terms = problem.terms[supplier].supplier
    levels = problem.levels(bought)
    scale = rates[terms.currency] * problem.atom
    arrives = terms.arrives(today)
    lines = []
    for number, packs in bought.items():
        pack = problem.packs[number]
        if pack.supplier != supplier:
            continue
        cost = int((problem.cost(number, packs, levels) or 0) / scale)
        mine = [want for want in wants if want.part == pack.offer.part and _in_time(arrives, want)]
        days = [want.needed_by for want in mine if want.needed_by]
        reasons = tuple(dict.fromkeys(reason for want in mine for reason in want.reasons))
        reasons = reasons if mine else (FILLS,)
        lines.append(BasketLine(pack.offer, packs, cost // packs, cost, min(days, default=None), reasons))
    if not lines:
        return None
    goods = sum(line.cost for line in lines)
    postage = terms.postage_on(goods)
    lines.sort(key=lambda line: (line.needed_by or date.max, line.offer.part))
    landed = (goods + postage) * rates[terms.currency]
    return SupplierOrder(terms, tuple(lines), goods, postage, landed, arrives)


def _in_time(arrives: date | None, want: Want) -> bool:
    return want.needed_by is None or (arrives is not None and arrives <= want.needed_by)
