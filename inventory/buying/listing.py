"""Between the search's integers and the list a person reads: what can be had at all, and the finished basket."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction

from inventory.buying.basket import Basket, Bill, Line, Unfilled
from inventory.buying.case import Case, Packs
from inventory.buying.limits import within_reach
from inventory.buying.offers import Offer, Supplier, Want, buyable


def sort_out(
    wants: Sequence[Want], offers: Sequence[Offer], suppliers: Mapping[str, Supplier], today: date
) -> tuple[list[Want], list[Unfilled]]:
    """The wants somebody can send in time, and the others with the reason and the earliest day.

    A want of which only a part can be had stands in both, each with its share.
    """
    arrivals: dict[str, list[date | None]] = {}
    parts = {want.part for want in wants}
    offers = buyable(offer for offer in offers if offer.part in parts)
    for offer in offers:
        arrivals.setdefault(offer.part, []).append(suppliers[offer.supplier].arrives(today))
    good, unfilled = [], []
    for want in wants:
        days = arrivals.get(want.part, [])
        known = sorted(day for day in days if day is not None)
        if not days:
            unfilled.append(Unfilled(want, "nobody offers it"))
        elif want.needed_by is not None and not (known and known[0] <= want.needed_by):
            unfilled.append(Unfilled(want, "nobody has it in time", known[0] if known else None))
        elif want.quantity > 0:
            good.append(want)
    good, beyond = within_reach(good, offers, suppliers, today)
    return good, [*unfilled, *beyond]


def basket_of(
    case: Case,
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
    found = [_bill(case, number, held, wants, rates, today) for number in range(len(case.terms))]
    bills = [bill for bill in found if bill is not None]
    total = sum((bill.landed for bill in bills), Fraction(0))
    goods = sum((bill.goods * rates[bill.supplier.currency] for bill in bills), Fraction(0))
    least = Fraction(min(bound, int(total * case.atom)), case.atom)
    return Basket(tuple(bills), tuple(unfilled), goods, total - goods, total, least >= total, least, seconds)


def _bill(
    case: Case,
    supplier: int,
    bought: Packs,
    wants: Sequence[Want],
    rates: Mapping[str, Fraction],
    today: date,
) -> Bill | None:
    terms = case.terms[supplier].supplier
    levels = case.levels(bought)
    scale = rates[terms.currency] * case.atom
    lines = []
    for number, packs in bought.items():
        pack = case.packs[number]
        if pack.supplier != supplier:
            continue
        cost = int((case.cost(number, packs, levels) or 0) / scale)
        mine = [want for want in wants if want.part == pack.offer.part]
        days = [want.needed_by for want in mine if want.needed_by]
        reasons = tuple(dict.fromkeys(reason for want in mine for reason in want.reasons))
        lines.append(Line(pack.offer, packs, cost // packs, cost, min(days, default=None), reasons))
    if not lines:
        return None
    goods = sum(line.cost for line in lines)
    postage = terms.postage_on(goods)
    lines.sort(key=lambda line: (line.needed_by or date.max, line.offer.part))
    landed = (goods + postage) * rates[terms.currency]
    return Bill(terms, tuple(lines), goods, postage, landed, terms.arrives(today))
