"""Handing an order over: what went into its pieces leaves the shelf, first in, first out, and its claims end."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from inventory.catalogue import STAGES, Order, Part, fold
from inventory.errors import BadInput, KitdrawerError, NeverMade, Refused
from inventory.jobs.orders.finished import ready
from inventory.jobs.orders.needs import (
    Requirements,
    pick_kit,
    requirements,
    usable_free,
)
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.promising import setting_aside
from inventory.jobs.orders.requests import OrderRequest, ResolvedRequest, request_of, resolve
from inventory.jobs.orders.reserving import promised_request, without_claims
from inventory.jobs.stock.drawing import Drawn, Purpose, opened_words, own_lots, shop_of, take
from inventory.ledger import Claim, Line, Proposal
from inventory.ledger.availability import off_in
from inventory.ledger.claims import claims_of, let_go, settle
from inventory.ledger.costs import UNKNOWN
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.sessions import lost_from
from inventory.ledger.shop import Shop
from inventory.making.blanks.fitting import BlankPlan, plan_blanks
from inventory.making.consumption import bill_for, blank_stage
from inventory.measures import plural, show_date

if TYPE_CHECKING:
    from inventory.jobs.orders.money.paying import Account


@dataclass(frozen=True, slots=True)
class HandOver:
    """The proposed document, what it draws, and what the order's pieces cost.

    said: sentences on what was taken for made now, on the rest of the order and on bottles that were opened.
    account: how the order stands with its money then, where that was looked up.
    """

    proposal: Proposal
    drawn: tuple[Drawn, ...]
    said: tuple[str, ...] = ()
    account: Account | None = None

    @property
    def cost(self) -> int:
        """Minor units for all pieces."""
        return sum(one.cost for one in self.drawn)

    @property
    def unpriced(self) -> tuple[str, ...]:
        """Parts of whose cost something is not known; `cost` leaves it out."""
        return tuple(one.part for one in self.drawn if one.cost_from == UNKNOWN)


@dataclass(frozen=True, slots=True)
class HandingOver:
    """What goes to the customer. count: pieces, None for all that are open; lost: pieces lost on the way, by stage.

    made_now: pieces the book does not know as made were made now, without a session; session: the planned one the
    order stands in, where there is one.
    """

    count: int | None = None
    lost: Mapping[str, int] = field(default_factory=dict)
    made_now: bool = False
    session: str = ""


def hand_over(shop: Shop, order: Order, going: HandingOver | None = None) -> HandOver:
    """Draw what is finished, then the bill for the rest, and for pieces lost at a stage up to that stage.

    Of an order of which only some pieces go the rest stays promised, with parts set aside for it and its day. What the
    book does not hold is booked as found, and the part is listed for counting. Raises Refused where the order was not
    promised, BadInput for a count it has not open, and NeverMade where it would have to assume that pieces were made.
    """
    going = going or HandingOver()
    count = _count(order, going)
    request = replace(request_of(order), due=max(order.due, shop.today), count=count)
    rest = replace(
        promised_request(shop, order), count=order.count - count
    )  # in the plating it holds until now
    resolved = resolve(shop.catalogue, request, shop.today)
    own = claims_of(shop.book, order.name)
    freed = without_claims(shop, order.name)
    ends = let_go(shop.book, order.name)
    draft = Draft(shop.book, shop.prices)
    draft.add(ends)
    finished = ready(freed, resolved, [kit for _, kits in resolved.kits for kit in kits])
    made = sum(pieces for _, pieces in finished)
    said = _made_now(order, going, count, made)
    drawn = [
        take(draft, part, 1000 * pieces, Purpose(order.name, "handed over", shop.today))
        for part, pieces in finished
    ]
    reached = _reached(count - made, going.lost)
    if reached[0]:
        drawn += _make(draft, freed, resolved, own, reached)
    if rest.count:
        said += _keep(shop, draft, order, rest)
    _settled(draft, shop, drawn, ends)
    proposal = Proposal(
        "hand-over",
        f"Hand over {f'{count} of {order.count} of ' if rest.count else ''}{order.name}",
        shop.today,
        lines=tuple(draft.lines),
        lots=tuple(draft.lots),
        order_states=((order.name, "promised" if rest.count else "handed over"),),
        handed=((order.name, count),) if rest.count else (),
        expected_version=shop.book.version,
        to_count=tuple(one.part for one in drawn if one.found),
    )
    said += opened_words(draft, shop.catalogue)
    return HandOver(proposal, tuple(one for one in drawn if one.quantity), tuple(said))


def _count(order: Order, going: HandingOver) -> int:
    if order.state != "promised":
        hint = (
            "It was handed over before."
            if order.state == "handed over"
            else "Promise it first: `promise ORDER`."
        )
        raise Refused(f"The order “{order.name}” is not promised.", hint=hint)
    count = order.count if going.count is None else going.count
    if not 1 <= count <= order.count:
        raise BadInput(
            f"{plural(count, 'piece')} of {order.name} cannot be handed over.",
            hint=f"It has {order.count} open: give a count from 1 to {order.count}.",
        )
    return count


def _settled(draft: Draft, shop: Shop, drawn: Sequence[Drawn], ends: Iterable[Line]) -> None:
    """What is over goes to those who wait, what was taken from others they wait for again."""
    parts = {one.part: 0 for one in drawn if one.quantity}
    parts |= {line.part: 0 for line in ends if line.account == "claim"}
    there = {part: draft.book.balance(part).on_hand for part in parts}
    draft.add(settle(draft.book, there, off=off_in(draft.book, shop.catalogue.parts, shop.today)))


def _made_now(order: Order, going: HandingOver, count: int, made: int) -> list[str]:
    """What is to be said of pieces the book does not know as made; refused where nobody said that they were."""
    never = count - made
    if not never:
        return []
    of = f"{never} of {plural(count, 'piece')} of {order.name}" if made else f"the pieces of {order.name}"
    if going.made_now or going.lost or not (made or going.session):
        return [f"Made now, without a session: {of}. What went into them is used now."]
    was = "was" if never == 1 else "were"
    planned = f" The session of {going.session} is planned and not booked." if going.session else ""
    those = f"--count {made} hands over what is finished; " if made else ""
    raise NeverMade(
        f"{of[0].upper()}{of[1:]} {was if made else 'were'} never booked as made.{planned}",
        hint=f"Book the session first (`weekend book`), or: {those}--made-now uses their parts now.",
    )


def _keep(shop: Shop, draft: Draft, order: Order, rest: OrderRequest) -> list[str]:
    """Set aside for the rest of an order what it still needs."""
    now = shop_of(shop, draft)
    still = f"{rest.count} of {order.name} stay{'s' * (rest.count == 1)} promised for {show_date(order.due)}"
    try:
        draft.add(setting_aside(now, order, check(now, rest)))
    except KitdrawerError as error:  # promised once; that it no longer works out must not stop the hand-over
        return [f"{still}; nothing can be set aside: {error.message}"]
    return [f"{still}."]


def _make(
    draft: Draft, freed: Shop, resolved: ResolvedRequest, own: tuple[Claim, ...], reached: tuple[int, ...]
) -> list[Drawn]:
    """Draw the bill of pieces made without a session."""
    plan = held_plan(with_own_blanks(freed, resolved.blank, own), resolved, own)
    blanks = _blanks(freed, resolved, plan, own, reached)
    purpose = Purpose(resolved.request.order, "used", freed.today)
    named = [(cut.lot, 1000 * cut.blanks) for cut in blanks.cuts if cut.lot is not None]
    return [
        take(
            draft,
            freed.catalogue.part(name),
            quantity,
            purpose,
            named if fold(name) == fold(resolved.blank.name) else own_lots(own, name),
        )
        for name, quantity in bill_for(plan.uses, plan.kit, reached, 1000 * blanks.needed).items()
    ]


def _blanks(
    freed: Shop,
    resolved: ResolvedRequest,
    plan: Requirements,
    own: tuple[Claim, ...],
    reached: tuple[int, ...],
) -> BlankPlan:
    """One cut plan for all pieces begun, lost ones too: from the order's own blanks, else from any that are free."""
    pieces = reached[blank_stage(plan.uses)]

    every = freed.book.lots_of(resolved.blank.name)

    def cut(shop: Shop) -> BlankPlan:
        lots = shop.book.lots_of(resolved.blank.name)
        others = sum(lot.quantity - lot.claimed for lot in every if lot.measured and lot not in lots)
        there = usable_free(freed, resolved.blank) - others
        return plan_blanks(resolved.blank, plan.size, lots, there, shop.kerf, pieces)

    mine = cut(with_own_blanks(freed, resolved.blank, own))
    return mine if mine.capacity >= pieces else cut(freed)


def _reached(count: int, lost: Mapping[str, int]) -> tuple[int, ...]:
    """Pieces that reached each stage: the good ones and those lost there or later."""
    for stage, pieces in lost.items():
        if stage not in STAGES:
            raise BadInput(f"“{stage}” is not a stage.", hint=f"The stages are {', '.join(STAGES)}.")
        if pieces < 0:
            raise BadInput(f"{plural(pieces, 'piece')} cannot be spoiled at {stage}.", hint="Give 0 or more.")
    return tuple(count + lost_from(stage, lost) for stage in STAGES)


def with_own_blanks(shop: Shop, blank: Part, own: tuple[Claim, ...]) -> Shop:
    """The shop without measured blanks the order does not hold: it was made from those set aside for it."""
    held = {claim.lot for claim in own if claim.lot}
    kept = tuple(
        lot for lot in shop.book.lots_of(blank.name) if lot.id in held or not (held and lot.measured)
    )
    return replace(shop, book=replace(shop.book, lots={**shop.book.lots, fold(blank.name): kept}))


def held_plan(shop: Shop, resolved: ResolvedRequest, own: tuple[Claim, ...]) -> Requirements:
    """The plating whose kits the order holds, else the first accepted one."""
    held = {fold(claim.part) for claim in own}
    for plating, kits in resolved.kits:
        if any(fold(kit.name) in held for kit in kits):
            mine = [kit for kit in kits if fold(kit.name) in held]
            return requirements(shop, resolved, plating, [pick_kit(shop, mine)], 0.5)
    plating, kits = resolved.kits[0]
    return requirements(shop, resolved, plating, kits, 0.5)
