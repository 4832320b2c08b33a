"""Which of the blanks that would do an order is made of: one for all its pieces, as they are all in one plating."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from inventory.catalogue import Order, Part, fold
from inventory.errors import KitdrawerError
from inventory.jobs.orders.finished import made_for
from inventory.jobs.orders.needs import requirements
from inventory.jobs.orders.requests import ResolvedRequest, blanks_wished, request_of, resolve
from inventory.ledger.claims import claims_of
from inventory.ledger.shop import Shop
from inventory.measures import show_amount, show_money

if TYPE_CHECKING:
    from inventory.jobs.orders.order_check import OrderReport


class _Measure(NamedTuple):
    """One thing answers are compared by, the least first; and what is said of the blank that wins by it."""

    measure: Callable[[OrderReport], tuple[int, ...]]
    reason: Callable[[OrderReport, OrderReport], str]


def chosen(
    shop: Shop, resolved: ResolvedRequest, answers: Sequence[OrderReport], verdicts: Sequence[str]
) -> OrderReport:
    """Of answers by plating, or by plating for each blank that would do, the best, and why it is this blank.

    In this order: the better verdict (`verdicts`, the best first), the plating wished first, enough of the blank on the
    shelf, the earlier day where all come too late, the list to buy that costs least with its postage, the least cost of
    what all pieces use, the blank that other wishes want latest, the blank named first.
    """
    if len(resolved.wish.blanks) == 1:
        return min(answers, key=lambda one: verdicts.index(one.verdict))
    steps = _steps(shop, resolved, verdicts)
    best: dict[str, OrderReport] = {}
    for one in sorted(answers, key=lambda one: _rank(steps, one)):
        best.setdefault(fold(one.resolved.blank.name), one)
    first, *others = best.values()
    said = _said(steps, first, others)
    return replace(first, blank_because=said, why=(*first.why, f"Made of {said}."))


def _rank(steps: Sequence[_Measure], one: OrderReport) -> list[tuple[int, ...]]:
    return [step.measure(one) for step in steps]


def _said(steps: Sequence[_Measure], first: OrderReport, others: Sequence[OrderReport]) -> str:
    """Which blank it is, and what it is before the last of the others by."""
    head = f"{first.resolved.blank.name}, of {len(others) + 1} that would do"
    if first.verdict == "cannot":
        return f"{head}: none can be had"
    for step in steps:
        alike = [one for one in others if step.measure(one) == step.measure(first)]
        if not alike:
            return f"{head}: {step.reason(first, others[0])}"
        others = alike
    return f"{head}: named before {others[0].resolved.blank.name}, which does as well"


_ONLY = {
    "from the shelf": "all is on the shelf with no other",
    "after buying": "no other can be there in time",
    "too late": "no other can be had at all",
}


def _steps(shop: Shop, resolved: ResolvedRequest, verdicts: Sequence[str]) -> tuple[_Measure, ...]:
    platings = [fold(name) for name, _ in resolved.kits]
    wanted = _wanted(shop, resolved.request.order)

    def latest(one: OrderReport) -> tuple[int, ...]:
        return (-wanted.get(fold(one.resolved.blank.name), date.max).toordinal(),)

    def bought(first: OrderReport, other: OrderReport) -> str:
        mine, theirs = (show_money(_to_buy(one)[1], shop.currency) for one in (first, other))
        return f"the list to buy costs least, {mine}; with {other.resolved.blank.name} {theirs}"

    def used(first: OrderReport, other: OrderReport) -> str:
        if not other.price.known:
            return f"nobody knows what {other.resolved.blank.name} costs"
        mine, theirs = (show_money(one.price.total, shop.currency) for one in (first, other))
        return f"the cheapest that fits, {mine} of materials; with {other.resolved.blank.name} {theirs}"

    return (
        _Measure(lambda one: (verdicts.index(one.verdict),), lambda first, _: _ONLY[first.verdict]),
        _Measure(
            lambda one: (platings.index(fold(one.plan.plating)),),
            lambda first, _: f"no other can be had in {first.plan.plating}",
        ),
        _Measure(lambda one: (_short(one),), lambda *_: "there is enough of no other"),
        _Measure(_late, lambda *_: "there first"),
        _Measure(_to_buy, bought),
        _Measure(lambda one: (not one.price.known, one.price.total), used),
        _Measure(latest, lambda *_: "other enquiries want it latest, or not at all"),
    )


def _short(one: OrderReport) -> bool:
    return one.plan.blank_is_short


def _late(one: OrderReport) -> tuple[int, ...]:
    return (one.earliest.toordinal() if one.verdict == "too late" and one.earliest else 0,)


def _to_buy(one: OrderReport) -> tuple[int, ...]:
    """Goods and postage of what is to be bought, minor units; a price in a coin of no known rate comes last."""
    lines = one.sourcing.buy
    unknown = any(line.cost is None for line in lines)
    return unknown, sum(line.cost or 0 for line in lines) + one.sourcing.postage


def never_of(shop: Shop, order: Order, blank: str) -> str:
    """Why pieces of an order cannot be of that blank; empty where it was chosen for it, or would do as well."""
    if fold(blank) == fold(order.blank):
        return ""
    if not order.blanks or fold(blank) not in {fold(one.name) for one in _of(shop, order.blanks)}:
        wish = order.blanks or order.blank
        return f"“{order.name}” is to be of {wish}, not of {blank}."
    if order.handed or made_for(shop, order.name):
        return f"Pieces of “{order.name}” are made of {order.blank} already, and so are the others."
    return ""


def could_give(shop: Shop, blank: Part) -> Iterable[str]:
    """Who holds a blank that is missing here and could be made of another: it is theirs until they are changed."""
    for order in shop.book.orders.values():
        held = [one for one in claims_of(shop.book, order.name) if fold(one.part) == fold(blank.name)]
        if (
            order.state != "promised"
            or not order.blanks
            or not held
            or order.handed
            or made_for(shop, order.name)
        ):
            continue
        amount = show_amount(sum(one.quantity for one in held), blank.unit)
        for other in _of(shop, order.blanks):
            if other is not blank and _enough(shop, order, other):
                yield (
                    f"“{order.name}” holds {amount} of {blank.name} and would do with {other.name}, which is free: "
                    f'kitdrawer change {order.name} --blank "{other.name}".'
                )
                break


def _enough(shop: Shop, order: Order, blank: Part) -> bool:
    """Whether the pieces of an order can be cut from what is free of a blank."""
    request = replace(request_of(order), blank=blank.name, due=max(order.due, shop.today))
    resolved = resolve(shop.catalogue, request, shop.today)
    plating, kits = resolved.kits[0]
    plan = requirements(shop, resolved, plating, kits, request.confidence)
    return not plan.blank_is_short


def _wanted(shop: Shop, order: str) -> Mapping[str, date]:
    """By folded blank, the day the first other wish is due that may be made of it."""
    found: dict[str, date] = {}
    for other in shop.book.orders.values():
        if other.state == "wish" and fold(other.name) != fold(order):
            for part in _of(shop, other.wished_blank):
                key = fold(part.name)
                found[key] = min(found.get(key, date.max), other.due)
    return found


def _of(shop: Shop, words: str) -> Sequence[Part]:
    try:
        return blanks_wished(shop.catalogue, words).blanks
    except KitdrawerError:  # a wish that can no longer be read keeps nobody from another
        return ()
