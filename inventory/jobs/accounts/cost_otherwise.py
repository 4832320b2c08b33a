"""What a piece would cost made otherwise: each change is looked at as an order of its own, the difference is told.

Tried are the other platings of its kits, a thicker barrel (with the next larger blank of the material where its own is
too thin), refills that were asked for before in place of the family's own, the blanks there are most of, and whatever
is named.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import timedelta

from inventory.catalogue import Blank, Kit, Part, Supply, fold
from inventory.errors import BadInput, KitdrawerError
from inventory.jobs.accounts.cost import expected_cost
from inventory.jobs.orders.order_check import OrderReport, check
from inventory.jobs.orders.requests import OrderRequest, kits_of
from inventory.ledger.shop import Shop
from inventory.measures import Length, read_length
from inventory.reports.accounts.cost import CostChange, CostReport, Otherwise

THICKER = "2 mm"
"""How much a barrel grows for a large hand (common practice, no source)."""
MOST_BLANKS = 4
FAR = timedelta(days=200)
"""By then all that suppliers have is here, so that the price is no matter of haste."""
Change = tuple[Otherwise, str, OrderRequest]


def changes(
    shop: Shop, report: OrderReport, base: CostReport, named: Sequence[str], *, usually: bool
) -> tuple[CostChange, ...]:
    """What each change adds to the cost of all pieces, the named ones first. usually: as `expected_cost` has it."""
    request = report.resolved.request
    wanted = [_named(shop, request, one) for one in named]
    found = [_one(shop, base, one, usually=usually) for one in [*wanted, *_usual(shop, report)]]
    return tuple({(one.what, fold(one.value)): one for one in found}.values())


def _one(shop: Shop, base: CostReport, change: Change, *, usually: bool) -> CostChange:
    what, value, request = change
    tries = [(request, "")] if what != "thicker" else list(_larger(shop, request))
    problem = ""
    for other, because in tries:
        try:
            answer = check(shop, other)
        except KitdrawerError as error:
            problem = problem or error.message
            continue
        if answer.plan.blanks.each == 0 and answer.plan.blanks.capacity < answer.starts:
            problem = problem or f"{answer.resolved.blank.name} is too small"
            continue
        now = expected_cost(shop, answer, usually=usually)
        if now.unknown and not base.unknown:
            return CostChange(what, value, None, f"nobody knows what {now.unknown[0]} costs")
        return CostChange(what, value, now.total - base.total, because)
    return CostChange(what, value, None, problem.rstrip("."))


def _named(shop: Shop, request: OrderRequest, text: str) -> Change:
    """What a word changes: a plating, a blank, a refill, or how much thicker. Raises BadInput."""
    catalogue = shop.catalogue
    if (plating := catalogue.platings.get(fold(text))) is not None:
        return "plating", plating.name, replace(request, platings=(plating.name,))
    part = catalogue.parts.get(fold(text))
    if part is not None and isinstance(part.detail, Blank):
        return "blank", part.name, replace(request, blank=part.name)
    if part is not None and isinstance(part.detail, Supply) and fold(part.detail.type) == "refill":
        return "refill", part.name, replace(request, refill=part.name)
    try:
        return _thicker(request, read_length(text))
    except KitdrawerError:
        hint = "Name a plating, a blank, a refill, or how much thicker: 2 mm."
        raise BadInput(f"“{text}” is nothing a piece can be made otherwise by.", hint=hint) from None


def _thicker(request: OrderRequest, more: Length) -> Change:
    before = request.extra_diameter.mm if request.extra_diameter else 0
    whole = read_length(f"{float(more.mm + before):g} mm")
    return "thicker", str(more), replace(request, extra_diameter=whole)


def _usual(shop: Shop, report: OrderReport) -> Iterator[Change]:
    request, resolved = report.resolved.request, report.resolved
    catalogue = shop.catalogue
    own = fold(report.plan.plating)
    platings = [
        kit.detail.plating
        for kit in kits_of(catalogue, resolved.family)
        if isinstance(kit.detail, Kit) and not catalogue.no_longer_bought(kit)
    ]
    for plating in dict.fromkeys(one for one in platings if fold(one) != own):
        yield "plating", plating, replace(request, platings=(plating,))
    if any(barrel.finished_a or barrel.finished_b for barrel in resolved.family.barrels):
        yield _thicker(request, read_length(THICKER))
    if any(use.role == "the refill" for use in report.plan.uses):
        for refill in _refills(shop, report):
            yield "refill", refill, replace(request, refill=refill)
    for blank in _blanks(shop, resolved.blank):
        yield "blank", blank.name, replace(request, blank=blank.name)


def _refills(shop: Shop, report: OrderReport) -> Iterable[str]:
    """Those some order asked for where this family's own refill is usual."""
    own = fold(report.resolved.family.refill or "")
    mine = fold(report.resolved.request.refill or own)
    asked = [
        order.refill
        for order in shop.book.orders.values()
        if order.refill and fold(_own_refill(shop, order.pattern)) == own
    ]
    return dict.fromkeys(
        shop.catalogue.part(one).name
        for one in asked
        if fold(one) != mine and fold(one) in shop.catalogue.parts
    )


def _own_refill(shop: Shop, pattern: str) -> str:
    return shop.catalogue.family(shop.catalogue.pattern(pattern).family).refill or ""


def _blanks(shop: Shop, own: Part) -> list[Part]:
    there = [
        part
        for part in shop.catalogue.parts.values()
        if isinstance(part.detail, Blank)
        and part.name != own.name
        and shop.book.balance(part.name).on_hand > 0
    ]
    return sorted(there, key=lambda part: -shop.book.balance(part.name).on_hand)[:MOST_BLANKS]


def _larger(shop: Shop, request: OrderRequest) -> Iterator[tuple[OrderRequest, str]]:
    """The request as it is, then with wider blanks of the same material, the narrowest first."""
    yield request, ""
    own = shop.catalogue.parts.get(fold(request.blank))
    if own is None or not isinstance(own.detail, Blank):
        return
    detail = own.detail
    wider = [
        (part.detail.width.mm, part.name)
        for part in shop.catalogue.parts.values()
        if isinstance(part.detail, Blank)
        and fold(part.detail.material) == fold(detail.material)
        and part.detail.width is not None
        and (detail.width is None or part.detail.width.mm > detail.width.mm)
    ]
    for _, name in sorted(wider):
        yield replace(request, blank=name), f"of {name}"
