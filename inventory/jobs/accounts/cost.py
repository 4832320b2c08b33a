"""Where each coin of a piece goes that is to be made: what the order check expects to draw, the tools' wear, the work.

Rows are of whole coins and add up to the total: what a part costs is what drawing it would book; of that the share of
the pieces expected to be spoiled is put apart, the rest stays with the part; work is rounded up once, for all pieces.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction
from math import ceil

from inventory.catalogue import STAGES, Catalogue, Part, Pattern, Supply, fold, only
from inventory.jobs.accounts.wear import wear_of_one
from inventory.jobs.hours.piece_time import piece_time
from inventory.jobs.orders.money.pricing import would_draw
from inventory.jobs.orders.needs import Requirements
from inventory.jobs.orders.order_check import OrderReport
from inventory.ledger.costs import UNKNOWN
from inventory.ledger.past.sales import OF_THE_PIECE
from inventory.ledger.shop import Shop
from inventory.making.consumption import bill_for, blank_stage
from inventory.making.distributions import mean
from inventory.reports.accounts.cost import CostOf, CostReport, CostRow

SPOILED = "pieces expected to be spoiled"


def expected_cost(shop: Shop, report: OrderReport, *, usually: bool = False) -> CostReport:
    """Of the pieces of an answer that are still to be made; at least one is.

    usually: as many are begun as give so many good ones on average, and not as many as give them almost surely: what
    a piece costs where the spare ones are sold too.
    """
    plan, resolved = report.plan, report.resolved
    pieces = plan.evening.good
    times = _on_average(plan) if usually else Fraction(1)
    begun = plan.evening.starts * times
    drawn = would_draw(shop, plan, report.sourcing.buy, times)
    good = _of_good(plan)
    rows, lost = list[CostRow](), 0
    for one in drawn:
        mine = one.cost * min(good[one.part], one.quantity) // one.quantity if one.quantity else one.cost
        lost += one.cost - mine
        rows.append(CostRow(one.part, class_of(shop.catalogue.part(one.part)), mine, one.quantity, one.unit))
    minutes = piece_time(shop.catalogue, shop.settings, resolved.pattern).minutes * begun
    rows += [
        *([CostRow(SPOILED, "spoiled", lost)] if lost else []),
        *tools_and_work(shop, resolved.pattern, begun, minutes),
    ]
    words = f"{plan.plating}, {resolved.blank.name}{''.join(_more(report))}"
    return CostReport(
        resolved.request.order or resolved.pattern.name,
        words,
        shop.today,
        pieces,
        tuple(sorted(rows, key=lambda row: -row.cost)),
        minutes,
        tuple(one.part for one in drawn if one.cost_from == UNKNOWN),
    )


def _on_average(plan: Requirements) -> Fraction:
    """The share of the batch that gives the pieces wanted on average."""
    return Fraction(plan.evening.good / mean(plan.evening.finished)).limit_denominator(10**6)


def tools_and_work(
    shop: Shop, pattern: Pattern, begun: Fraction | int, minutes: Fraction
) -> Iterable[CostRow]:
    """What tools wear by so many pieces begun, and what the work is worth at the shop's wage."""
    worn = round(wear_of_one(shop, pattern) * begun)
    if worn:
        yield CostRow("wear of tools, by their life", "tools", worn)
    if minutes:
        yield CostRow("work", "work", ceil(shop.labour_rate * minutes / 60), round(minutes), "min")


def class_of(part: Part) -> CostOf:
    """What a part is to a piece's cost, as `earned` has it."""
    if part.kind == "tool":
        return "tools"
    if not isinstance(part.detail, Supply) or fold(part.detail.type) in OF_THE_PIECE:
        return "materials"
    return "packaging" if fold(part.detail.type) == "packaging" else "supplies"


def _of_good(plan: Requirements) -> Mapping[str, int]:
    """Thousandths of each part the good pieces take; blanks in proportion to the pieces they are cut for."""
    good, at = plan.evening.good, blank_stage(plan.uses)
    cut = ceil(Fraction(1000 * plan.blanks.needed * good, max(plan.reach[at], 1)))
    return bill_for(plan.uses, plan.kit, [good] * len(STAGES), cut)


def _more(report: OrderReport) -> Iterable[str]:
    request = report.resolved.request
    if request.refill:
        yield f", {request.refill}"
    if request.extra_diameter:
        yield f", {request.extra_diameter} thicker"


def usual_choice(catalogue: Catalogue, pattern: Pattern, shop: Shop) -> tuple[str, str]:
    """The plating and the blank such a piece was wanted in last; else the kit and the blank there are most of.

    Empty where nothing tells.
    """
    asked = [
        one for one in shop.book.orders.values() if fold(one.pattern) == fold(pattern.name) and one.platings
    ]
    if asked:
        last = max(asked, key=lambda one: (one.due, one.name))
        return last.platings[0], last.wished_blank
    kits = [part for part in catalogue.parts.values() if _kit_of(part, pattern)]
    blanks = [part for part in catalogue.parts.values() if part.kind == "blank"]
    kit = max(kits, key=lambda part: shop.book.balance(part.name).on_hand, default=None)
    blank = max(blanks, key=lambda part: shop.book.balance(part.name).on_hand, default=None)
    return getattr(kit and kit.detail, "plating", ""), blank.name if blank else ""


def without_pieces(shop: Shop) -> Shop:
    """The shop as one with no finished pieces: the question is what one more costs."""
    parts = only(shop.catalogue.parts, lambda part: part.kind != "piece")
    return replace(shop, catalogue=replace(shop.catalogue, parts=parts))


def _kit_of(part: Part, pattern: Pattern) -> bool:
    return part.kind == "kit" and fold(getattr(part.detail, "family", "")) == fold(pattern.family)
