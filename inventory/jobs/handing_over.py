"""Handing an order over: what went into its pieces leaves the shelf, first in, first out, and its claims end."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import ceil

from inventory.catalogue import STAGES, Kit, Order, Part, fold
from inventory.errors import BadInput, Refused
from inventory.jobs.drawing import Drawn, Purpose, opened_words, own_lots, take
from inventory.jobs.finished import ready
from inventory.jobs.needs import Requirements, blank_stage, pick_kit, requirements, usable_free
from inventory.jobs.reserving import without_claims
from inventory.jobs.shop import Shop
from inventory.jobs.wishes import Meant, resolve, wish_of
from inventory.ledger import Claim, Proposal
from inventory.ledger.claims import claims_of, let_go, settle
from inventory.ledger.costs import UNKNOWN
from inventory.ledger.drafting import Draft
from inventory.ledger.sessions import lost_from
from inventory.making.blanks import BlankPlan, plan_blanks
from inventory.measures import plural


@dataclass(frozen=True, slots=True)
class HandOver:
    """The proposed document, what it draws, and what the order's pieces cost. opened: of bottles it opened."""

    proposal: Proposal
    drawn: tuple[Drawn, ...]
    opened: tuple[str, ...] = ()

    @property
    def cost(self) -> int:
        """Minor units for all pieces."""
        return sum(one.cost for one in self.drawn)

    @property
    def unpriced(self) -> tuple[str, ...]:
        """Parts of whose cost something is not known; `cost` leaves it out."""
        return tuple(one.part for one in self.drawn if one.cost_from == UNKNOWN)


def hand_over(shop: Shop, order: Order, lost: Mapping[str, int] | None = None) -> HandOver:
    """Draw what is finished, then the bill for the rest, and for pieces lost at a stage up to that stage.

    What the book does not hold is booked as found, and the part is listed for counting. Raises Refused where the
    order was not promised.
    """
    if order.state != "promised":
        hint = (
            "It was handed over before."
            if order.state == "handed over"
            else "Promise it first: `promise ORDER`."
        )
        raise Refused(f"The order “{order.name}” is not promised.", hint=hint)
    wish = replace(wish_of(order), due=max(order.due, shop.today))
    meant = resolve(shop.catalogue, wish, shop.today)
    own = claims_of(shop.book, order.name)
    freed = without_claims(shop, order.name)
    ends = let_go(shop.book, order.name)
    draft = Draft(shop.book, shop.prices)
    draft.add(ends)
    drawn = [
        take(draft, part, 1000 * pieces, Purpose(order.name, "handed over", shop.today))
        for part, pieces in ready(freed, meant, [kit for _, kits in meant.kits for kit in kits])
    ]
    left = order.count - sum(one.quantity // 1000 for one in drawn)
    reached = _reached(left, lost or {})
    if reached[0]:
        drawn += _make(draft, freed, replace(meant, wish=replace(wish, count=max(left, 1))), own, reached)
    hands = {one.part: 0 for one in drawn if one.quantity} | {
        line.part: 0 for line in ends if line.account == "claim"
    }
    draft.add(settle(draft.book, {part: draft.book.balance(part).on_hand for part in hands}))
    proposal = Proposal(
        "hand-over",
        f"Hand over {order.name}",
        shop.today,
        lines=tuple(draft.lines),
        lots=tuple(draft.lots),
        order_states=((order.name, "handed over"),),
        basis=shop.book.version,
        to_count=tuple(one.part for one in drawn if one.found),
    )
    opened = tuple(opened_words(draft, shop.catalogue))
    return HandOver(proposal, tuple(one for one in drawn if one.quantity), opened)


def _make(
    draft: Draft, freed: Shop, meant: Meant, own: tuple[Claim, ...], reached: tuple[int, ...]
) -> list[Drawn]:
    """Draw the bill of pieces made without a session."""
    plan = held_plan(with_own_blanks(freed, meant.blank, own), meant, own)
    blanks = _blanks(freed, meant, plan, own, reached)
    purpose = Purpose(meant.wish.order, "used", freed.today)
    named = [(cut.lot, 1000 * cut.blanks) for cut in blanks.cuts if cut.lot is not None]
    return [
        take(
            draft,
            freed.catalogue.part(name),
            quantity,
            purpose,
            named if fold(name) == fold(meant.blank.name) else own_lots(own, name),
        )
        for name, quantity in _bill(plan, reached, blanks)
    ]


def _blanks(
    freed: Shop, meant: Meant, plan: Requirements, own: tuple[Claim, ...], reached: tuple[int, ...]
) -> BlankPlan:
    """One cut plan for all pieces begun, lost ones too: from the order's own blanks, else from any that are free."""
    pieces = reached[blank_stage(plan.uses)]

    every = freed.book.lots_of(meant.blank.name)

    def cut(shop: Shop) -> BlankPlan:
        lots = shop.book.lots_of(meant.blank.name)
        others = sum(lot.quantity - lot.claimed for lot in every if lot.measured and lot not in lots)
        there = usable_free(freed, meant.blank) - others
        return plan_blanks(meant.blank, plan.size, lots, there, shop.kerf, pieces)

    mine = cut(with_own_blanks(freed, meant.blank, own))
    return mine if mine.capacity >= pieces else cut(freed)


def _reached(count: int, lost: Mapping[str, int]) -> tuple[int, ...]:
    """Pieces that reached each stage: the good ones and those lost there or later."""
    for stage, pieces in lost.items():
        if stage not in STAGES:
            raise BadInput(f"“{stage}” is not a stage.", hint=f"The stages are {', '.join(STAGES)}.")
        if pieces < 0:
            raise BadInput(f"{plural(pieces, 'piece')} cannot be lost at {stage}.", hint="Give 0 or more.")
    return tuple(count + lost_from(stage, lost) for stage in STAGES)


def with_own_blanks(shop: Shop, blank: Part, own: tuple[Claim, ...]) -> Shop:
    """The shop without measured blanks the order does not hold: it was made from those set aside for it."""
    held = {claim.lot for claim in own if claim.lot}
    kept = tuple(
        lot for lot in shop.book.lots_of(blank.name) if lot.id in held or not (held and lot.measured)
    )
    return replace(shop, book=replace(shop.book, lots={**shop.book.lots, fold(blank.name): kept}))


def held_plan(shop: Shop, meant: Meant, own: tuple[Claim, ...]) -> Requirements:
    """The plating whose kits the order holds, else the first accepted one."""
    held = {fold(claim.part) for claim in own}
    for plating, kits in meant.kits:
        if any(fold(kit.name) in held for kit in kits):
            mine = [kit for kit in kits if fold(kit.name) in held]
            return requirements(shop, meant, plating, [pick_kit(shop, mine)], 0.5)
    plating, kits = meant.kits[0]
    return requirements(shop, meant, plating, kits, 0.5)


def _bill(plan: Requirements, reached: tuple[int, ...], blanks: BlankPlan) -> list[tuple[str, int]]:
    """Thousandths drawn of each part for the pieces that reached each stage."""
    sums: dict[str, int] = {}
    kits = next((reached[STAGES.index(use.stage)] for use in plan.uses if use.role == "the kit"), 0)
    for use in plan.uses:
        pieces = reached[STAGES.index(use.stage)]
        if use.role == "the blank":
            sums[use.part] = 1000 * blanks.needed
            continue
        if use.role == "the tubes" and isinstance(plan.kit.detail, Kit) and plan.kit.detail.tubes_inside:
            pieces = max(pieces - kits, 0)
        sums[use.part] = sums.get(use.part, 0) + ceil(use.per_piece * pieces) + use.per_session
    return list(sums.items())
