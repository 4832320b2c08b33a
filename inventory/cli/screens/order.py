"""The answer to `can-take` for a person at a stall: the verdict first, then what stands behind it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from inventory.cli.screens.safety import safety_line, selling_lines
from inventory.cli.screens.tables import Column, table, wrapped
from inventory.jobs.orders.changing import ChangedOrder
from inventory.jobs.orders.money.quoting import quote
from inventory.jobs.orders.needs import PartNeed
from inventory.jobs.orders.order_check import OrderReport
from inventory.jobs.orders.reserving import IN_TURN
from inventory.jobs.orders.usual_values import said_usual, usual_values
from inventory.jobs.sessions.safety import making_safety
from inventory.ledger.shop import Shop
from inventory.measures import listed, plural, show_amount, show_date, show_mm, show_money
from inventory.measures.numbers import fixed

ANSWERS = {
    "from the shelf": "YES, from the shelf.",
    "after buying": "YES, after buying.",
    "too late": "TOO LATE for that day.",
    "cannot": "NO, not as wished.",
}


def order_screen(shop: Shop, report: OrderReport) -> list[str]:
    """Lines for the terminal, 80 columns."""
    lines = [*_answer(shop, report), *_parts(report.plan.parts), ""]
    lines += _labelled("Cut", _cuts(report))
    lines += _labelled("Lay out", _setup_list(report))
    lines += _labelled("Buy", _buy(shop, report))
    safety = making_safety(shop, [(report.resolved, report.plan)], selling=True)
    lines += [
        *_money(shop, report),
        *selling_lines(safety),
        *_usual(shop, report),
        *_mind(report.cautions),
    ]
    return [*lines, "", *said] if (said := safety_line(safety)) else lines


def promise_screen(shop: Shop, report: OrderReport) -> list[str]:
    """What matters before saying yes: the answer, what is missing, the price, what this order asks to mind.

    What belongs at the bench (cuts, tools, hazards) is said by `can-take`.
    """
    lines = _answer(shop, report)
    if missing := [need for need in report.plan.parts if need.short]:
        lines += [*_parts(missing), ""]
    lines += _labelled("Buy", _buy(shop, report))
    selling = selling_lines(making_safety(shop, [(report.resolved, report.plan)], selling=True))
    return [
        *lines,
        *_money(shop, report),
        *selling,
        *_usual(shop, report),
        *_mind(report.cautions),
    ]


def changed_screen(made: ChangedOrder) -> list[str]:
    """What changes of an order, the answer as it is wanted now, and what is missing or free again."""
    lines = [*wrapped(f"{made.proposal.title}."), *_headline(made.shop, made.report), ""]
    if made.report.verdict in ("too late", "cannot"):
        lines += [line for sentence in made.report.why for line in wrapped(sentence, "· ")]
    lines += _labelled("Buy", _buy(made.shop, made.report))
    lines += _money(made.shop, made.report)
    if made.freed:
        some = [f"{show_amount(less, part.unit)} × {part.name}" for part, less in made.freed]
        lines += wrapped(f"No longer needed for it: {listed(some)}.", "· ")
    for line in made.handed_on:
        if line.account == "claim":
            lines += wrapped(f"{line.part}: some goes to “{line.order}”, which waited for it.", "· ")
    return lines


def _answer(shop: Shop, report: OrderReport) -> list[str]:
    lines = [*_headline(shop, report), ""]
    for sentence in report.why:
        lines += wrapped(sentence, "· ")
    return [*lines, ""]


def _usual(shop: Shop, report: OrderReport) -> list[str]:
    said = said_usual(usual_values(shop, [report]))
    return wrapped(said) if said else []


def _mind(cautions: Sequence[str]) -> list[str]:
    lines = ["", "Mind:"] if cautions else []
    for caution in cautions:
        lines += wrapped(caution, "· ")
    return lines


def _headline(shop: Shop, report: OrderReport) -> list[str]:
    request, resolved = report.resolved.request, report.resolved
    when = ""
    if report.earliest and report.verdict != "from the shelf":
        lacks = report.time is not None and report.time.lacks
        when = f" {'Ready by' if lacks else 'All there on'} {show_date(report.earliest)}."
    what = f"{request.count} × {resolved.pattern.name}, {report.plan.plating}, {resolved.blank.name}"
    what += f", by {show_date(request.due)}"
    lines = [f"{ANSWERS[report.verdict]}{when}", *wrapped(what)]
    start = f"Start {report.starts} to get {request.count} with {percent(request.confidence)} confidence"
    really = percent(report.plan.evening.probability)
    lines += wrapped(
        f"{start}{f' (they do with {really})' if really != percent(request.confidence) else ''}."
    )
    return [*lines, *wrapped(_chance(shop, report))]


def _chance(shop: Shop, report: OrderReport) -> str:
    text = f"Chance that what is free suffices: {percent(report.joint.probability)}"
    if report.verdict != "from the shelf":
        text += f"; once the missing is bought: {percent(report.joint_after_buying.probability)}"
    key = report.joint.weakest
    if isinstance(key, str) and key in shop.catalogue.parts:
        text += f". Weakest: {shop.catalogue.parts[key].name}"
    return text + "."


def percent(share: float) -> str:
    """Never 100 % where something could still fail, never 0 % where it could still work."""
    if share >= 1.0 - 1e-9:
        return "100 %"
    if share > 0.995:
        return "over 99 %"
    if 0 < share < 0.005:
        return "under 1 %"
    return f"{share * 100:.0f} %"


def _parts(parts: Sequence[PartNeed]) -> list[str]:
    columns = (
        Column("Part", gives=True),
        Column("Stage"),
        Column("Need", right=True),
        Column("Free", right=True),
        Column("Short", right=True),
    )
    rows = [
        [
            need.part.name,
            need.stage,
            show_amount(need.need, need.part.unit),
            show_amount(need.all_free, need.part.unit),
            show_amount(need.short, need.part.unit) if need.short else "",
        ]
        for need in parts
    ]
    return table(columns, rows)


def _labelled(label: str, rows: Iterable[str]) -> list[str]:
    lines: list[str] = []
    for at, row in enumerate(rows):
        lines += wrapped(row, f"{label:<8} " if at == 0 else " " * 9)
    return lines


def _cuts(report: OrderReport) -> Iterable[str]:
    for cut in report.plan.blanks.cuts:
        name = f"{report.resolved.blank.name}{f' “{cut.name}”' if cut.name else ''}"
        left = f", {show_mm(cut.offcut, 1)} left over" if cut.offcut else ""
        each = " each" if cut.blanks > 1 else ""
        yield f"{cut.blanks} × {name}: {plural(cut.pieces, 'piece')}{each}{left}"


def _setup_list(report: OrderReport) -> Iterable[str]:
    for one in report.setup_list:
        state = {True: "there", False: "NOT THERE", None: "not in the book, look"}[one.there]
        name = f"{one.what}: {one.part}" if one.part and one.part not in one.what else one.what
        yield f"{name}, {state}{f' ({one.note})' if one.note else ''}"


def _buy(shop: Shop, report: OrderReport) -> Iterable[str]:
    for one in report.sourcing.buy:
        cost = show_money(one.cost, shop.currency) if one.cost is not None else f"price in {one.currency}"
        pack = f" of {show_amount(one.pack, one.part.unit)}" if one.pack != 1000 else ""
        yield f"{one.packs} × {one.part.name}{pack} from {one.supplier}: {cost}, here {show_date(one.arrives)}"
    if report.sourcing.postage:
        yield f"postage {show_money(report.sourcing.postage, shop.currency)}"


def _money(shop: Shop, report: OrderReport) -> list[str]:
    price, coin = report.price, shop.currency
    if not price.known:
        lacks = f"no price: nobody knows what {listed(price.unpriced)} cost."
        return wrapped(lacks, f"{'A piece':<8} ")
    text = (
        f"{show_money(price.materials, coin)} materials + {show_money(price.labour, coin)} work "
        f"({price.minutes} min at {show_money(shop.labour_rate, coin)} an hour), losses included; "
        f"lowest sensible price {show_money(price.lowest, coin)} at {percent(float(shop.margin))} margin."
    )
    return [*wrapped(text, f"{'A piece':<8} "), *_say(shop, report)]


def _say(shop: Shop, report: OrderReport) -> list[str]:
    """One line for the customer's ear: each, together, and with the postage of what has to be bought for it."""
    found, coin = quote(report), shop.currency
    if found is None:
        return []
    by = report.earliest if report.verdict == "too late" and report.earliest else report.resolved.request.due
    together = show_money(found.together, coin)
    text = f"{found.count} × {fixed(found.each, coin.exponent)} = {together}" if found.count > 1 else together
    text += " agreed" * found.agreed
    if found.postage:
        text += f", with postage {show_money(found.with_postage, coin)}"
    return wrapped(f"{text}, by {show_date(by)}.", f"{'Say':<8} ")


def many_screen(reports: Sequence[OrderReport]) -> list[str]:
    """One line an order, in the order they were looked at."""
    columns = (
        Column("Order", gives=True),
        Column("Pieces", right=True),
        Column("Pattern", gives=True),
        Column("Due"),
        Column("Answer"),
        Column("Ready"),
    )
    rows = [
        [
            report.resolved.request.order,
            str(report.resolved.request.count),
            report.resolved.pattern.name,
            show_date(report.resolved.request.due),
            report.verdict,
            show_date(report.earliest) if report.earliest else "never",
        ]
        for report in reports
    ]
    return [*table(columns, rows), "", IN_TURN]
