"""The sentences that make a list worth trusting, the same on the screen and in the workbook."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import ceil

from inventory.buying import Choice, Fill, NearMiss, Unfilled
from inventory.ledger.shop import Shop
from inventory.measures import currency, listed, plural, show_amount, show_date, show_measurable, show_money
from inventory.reports.purchasing.demands import Demand, Wear, by_line, saved
from inventory.reports.purchasing.shopping import LookedAhead, Shopping


def money(shop: Shop, amount: Fraction | int) -> str:
    """Shop minor units, rounded up to a whole one where an exchange rate left a fraction."""
    return show_money(ceil(amount), shop.currency)


def certainty(shop: Shop, result: Shopping) -> str:
    """How sure it is that no list costs less."""
    if result.basket.proven:
        return "No list costs less (proven)."
    gap = money(shop, result.basket.gap)
    return f"Not proven in the time given: the best list may cost up to {gap} less."


def within_budget(choice: Choice | None) -> Iterable[str]:
    """What a budget that did not reach was spent on, and how sure it is that no choice serves more."""
    if choice is None:
        return
    parts = []
    if choice.all_orders:
        parts.append(f"{choice.orders} of {choice.all_orders} promised orders whole")
    if choice.all_trouble:
        parts.append(f"{_share(choice.trouble, choice)} of what else is wanted, by its urgency")
    said = " and ".join(parts) or "nothing"
    if choice.proven:
        yield f"The budget buys {said}; no choice within it serves more."
        return
    orders = f"{plural(choice.most_orders, 'order')} and " if choice.all_orders else ""
    yield (
        f"The budget buys {said}. Not proven in the time given: another choice might reach "
        f"{orders}{_share(choice.most_trouble, choice)}."
    )


def _share(trouble: int, choice: Choice) -> str:
    """Whole per cent of all there is, never more than it is."""
    return f"{100 * trouble // choice.all_trouble if choice.all_trouble else 100} %"


def other_lists(shop: Shop, result: Shopping) -> Iterable[str]:
    """What the lists a person would write cost beside it."""
    total = result.basket.total
    if result.per_line is not None:
        more = _more(shop, result.per_line - total)
        yield f"The cheapest offer line by line would cost {money(shop, result.per_line)}{more}."
    if result.one_supplier is not None:
        name, cost = result.one_supplier
        yield f"All from {name} would cost {money(shop, cost)}{_more(shop, cost - total)}."


def _more(shop: Shop, saved: Fraction) -> str:
    return f", {money(shop, saved)} more" if saved > 0 else ", the same"


def waits_in_short(one: LookedAhead) -> Iterable[str]:
    """What waits in one sentence."""
    if one.waits:
        orders = list(dict.fromkeys(name for row, _ in one.waits for name in row.orders))
        whom = f", among them for {listed(orders, most=2)}" if orders else ""
        many = plural(len({row.part.name for row, _ in one.waits}), "part")
        yield f"{many} for the trip of {show_date(one.trip)} or later{whom}: --why"


def waiting(one: LookedAhead) -> Iterable[str]:
    """What waits, for which parcel, a sentence a supplier; promises first."""
    by: dict[str, list[Demand]] = {}
    for row, supplier in sorted(one.waits, key=lambda pair: not pair[0].orders):
        by.setdefault(supplier, []).append(row)
    likely = dict(one.likely)
    for supplier, rows in by.items():
        names = listed(dict.fromkeys(row.part.name for row in rows), most=3)
        orders = list(dict.fromkeys(name for row in rows for name in row.orders))
        whom = f" for {listed(orders, most=2)}" if orders else ""
        if supplier:
            yield (
                f"{names}{whom}: for the parcel from {supplier}, looked at again by {show_date(one.trip)} "
                f"(it is sent then in {likely[supplier]:.0%} of courses)"
            )
        else:
            yield f"{names}{whom}: for a later parcel than that of {show_date(one.trip)}"


def chosen_ahead(one: LookedAhead) -> Iterable[str]:
    """How sure it is that no other choice of whom to send to is expected to cost less, and what is assumed of it."""
    sure = f"might cost {one.gap:.2f} less" if one.gap else "is expected to cost less (proven)"
    no = "another" if one.gap else "no other"
    yield f"Whom to send to: {no} choice {sure}, over {one.courses} courses of what may be asked for."
    yield (
        f"Assumed: an order that comes late costs {one.dearness:g} times what it leaves, a piece is finished "
        f"{plural(one.making, 'day')} after its parcel came."
    )


def not_on_list(shop: Shop, one: Unfilled) -> str:
    """What is wanted and left off, and why."""
    part = shop.catalogue.part(one.want.part)
    when = f", wanted by {show_date(one.want.needed_by)}" if one.want.needed_by else ""
    late = _days_late(one)
    earliest = f"; the earliest is {show_date(one.earliest)}{late}" if one.earliest else ""
    why = "; ".join(one.want.reasons)
    whole = f" and all else that {one.with_order} lacks" if one.with_order else ""
    cost = f"; with it{whole} the list costs {money(shop, one.with_it)}" if one.with_it is not None else ""
    return f"{part.name}, {show_measurable(one.want.quantity, part.unit)}{when}: {one.why}{earliest}{cost} ({why})."


def comes_late(shop: Shop, one: Unfilled) -> str:
    """What is on the list although it cannot be there in time."""
    part = shop.catalogue.part(one.want.part)
    when = (
        f"arrives {show_date(one.earliest)}{_days_late(one)}"
        if one.earliest
        else "nobody knows when it comes"
    )
    return f"{part.name}, {show_measurable(one.want.quantity, part.unit)}: {when} ({'; '.join(one.want.reasons)})."


def _days_late(one: Unfilled) -> str:
    days = one.days_late
    return f", {plural(days, 'day')} late" if days else ""


def left_off(result: Shopping) -> tuple[Unfilled, ...]:
    """What is wanted and not on the list."""
    return tuple(one for one in result.basket.unfilled if not one.bought)


def late_ones(result: Shopping) -> tuple[Unfilled, ...]:
    """What is on the list and comes too late."""
    return tuple(one for one in result.basket.unfilled if one.bought)


def late_parcels(shop: Shop, result: Shopping) -> Iterable[str]:
    """Each bought line that comes too late for promises, what is done, and what cancelling it saves."""
    for waits in by_line(result.late):
        one = waits[0]
        quantity = show_measurable(sum(wait.quantity for wait in waits), one.part.unit)
        orders = " and ".join(dict.fromkeys(wait.order.name for wait in waits))
        late = (
            f"{one.part.name}, {quantity} for {orders}: {one.row.supplier} is {plural(one.days, 'day')} "
            f"late, not to be counted on before {show_date(one.counted)}"
        )
        if one.anew is None:
            yield f"{late}; ordered again it would be no sooner. Ask them."
        else:
            whom = " from them, as nobody else has it in time" if one.again else ""
            yield f"{late}; bought again{whom}. Ask them: cancelling it saves {money(shop, saved(waits))}."


def nearly(shop: Shop, one: NearMiss) -> str:
    """What a little more would reach."""
    if one.kind == "postage":
        return _nearly_free(shop, one)
    packs = plural(one.packs, "more pack")
    what = f"of {' or '.join(one.parts[:3])}" if len(one.parts) < 4 else f"of any {one.group or 'of these'}"
    return (
        f"{one.supplier}: {packs} {what} reach{'es' * (one.packs == 1)} the next price break and cost"
        f"{'s' * (one.packs == 1)} {money(shop, one.extra)} instead of {money(shop, one.alone)}, "
        f"saving {money(shop, one.saving)}."
    )


def _nearly_free(shop: Shop, one: NearMiss) -> str:
    coin = currency(shop.catalogue.supplier(one.supplier).currency or shop.currency.code)
    head = f"{one.supplier}: {show_money(one.short, coin)} short of free postage ({money(shop, one.fee)})"
    if not one.pays:
        return f"{head}; what you will need soon does not fill that, and a filler costs more than it saves."
    needed = [_filled(shop, fill) for fill in one.fill if fill.needed]
    fillers = [_filled(shop, fill) for fill in one.fill if not fill.needed]
    said = f"{head}. You will need these soon anyway: {', '.join(needed)}" if needed else head
    if fillers:
        joint = ". With" if needed else ";"
        said += f"{joint} {', '.join(fillers)} as a filler ({money(shop, one.filler)})"
    return f"{said}: the list then costs {_change(shop, one.extra)}, and {money(shop, one.saving)} is saved."


def _filled(shop: Shop, fill: Fill) -> str:
    part = shop.catalogue.part(fill.offer.part)
    pack = (
        ""
        if fill.offer.pack == 1000 and part.unit == "piece"
        else f" of {show_amount(fill.offer.pack, part.unit)}"
    )
    why = f" ({'; '.join(fill.reasons)})" if fill.reasons else ""
    return f"{fill.packs} × {part.name}{pack}{why}"


def _change(shop: Shop, extra: Fraction) -> str:
    return f"{money(shop, extra)} more" if extra >= 0 else f"{money(shop, -extra)} less"


def inspect(wear: Wear) -> str:
    """A tool that is to be looked at."""
    return f"{wear.part.name}: {wear.uses} uses of about {wear.life}."
