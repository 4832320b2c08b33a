"""Can I take this order? The whole answer, from one picture of the shop."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import partial
from typing import TYPE_CHECKING, Literal

from inventory.catalogue import Catalogue, Kit, Part, fold
from inventory.jobs.hours.piece_time import PieceTime, piece_time
from inventory.jobs.hours.week import TimeLeft
from inventory.jobs.orders.blank_choice import chosen, could_give
from inventory.jobs.orders.finished import fitting, ready
from inventory.jobs.orders.money.least_list import at_least_cost
from inventory.jobs.orders.money.pricing import PiecePrice, finished_price, price
from inventory.jobs.orders.needs import (
    PartNeed,
    Requirements,
    nothing_to_make,
    raised,
    requirements,
    usable_free,
)
from inventory.jobs.orders.order_probability import (
    PartProbabilities,
    after_buying,
    needs_at,
    order_probability,
)
from inventory.jobs.orders.requests import OrderRequest, ResolvedRequest, kits_of, made_of, resolve
from inventory.jobs.orders.sourcing import Sourcing, source
from inventory.jobs.sessions.setup_list import SetupItem, cautions, setup_list
from inventory.ledger.shop import Shop
from inventory.making.bom import whole_bill
from inventory.making.consumption import blank_stage
from inventory.making.fit import drill_tools, drills_needed
from inventory.making.joint_probability import JointProbability
from inventory.measures import listed, plural, show_amount, show_date, show_money

if TYPE_CHECKING:
    from inventory.reports.leaves import TooFewLeft

SURE = JointProbability(1.0, "exact", 0.0, None)
"""What is finished cannot run short."""

MOST_RAISES = 24
"""Rounds of raising needs before what they come to is said as it is."""
FINEST = 0.002
"""Doubt in one part below which more of it no longer helps all together."""
ALIKE = 0.02
"""Parts so near to the one least likely to suffice are raised with it."""

Verdict = Literal["from the shelf", "after buying", "too late", "cannot"]
VERDICTS: tuple[Verdict, ...] = ("from the shelf", "after buying", "too late", "cannot")


@dataclass(frozen=True, slots=True)
class OrderProbabilities:
    """The probability of an answer, worked out when they are asked for: a plan of a hundred orders shows none of them.

    plan: None where nothing is to be made; bought: what will be free of each part once what is missing has come, None
    where nothing is.
    """

    plan: Requirements | None = None
    bought: Mapping[str, int] | None = None
    alone: PartProbabilities = field(default_factory=dict, compare=False, repr=False)
    known: dict[bool, JointProbability] = field(default_factory=dict, compare=False, repr=False)

    def worked_out(self, *, bought: bool) -> JointProbability:
        """The probability with what is free now, or once what is missing has come."""
        if self.plan is None:
            return SURE
        at = bought and self.bought is not None
        if at not in self.known:
            found = order_probability(
                self.plan, self.plan.evening.good, self.bought if at else None, self.alone
            )
            self.known[at] = _without(found, self.plan.unknown_tools)
        return self.known[at]


@dataclass(frozen=True, slots=True)
class OrderReport:
    """The answer.

    earliest: the day it could be made from, None where it cannot; plan: needs in the plating chosen.
    time: what it takes of the hours the maker said there are, None where he did not (see `jobs.hours`).
    blank_because: which of several blanks it is of and why, empty where only one would do.
    leaves: parts of which a yes leaves too few for dearer orders that are likely to come (see `jobs.ahead.leaves`).
    """

    resolved: ResolvedRequest
    verdict: Verdict
    probabilities: OrderProbabilities
    earliest: date | None
    starts: int
    plan: Requirements
    sourcing: Sourcing
    price: PiecePrice
    setup_list: tuple[SetupItem, ...]
    cautions: tuple[str, ...]
    why: tuple[str, ...]
    time: TimeLeft | None = None
    blank_because: str = ""
    leaves: tuple[TooFewLeft, ...] = ()

    @property
    def joint(self) -> JointProbability:
        """With what is free now."""
        return self.probabilities.worked_out(bought=False)

    @property
    def joint_after_buying(self) -> JointProbability:
        """Once the missing parts are bought."""
        return self.probabilities.worked_out(bought=True)


def parts_involved(catalogue: Catalogue, request: OrderRequest, today: date) -> frozenset[str]:
    """The folded names of every part the answer may have to look at, so that only their lots and offers are read."""
    resolved = resolve(catalogue, request, today)
    names = {fold(kit.name) for kit in kits_of(catalogue, resolved.family)}  # other platings may stand in
    names |= {fold(barrel.tube) for barrel in resolved.family.barrels if barrel.tube}
    names |= {fold(line.part) for line in whole_bill(catalogue, resolved.pattern)}
    names |= {
        fold(name)
        for name in (
            *(*resolved.family.bushings, *resolved.family.trimmer_pilots),
            *(blank.name for blank in resolved.wish.blanks),
        )
    }
    names |= {fold(name) for name in (request.refill, resolved.family.refill) if name}
    kits = kits_of(catalogue, resolved.family)
    for blank in resolved.wish.blanks:
        names |= {fold(one.name) for one in fitting(catalogue, made_of(catalogue, resolved, blank), kits)}
    sizes = {drill.mm for drill in drills_needed(catalogue, resolved.family)}
    names |= {fold(part.name) for part, drill in drill_tools(catalogue) if drill.mm in sizes}
    return frozenset(name for name in names if name in catalogue.parts)


def check(shop: Shop, request: OrderRequest, *, exactly: bool = False) -> OrderReport:
    """The best answer over the accepted platings and blanks: the earlier verdict, then the plating named first, then
    the blank that `blank_choice` takes.

    exactly: what it has to buy is the list that costs least, proven, and not the quick choice.
    """
    resolved = resolve(shop.catalogue, request, shop.today)
    find = partial(at_least_cost, shop) if exactly else _as_found
    answers = [
        _in_plating(shop, made_of(shop.catalogue, resolved, blank), plating, kits, find)
        for blank in resolved.wish.blanks
        for plating, kits in resolved.kits
    ]
    return chosen(shop, resolved, answers, VERDICTS)


Buying = Callable[[Sourcing, date], Sourcing]
"""What is bought in place of the quick choice, by that day."""


def _as_found(found: Sourcing, _: date) -> Sourcing:
    return found


def _in_plating(
    shop: Shop, resolved: ResolvedRequest, plating: str, kits: Sequence[Part], find: Buying
) -> OrderReport:
    there = ready(shop, resolved, kits)
    return (
        _partly_made(shop, resolved, plating, kits, there, find)
        if there
        else _to_make(shop, resolved, plating, kits, find)
    )


def _to_make(
    shop: Shop, resolved: ResolvedRequest, plating: str, kits: Sequence[Part], find: Buying
) -> OrderReport:
    request = resolved.request
    plan = requirements(shop, resolved, plating, kits, request.confidence)
    alone: PartProbabilities = {}
    impossible = plan.blanks.each == 0 and plan.blanks.capacity < plan.reach[blank_stage(plan.uses)]
    if not impossible:  # no spare kits help where no blank will do
        plan = _confident(plan, request.count, request.confidence, alone)
    sourcing = find(source(shop, plan.parts, request.due), request.due)
    unknown = plan.unknown_tools
    verdict = _verdict(plan, sourcing, request.due, impossible or bool(unknown))
    bought = None if verdict == "from the shelf" else _with_bought(plan, sourcing)
    money = price(shop, plan, request.count, _time(shop, resolved), sourcing.buy)
    said = [*_money_cautions(shop, request, money), *_time_cautions(sourcing, request.due, verdict)]
    return OrderReport(
        resolved,
        verdict,
        OrderProbabilities(plan, bought, alone),
        None if verdict == "cannot" else sourcing.ready,
        plan.reach[0],
        plan,
        sourcing,
        money,
        setup_list(resolved, plan),
        (*said, *cautions(shop, resolved, plan)),
        tuple(_why(shop, resolved, plan, sourcing, verdict, impossible)),
    )


def _time(shop: Shop, resolved: ResolvedRequest) -> PieceTime:
    return piece_time(shop.catalogue, shop.settings, resolved.pattern)


def _partly_made(
    shop: Shop,
    resolved: ResolvedRequest,
    plating: str,
    kits: Sequence[Part],
    there: Sequence[tuple[Part, int]],
    find: Buying,
) -> OrderReport:
    """The answer where finished pieces serve the request, or a part of it: only the rest is to be made."""
    pieces = sum(many for _, many in there)
    rest = replace(resolved, request=replace(resolved.request, count=resolved.request.count - pieces))
    done = tuple(
        PartNeed(part, "pack", 1000 * many, 1000 * many, "finished", on_shelf=usable_free(shop, part))
        for part, many in there
    )
    said = f"{plural(pieces, 'finished one is', 'finished ones are')} on the shelf."
    if rest.request.count:
        report = _to_make(shop, rest, plating, kits, find)
        plan = replace(report.plan, parts=(*done, *report.plan.parts))
        return replace(report, resolved=resolved, plan=plan, why=(said, *report.why))
    plan = replace(nothing_to_make(shop, rest, kits, plating), parts=done)
    money = finished_price(shop, there, _time(shop, resolved))
    return OrderReport(
        resolved,
        "from the shelf",
        OrderProbabilities(),
        shop.today,
        0,
        plan,
        Sourcing((), (), (), shop.today),
        money,
        (),
        tuple(_money_cautions(shop, resolved.request, money)),
        (said,),
    )


def _without(found: JointProbability, unknown: Sequence[str]) -> JointProbability:
    """The probability where a tool is needed that nobody has or sells: none."""
    if not unknown:
        return found
    return replace(
        found, probability=0.0, error=0.0, weakest=unknown[0], by_part={**found.by_part, unknown[0]: 0.0}
    )


def _confident(plan: Requirements, count: int, confidence: float, alone: PartProbabilities) -> Requirements:
    """Raise needs that are not covered until, with the missing bought, the joint probability meet the confidence.

    Each part alone suffices at the confidence, so where several are tight all of them together may not. The part
    least likely to suffice is raised first, so that no kit more is bought because a glue is doubtful.
    """
    doubts = {
        fold(need.part.name): 1.0 - confidence for need in plan.parts if not need.tool and not need.is_blank
    }
    for _ in range(MOST_RAISES):
        found = order_probability(plan, count, after_buying(plan), alone)
        probabilities = {
            part: found.by_part.get(part, 1.0) for part, doubt in doubts.items() if doubt > FINEST
        }
        if found.probability >= confidence - 1e-9 or not probabilities:
            break
        least = min(probabilities.values())
        for part in (part for part, probability in probabilities.items() if probability <= least + ALIKE):
            doubts[part] /= 2
            higher = needs_at(plan, count, 1.0 - doubts[part], part)
            plan = replace(plan, parts=raised(plan.parts, higher))
    return plan


def _with_bought(plan: Requirements, sourcing: Sourcing) -> dict[str, int]:
    """What will be free of each part once what is missing has come, the rest of whole packs with it."""
    free = after_buying(plan)
    for one in sourcing.buy:
        free[fold(one.part.name)] += one.packs * one.pack - one.quantity
    return free


def _verdict(plan: Requirements, sourcing: Sourcing, due: date, impossible: bool) -> Verdict:
    if impossible or sourcing.ready is None:
        return "cannot"
    if not any(need.short for need in plan.parts):
        return "from the shelf"
    return "after buying" if sourcing.ready <= due else "too late"


def _money_cautions(shop: Shop, request: OrderRequest, money: PiecePrice) -> Iterable[str]:
    if money.unpriced:
        yield (
            f"No price of a piece can be given: nobody knows what {listed(money.unpriced)} cost. "
            "Count with a unit cost, or load an offer."
        )
    elif request.price is not None and request.price < money.lowest:
        yield (
            f"The price of {show_money(request.price, shop.currency)} a piece is under the lowest sensible "
            f"{show_money(money.lowest, shop.currency)}."
        )


def _time_cautions(sourcing: Sourcing, due: date, verdict: Verdict) -> Iterable[str]:
    if verdict == "after buying" and sourcing.ready and due - sourcing.ready < timedelta(days=2):
        yield (
            f"The last parts arrive on {show_date(sourcing.ready)}: hardly an evening to make it, "
            "and glue wants a night."
        )


def _why(
    shop: Shop,
    resolved: ResolvedRequest,
    plan: Requirements,
    sourcing: Sourcing,
    verdict: Verdict,
    impossible: bool,
) -> Iterable[str]:
    if impossible:
        yield from plan.blanks.unfit
    for what in plan.unknown_tools:
        yield (
            f"{what} is wanted, and the book knows none: have one in hand first, "
            "and enter it with the tools (and their offers)."
        )
    if verdict == "from the shelf":
        yield f"Everything is free on the shelf for {plural(plan.reach[0], 'start')}."
    for part in sourcing.nowhere:
        short = sum(need.short for need in plan.parts if need.part is part)
        yield f"{part.name}: {show_amount(short, part.unit)} short, and no supplier offers it."
    for part, quantity, day in sourcing.due:
        yield f"{part.name}: {show_amount(quantity, part.unit)} already due in on {show_date(day)}."
    for one in sourcing.buy:
        late = " (too late)" if one.arrives > resolved.request.due else ""
        yield (
            f"{one.part.name}: {show_amount(one.quantity, one.part.unit)} short; {one.supplier} has it by "
            f"{show_date(one.arrives)}{late}."
        )
    if not impossible:
        yield from plan.blanks.unfit
    if verdict != "from the shelf":
        yield from _substitutes(shop, resolved, plan)
        if plan.blank_is_short:
            yield from could_give(shop, resolved.blank)


def _substitutes(shop: Shop, resolved: ResolvedRequest, plan: Requirements) -> Iterable[str]:
    """Kits in a substitute plating that would do, for the customer to say yes or no to."""
    kit_need = next((need for need in plan.parts if need.role == "the kit" and need.short), None)
    if kit_need is None:
        return
    accepted = {fold(name) for name, _ in resolved.kits}
    names = [name for name in shop.catalogue.plating(plan.plating).substitutes if fold(name) not in accepted]
    for kit in kits_of(shop.catalogue, resolved.family):
        plating = kit.detail.plating if isinstance(kit.detail, Kit) else ""
        if fold(plating) in map(fold, names) and usable_free(shop, kit) >= kit_need.need:
            yield (
                f"{kit.name} is free; with the customer's word {plating} may stand in "
                f'(--or-plating "{plating}").'
            )
