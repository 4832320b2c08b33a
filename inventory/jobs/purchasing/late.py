"""Promises nobody can serve in time, bought for all the same: whatever they lack from whoever brings it first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from inventory.buying import Basket, PackOffer, SupplierOrder, SupplierTerms, Unfilled, Want


@dataclass(frozen=True, slots=True)
class Eased:
    """The wants with days that somebody can meet, and the late ones: (as it was wanted, as it is now)."""

    wants: tuple[Want, ...]
    late: tuple[tuple[Want, Want], ...]


def eased(
    wants: Sequence[Want], offers: Sequence[PackOffer], sellers: Mapping[str, SupplierTerms], today: date
) -> Eased:
    """Put the day of each want nobody can meet off to the earliest arrival of its part.

    Where only suppliers without a lead time offer it, it has no day any more. What nobody offers stays as it is.
    """
    arrivals: dict[str, list[date | None]] = {}
    for offer in offers:
        arrivals.setdefault(offer.part, []).append(sellers[offer.supplier].arrives(today))
    done, late = [], []
    for want in wants:
        days = arrivals.get(want.part, [])
        first = min((day for day in days if day is not None), default=None)
        meets = want.needed_by is None or not days or (first is not None and first <= want.needed_by)
        now = want if meets else replace(want, needed_by=first)
        done.append(now)
        if now is not want:
            late.append((want, now))
    return Eased(tuple(done), tuple(late))


def told(basket: Basket, wanted: Eased) -> Basket:
    """The list with the promised days back on its lines, and what comes too late among `unfilled`, marked as bought."""
    if not wanted.late:
        return basket
    left = [one.want for one in basket.unfilled]
    bought = [
        Unfilled(was, "comes too late", now.needed_by, bought=True)
        for was, now in wanted.late
        if now not in left
    ]
    days: dict[str, list[date]] = {}
    for one in bought:
        if one.want.needed_by is not None:
            days.setdefault(one.want.part, []).append(one.want.needed_by)
    return replace(
        basket,
        bills=tuple(_with_days(bill, days) for bill in basket.bills),
        unfilled=(*basket.unfilled, *bought),
    )


def _with_days(bill: SupplierOrder, days: Mapping[str, Sequence[date]]) -> SupplierOrder:
    lines = tuple(
        replace(line, needed_by=min([*days[line.offer.part], line.needed_by or date.max]))
        if line.offer.part in days
        else line
        for line in bill.lines
    )
    return replace(bill, lines=lines)
