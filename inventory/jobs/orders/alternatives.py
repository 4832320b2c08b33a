"""What could be taken in place of an order that cannot be, or not in time: another plating, another blank, or fewer.

Nothing is proposed that was not looked at as an order of its own and answered with yes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from inventory.catalogue import Blank, Catalogue, Kit, fold
from inventory.catalogue.safety.kinds import dust_of
from inventory.errors import KitdrawerError
from inventory.jobs.orders.order_check import OrderReport, check, parts_involved
from inventory.jobs.orders.requests import OrderRequest, ResolvedRequest, kits_of, refuse_retired
from inventory.ledger.shop import Shop
from inventory.measures import plural

MOST_BLANKS = 8
"""Blanks that are looked at: those of the same sort first, then those there are most of."""
YES = ("from the shelf", "after buying")

What = Literal["plating", "blank", "pieces"]
Judge = Callable[[OrderRequest], OrderReport]
"""The whole answer to a request, hours counted in."""


@dataclass(frozen=True, slots=True)
class Alternative:
    """One thing changed of the request, and the answer to what it is then."""

    what: What
    value: str
    request: OrderRequest
    report: OrderReport

    @property
    def said(self) -> str:
        """What it is, in a word or two."""
        return plural(int(self.value), "piece") if self.what == "pieces" else self.value


def wanted_parts(bare: Shop, request: OrderRequest, resolved: ResolvedRequest) -> frozenset[str]:
    """The folded names of all parts the alternatives may have to look at."""
    names: set[str] = set(parts_involved(bare.catalogue, request, bare.today))
    for one in _candidates(bare, request, resolved):
        try:
            names |= parts_involved(bare.catalogue, one[2], bare.today)
        except KitdrawerError:
            continue
    return frozenset(names)


def alternatives(shop: Shop, report: OrderReport, judge: Judge) -> tuple[Alternative, ...]:
    """At most one of each kind. shop: with the lots and offers of `wanted_parts`; judge: what has to answer with yes.

    Of fewer pieces the most that can be had, by halving: where more cannot be taken, a larger count is not tried.
    """
    resolved, request = report.resolved, report.resolved.request
    if report.verdict in YES:
        return ()
    found: dict[What, Alternative] = {}
    for what, value, other in _candidates(shop, request, resolved):
        if what not in found and (answer := _yes(shop, other, judge)) is not None:
            found[what] = Alternative(what, value, other, answer)
    fewer = _fewer(shop, request, judge)
    return (*found.values(), *([fewer] if fewer else []))


def _candidates(
    shop: Shop, request: OrderRequest, resolved: ResolvedRequest
) -> Iterator[tuple[What, str, OrderRequest]]:
    for plating in _platings(shop.catalogue, resolved):
        yield "plating", plating, replace(request, platings=(plating,))
    for blank in _blanks(shop, resolved):
        yield "blank", blank, replace(request, blank=blank)


def _platings(catalogue: Catalogue, resolved: ResolvedRequest) -> Sequence[str]:
    """Of its family those not accepted yet, the substitutes of the first first."""
    accepted = {fold(name) for name, _ in resolved.kits}
    there = [kit.detail.plating for kit in kits_of(catalogue, resolved.family) if isinstance(kit.detail, Kit)]
    near = {fold(name) for name in catalogue.plating(resolved.kits[0][0]).substitutes}
    others = [name for name in dict.fromkeys(there) if fold(name) not in accepted]
    return sorted(others, key=lambda name: fold(name) not in near)


def _blanks(shop: Shop, resolved: ResolvedRequest) -> Sequence[str]:
    """Blanks on hand that were not asked for."""
    asked = {fold(blank.name) for blank in resolved.wish.blanks}
    sort = dust_of(resolved.material.name).kinds
    found = [
        (dust_of(part.detail.material).kinds != sort, -shop.book.balance(part.name).on_hand, part.name)
        for part in shop.catalogue.parts.values()
        if isinstance(part.detail, Blank)
        and fold(part.name) not in asked
        and shop.book.balance(part.name).on_hand > 0
    ]
    return [name for _, _, name in sorted(found)[:MOST_BLANKS]]


def _fewer(shop: Shop, request: OrderRequest, judge: Judge) -> Alternative | None:
    low, high, best = 1, request.count - 1, None
    while low <= high:
        middle = (low + high) // 2
        other = replace(request, count=middle)
        answer = _yes(shop, other, judge)
        if answer is None:
            high = middle - 1
        else:
            best, low = Alternative("pieces", str(middle), other, answer), middle + 1
    return best


def _yes(shop: Shop, request: OrderRequest, judge: Judge) -> OrderReport | None:
    """The whole answer where it is yes; the quick one first, which is no for most."""
    try:
        refuse_retired(shop.catalogue, request)
        if check(shop, request).verdict not in YES:
            return None
        answer = judge(request)
    except KitdrawerError:  # it does not fit, or nobody makes it so
        return None
    return answer if answer.verdict in YES else None
