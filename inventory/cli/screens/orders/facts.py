"""What is said of an order wherever it is asked for: the answer, what is missing, what it costs, what to check."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from inventory.catalogue import fold
from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Sentence
from inventory.cli.drawing.colour import good, look, stop
from inventory.cli.screens.shares import percent
from inventory.jobs.hours.time_left import hours
from inventory.jobs.orders.alternatives import Alternative
from inventory.jobs.orders.money.quoting import quote
from inventory.jobs.orders.order_check import OrderReport
from inventory.jobs.orders.sourcing import Purchase, shorts
from inventory.ledger.shop import Shop
from inventory.measures import listed, plural, show_day, show_measurable, show_money
from inventory.measures.dates import days_in
from inventory.measures.numbers import fixed
from inventory.reports.leaves import TooFewLeft

FAIRLY = 0.8
"""From this confidence on one may call oneself fairly sure."""
CHECKED = 3
"""Cautions said before the rest is left to `--why`."""


def headline(report: OrderReport) -> str:
    """The verdict, the day it hangs on, and the day it is due."""
    due, ready = report.resolved.request.due, report.earliest
    day = show_day(due)
    if report.verdict == "from the shelf":
        return f"{good('YES')}, from the shelf. Due {day}."
    if report.verdict == "after buying" and ready:
        return f"{look('YES')}, after buying. All parts here {show_day(ready, due.year)}; due {day}."
    if report.verdict == "too late":
        return f"{stop('TOO LATE')} for {day}. {_earliest(report, due)}"
    return f"{stop('NO')}. {_decides(report)} Wanted for {day}."


def _earliest(report: OrderReport, due: date) -> str:
    lacks = report.time is not None and report.time.lacks
    if report.earliest is None:
        return "With these hours no day can be named."
    day = show_day(report.earliest, due.year)
    return f"By the hours ready by {day}." if lacks else f"All parts here {day}."


def _decides(report: OrderReport) -> str:
    """The one thing that cannot be had."""
    if report.sourcing.nowhere:
        return f"Nobody sells {listed([part.name for part in report.sourcing.nowhere], most=2)}."
    return next(iter(report.why), "It cannot be made.")


def asked(shop: Shop, report: OrderReport) -> str:
    """`S42, harbour office: 6 × Dunlin pen, gunmetal, walnut blank`."""
    request, resolved = report.resolved.request, report.resolved
    what = f"{request.count} × {resolved.pattern.name}, {report.plan.plating}, {resolved.blank.name}"
    order = shop.book.orders.get(fold(request.order)) if request.order else None
    whom = ", ".join(name for name in (request.order, order.customer if order else "") if name)
    return f"{whom}: {what}" if whom else what


def making(report: OrderReport) -> list[Block]:
    """How many to begin, how likely it is that the parts are enough, and which part is tightest."""
    wanted = report.resolved.request.count
    ready = sum(need.need for need in report.plan.parts if need.role == "finished") // 1000
    have = f"{plural(ready, 'is', 'are')} finished" if ready else ""
    blank = [Fact("Blank", report.blank_because)]
    if not report.starts:
        return [Fact("Make", f"nothing: {have}"), *blank]
    sure = report.resolved.request.confidence
    how = f"to be fairly sure ({percent(sure)})" if sure >= FAIRLY else f"for a chance of {percent(sure)}"
    make = f"{report.starts}, {how} of {wanted - ready} good"
    weakest = report.joint.weakest
    blocks: list[Block] = [Fact("Make", f"{make}; {have}" if have else make), *blank]
    blocks.append(Fact("Time", _time(report)))
    if report.verdict != "cannot":
        blocks.append(Fact("Chance", _chance(report)))
    if isinstance(weakest, str):
        blocks.append(Fact("Tightest", _name_of(report, weakest)))
    return blocks


def _time(report: OrderReport) -> str:
    """What it takes of the hours there are; nothing where nobody said what hours there are."""
    left = report.time
    if left is None:
        return ""
    before = f", {hours(left.before)} promised before it" if left.before else ""
    there = f"{hours(left.there)} until {show_day(left.due, left.due.year)}"
    said = f"takes {hours(left.needed)}{before}; there are {there}"
    return look(said) if left.lacks else said


def _name_of(report: OrderReport, key: str) -> str:
    return next((need.part.name for need in report.plan.parts if fold(need.part.name) == key), key)


def _chance(report: OrderReport) -> str:
    now = percent(report.joint.probability)
    if report.verdict == "from the shelf":
        return f"{now} that the stock is enough"
    bought = percent(report.joint_after_buying.probability)
    return f"{bought} that the stock is enough once bought; {now} with what is free now"


def buying(shop: Shop, report: OrderReport, *, every: bool = False) -> list[Block]:
    """What is missing, from whom, for how much; of what cannot be or is too late only what decides it.

    every: all of it nevertheless.
    """
    bought = report.sourcing.buy if every else deciding(report)
    year = report.resolved.request.due.year
    coming: dict[date, list[str]] = {}
    for part, many, day in report.sourcing.due:
        coming.setdefault(day, []).append(f"{show_measurable(many, part.unit)} {part.name}")
    blocks: list[Block] = [
        Fact("Due in", f"{show_day(day, year)}: {listed(some)}") for day, some in sorted(coming.items())
    ]
    missing = {part.name: many for part, many in shorts(report.plan.parts)}
    blocks += [
        Fact("Missing", f"{show_measurable(missing[part.name], part.unit)} {part.name}: nobody sells it")
        for part in report.sourcing.nowhere
    ]
    if bought:
        blocks += [Fact("Buy", _from_whom(shop, report, bought)), _purchases(shop, report, bought)]
    return blocks


def deciding(report: OrderReport) -> Sequence[Purchase]:
    """What to buy; where it comes too late what comes last, where it cannot be made nothing."""
    if report.verdict == "too late":
        return [one for one in report.sourcing.buy if one.arrives == report.earliest]
    return () if report.verdict == "cannot" else report.sourcing.buy


def _from_whom(shop: Shop, report: OrderReport, bought: Sequence[Purchase]) -> str:
    names = list(dict.fromkeys(one.supplier for one in bought))
    text = f"from {listed(names)}"
    due = report.resolved.request.due
    if report.verdict == "after buying":
        last = min(due - (one.arrives - shop.today) for one in bought)
        text += f" by {show_day(last, due.year)}"
    if len(bought) == len(report.sourcing.buy) and all(one.cost is not None for one in bought):
        goods, postage = sum(one.cost or 0 for one in bought), report.sourcing.postage
        text += f", {show_money(goods + postage, shop.currency)}{' with postage' * bool(postage)}"
    return text


def _purchases(shop: Shop, report: OrderReport, bought: Sequence[Purchase]) -> Listing:
    several = len({one.supplier for one in bought}) > 1
    due = report.resolved.request.due
    columns = (
        Cells("", right=True),
        Cells("Part"),
        Cells("", folds=2),
        Cells("", right=True, folds=1),
        Cells("", folds=3),
    )
    rows = [
        [
            f"{show_measurable(one.quantity, one.part.unit)} short",
            one.part.name,
            _packs(one),
            show_money(one.cost, shop.currency) if one.cost is not None else f"price in {one.currency}",
            one.supplier if several else "",
        ]
        for one in sorted(bought, key=lambda one: (one.arrives <= due, -one.arrives.toordinal()))
    ]
    return Listing(columns, rows, bare=True, indent=9, least=1)


def _packs(one: Purchase) -> str:
    if one.pack == 1000:
        return f"{one.packs}"
    return f"{plural(one.packs, 'pack')} of {show_measurable(one.pack, one.part.unit)}"


def instead(report: OrderReport, found: Sequence[Alternative] = ()) -> list[Block]:
    """What would do in its place, where the book knows something. found: what was looked at and answered with yes."""
    said = [f"{one.said}: {good('YES')}, {one.report.verdict}" for one in found]
    told = [one for one in report.why if "would do with" in one or (not found and "may stand in" in one)]
    if report.verdict == "cannot":
        told = [one for one in told if "may stand in" not in one]  # a free kit alone is no yes
    return [
        Fact("Instead" if at == 0 else "", one)
        for at, one in enumerate([*(["; ".join(said)] if said else []), *told])
    ]


def leaving(report: OrderReport, most: int = 2) -> list[Block]:
    """What a yes leaves too few of for dearer orders that are likely to come before more of it does."""
    year = report.resolved.request.due.year
    said = [
        f"{_left(one)}; {_asked(one)} usually asked for before the next parcel, {show_day(one.parcel, year)}: "
        f"{percent(one.chance)} that a dearer order is late"
        for one in report.leaves[:most]
    ]
    return [Fact(look("Leaves") if at == 0 else "", one) for at, one in enumerate(said)]


def leaving_why(shop: Shop, report: OrderReport) -> list[Block]:
    """How that was found."""
    return [Sentence(_how_left(shop, one, report.resolved.request.due.year), "· ") for one in report.leaves]


def _how_left(shop: Shop, one: TooFewLeft, year: int) -> str:
    trip, way, late = one.days
    return (
        f"A yes leaves {_left(one)}. More is here about {show_day(one.parcel, year)}: {plural(trip, 'day')} to the "
        f"next shopping trip, {way} on the way and {late} late, as they were. Till then {_asked(one)} usually asked "
        f"for, by {plural(one.weeks, 'week')} of orders. That an order at a better price, up to "
        f"{show_money(one.price, shop.currency)} ({one.pattern}), is due before that and goes without: "
        f"{percent(one.chance)}; without this order {percent(one.without)}."
    )


def _left(one: TooFewLeft) -> str:
    return f"{show_measurable(one.left, one.part.unit, down=True)} {one.part.name}"


def _asked(one: TooFewLeft) -> str:
    """`1.4 are`."""
    many = fixed(round(10 * one.asked), 1)
    unit = "" if one.part.unit == "piece" else f" {one.part.unit}"
    return f"{many}{unit} {'is' if many == '1.0' else 'are'}"


def money(shop: Shop, report: OrderReport) -> list[Block]:
    """The lowest sensible price, the one agreed, and what may be said to the customer."""
    price, coin = report.price, shop.currency
    if not price.known:
        return [Fact("Price", f"none: nobody knows what {listed(price.unpriced)} cost")]
    text = f"at least {show_money(price.lowest, coin)} a piece before tax"
    agreed = report.resolved.request.price
    if agreed is not None:
        text += f"; agreed {fixed(agreed, coin.exponent)}"
        short = price.lowest - agreed
        text += f", {look(f'{fixed(short, coin.exponent)} too little')}" if short > 0 else ""
    return [Fact("Price", text), *_say(shop, report)]


def _say(shop: Shop, report: OrderReport) -> list[Block]:
    """For the customer's ear: each, together, with the postage of what has to be bought for it, and the day."""
    found, coin = quote(report), shop.currency
    if found is None:
        return []
    due = report.resolved.request.due
    by = report.earliest if report.verdict == "too late" and report.earliest else due
    together = show_money(found.together, coin)
    text = f"{found.count} × {fixed(found.each, coin.exponent)} = {together}" if found.count > 1 else together
    if found.postage:
        text += f", {fixed(found.with_postage, coin.exponent)} with postage"
    return [Fact("Say", f"{text}, by {show_day(by, due.year)}")]


def checking(report: OrderReport) -> list[Block]:
    """Cautions about money and stock, the first few; what the price line says is not said again."""
    said = [
        one for one in report.cautions if not one.startswith(("The price of", "All pieces in", "No price"))
    ]
    most = 1 if report.leaves else CHECKED  # what a yes leaves stands above and takes as much room
    sentences = [days_in(one, report.resolved.request.due.year).rstrip(".") for one in said[:most]]
    more = [f"{len(said) - most} more: --why"] if len(said) > most else []
    return [Fact("Check", "; ".join([*sentences, *more]))] if said else []


def numbered(sentences: Iterable[str], year: int) -> list[str]:
    """Sentences of a job with their days as people say them."""
    return [days_in(one, year) for one in sentences]
