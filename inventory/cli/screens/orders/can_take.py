"""The answer to `can-take` for a person at a stall: the verdict first, then what decides it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from inventory.catalogue import fold
from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen, Sentence
from inventory.cli.drawing.colour import stop
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.cli.screens.orders.facts import (
    asked,
    buying,
    checking,
    deciding,
    headline,
    instead,
    leaving,
    leaving_why,
    making,
    money,
    numbered,
)
from inventory.cli.screens.safety import kinds_said
from inventory.cli.screens.shares import percent
from inventory.jobs.orders.alternatives import Alternative
from inventory.jobs.orders.order_check import OrderReport
from inventory.jobs.orders.usual_values import said_usual, usual_values
from inventory.jobs.sessions.safety import making_safety
from inventory.ledger.shop import Shop
from inventory.measures import listed, plural, show_amount, show_day, show_mm, show_money

LIKELY = 0.995
"""A part that is enough with more than this needs no word among the reasons."""


def order_screen(shop: Shop, report: OrderReport, found: Sequence[Alternative] = ()) -> list[str]:
    """The answer in one page."""
    return draw(
        Screen(
            headline(report),
            [asked(shop, report)],
            [making(report), [*buying(shop, report), *instead(report, found), *_beside(shop, report)]],
            rest(report),
            [("Parts, cuts, tools", "--all"), ("Reasons", "--why")],
            _following(report, found),
        )
    )


def order_in_full(shop: Shop, report: OrderReport, found: Sequence[Alternative] = ()) -> list[str]:
    """Every part with its figures to the thousandth, how blanks are cut, what is laid out."""
    cuts = [Fact("Cut" if at == 0 else "", one) for at, one in enumerate(_cuts(report))]
    tools = [Fact("Lay out" if at == 0 else "", one) for at, one in enumerate(_setup_list(report))]
    groups: list[Sequence[Block]] = [
        making(report),
        [_parts(report)],
        [*cuts, *tools, *buying(shop, report, every=True), *instead(report, found), *_beside(shop, report)],
    ]
    return draw(
        Screen(
            headline(report),
            [asked(shop, report)],
            groups,
            doors=[("Reasons", "--why")],
            following=_following(report, found),
        ),
        everything=True,
    )


def order_reasons(shop: Shop, report: OrderReport) -> list[str]:
    """Where the answer comes from: each reason, each caution, how the price and the chance are made up."""
    year = report.resolved.request.due.year
    why = [Sentence(one, "· ") for one in numbered(report.why, year)]
    cautions = [Sentence(one, "· ") for one in numbered(report.cautions, year)]
    groups: list[Sequence[Block]] = [
        [*why, *leaving_why(shop, report)],
        [Fact("Make", _made_of(report)), *_probabilities(report)],
        [Fact("Price", _price(shop, report))],
        [Sentence("Check:"), *cautions] if cautions else [],
        [Sentence(said_usual(usual_values(shop, [report])))],
    ]
    return draw(
        Screen(headline(report), [asked(shop, report)], groups, doors=[("Parts, cuts, tools", "--all")]),
        everything=True,
    )


def _beside(shop: Shop, report: OrderReport) -> list[Block]:
    safety = making_safety(shop, [(report.resolved, report.plan)], selling=True)
    usual = said_usual(usual_values(shop, [report]))
    return [
        *leaving(report),
        *money(shop, report),
        *checking(report),
        Fact("Usual", usual.partition(": ")[2] and f"not your own: {usual.partition(': ')[2]}"),
        Fact("Selling", safety.selling),
        Fact("Safety", kinds_said(safety)),
    ]


def rest(report: OrderReport, *, every: bool = False) -> str:
    """What stands for the parts that have no row. every: all that is short has one."""
    names = {need.part.name for need in report.plan.parts}
    short = {need.part.name for need in report.plan.parts if need.short}
    said = {one.part.name for one in deciding(report)} | {part.name for part in report.sourcing.nowhere}
    said |= {part.name for part, _, _ in report.sourcing.due}
    there, more = len(names - short), len(short - said) if not every else 0
    also = f"{plural(more, 'more part is', 'more parts are')} short" if more else ""
    if not there:
        return also
    the = "The other" if short else "All" if there > 1 else "The"
    have = f"{the} {plural(there, 'part is', 'parts are')} on the shelf"
    return f"{also}. {have}" if also else have


def _following(report: OrderReport, found: Sequence[Alternative]) -> tuple[str, str] | None:
    """The command that takes it, or that asks for the day it can be ready by, or for what could be taken instead."""
    request = report.resolved.request
    if report.verdict == "cannot" or report.earliest is None:
        return _with_that(found[0]) if found else None
    late = report.verdict == "too late"
    by = report.earliest if late else request.due
    if request.order:
        name = pasted(request.order)
        if late:
            return "Another day", f"kitdrawer change {name} --by {by}"
        return "Take it", f"kitdrawer promise {name}"
    return ("Ask again" if late else "Take it"), _as_options(report, by, late=late)


def _with_that(one: Alternative) -> tuple[str, str]:
    """The command by which it is wanted so."""
    if not one.request.order:
        return "Take that", _as_options(one.report, one.request.due, late=False)
    option = {"plating": "--plating", "blank": "--blank", "pieces": "--count"}[one.what]
    return "Where that will do", f"kitdrawer change {pasted(one.request.order)} {option} {pasted(one.value)}"


def _as_options(report: OrderReport, by: date, *, late: bool) -> str:
    """The same request by its options; a promise needs a name besides, here what is made and its day."""
    request = report.resolved.request
    resolved = report.resolved
    pattern = pasted(resolved.pattern.name)
    day = show_day(by).split(" ", 1)[1].rsplit(" ", 1)[0]
    what = pattern if late else f"{pasted(f'{report.resolved.pattern.name} {day}')} -m {pattern}"
    words = [f"kitdrawer {'can-take' if late else 'promise'} {what}"]
    words += [f"-p {pasted(report.plan.plating)}", f"-b {pasted(resolved.wish.words or resolved.blank.name)}"]
    words += [f"--count {request.count}", f"--by {by}"]
    words += [f"--refill {pasted(request.refill)}"] if request.refill else []
    words += [f"--extra-diameter {pasted(str(request.extra_diameter))}"] if request.extra_diameter else []
    return " ".join(words)


def _parts(report: OrderReport) -> Listing:
    columns = (
        Cells("Part"),
        Cells("Stage", folds=2),
        Cells("Need", right=True, folds=1),
        Cells("Free", right=True, folds=1),
        Cells("Short", right=True),
    )
    rows = [
        [
            need.part.name,
            need.stage,
            show_amount(need.need, need.part.unit),
            show_amount(need.all_free, need.part.unit),
            stop(show_amount(need.short, need.part.unit)) if need.short else "",
        ]
        for need in report.plan.parts
    ]
    return Listing(columns, rows)


def _cuts(report: OrderReport) -> list[str]:
    done = []
    for cut in report.plan.blanks.cuts:
        name = f"{report.resolved.blank.name}{f' “{cut.name}”' if cut.name else ''}"
        left = f", {show_mm(cut.offcut, 1)} left over" if cut.offcut else ""
        each = " each" if cut.blanks > 1 else ""
        done.append(f"{cut.blanks} × {name}: {plural(cut.pieces, 'piece')}{each}{left}")
    return done


def _setup_list(report: OrderReport) -> list[str]:
    done = []
    for one in report.setup_list:
        state = {True: "have", False: stop("missing"), None: "not in the book, look"}[one.there]
        name = one.part or one.what
        name = name if one.what in ("tubes", name) or name.startswith(one.what) else f"{one.what}: {name}"
        done.append(f"{name}, {state}{f' ({one.note})' if one.note else ''}")
    return done


def _made_of(report: OrderReport) -> str:
    evening = report.plan.evening
    losses = report.resolved.material.losses
    said = ", ".join(f"{stage} {float(share) * 100:.1f} %" for stage, share in losses.items() if share)
    made = f"{report.starts} begun give the number wanted with {percent(evening.probability)}"
    return f"{made}; spoiled of {report.resolved.material.name}: {said}" if said else made


def _probabilities(report: OrderReport) -> list[Block]:
    """The parts least likely to be enough, with what is free now and once bought."""
    if not report.starts:
        return []
    now, bought = report.joint.by_part, report.joint_after_buying.by_part
    names = {fold(need.part.name): need.part.name for need in report.plan.parts}
    least = sorted((share, str(part)) for part, share in now.items() if share < LIKELY)
    rows = [
        [names.get(part, part), percent(share), percent(bought.get(part, 1.0))] for share, part in least[:6]
    ]
    columns = (Cells("Is it enough?"), Cells("free now", right=True), Cells("once bought", right=True))
    return [Listing(columns, rows)] if rows else []


def _price(shop: Shop, report: OrderReport) -> str:
    price, coin = report.price, shop.currency
    if not price.known:
        return f"none: nobody knows what {listed(price.unpriced)} cost"
    return (
        f"{show_money(price.materials, coin)} materials + {show_money(price.labour, coin)} work "
        f"({price.minutes} min at {show_money(shop.labour_rate, coin)} an hour), losses included; "
        f"lowest sensible price {show_money(price.lowest, coin)} at {percent(float(shop.margin))} margin, before tax"
    )
