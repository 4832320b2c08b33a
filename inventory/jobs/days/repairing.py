"""A piece that came back from its customer, for a new refill say: what the repair takes leaves the shelf."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from inventory.catalogue import Order, Part, fold, state_called
from inventory.errors import BadInput, NotEnough, Refused
from inventory.jobs.days.by_hand import so_much
from inventory.jobs.stock.drawing import Drawn, Purpose, opened_words, take
from inventory.ledger import Proposal
from inventory.ledger.availability import off_in
from inventory.ledger.claims import settle
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.shop import Shop
from inventory.measures import listed, show_amount
from inventory.reports.shortfalls import Shortfall, lacking

REPAIR = "repair"
"""The word of lines by which something went into a repair."""


@dataclass(frozen=True, slots=True)
class Repair:
    """The proposed document, what it draws, and what promised orders lack by it; notes: on bottles opened."""

    proposal: Proposal
    order: Order
    drawn: tuple[Drawn, ...]
    short: tuple[Shortfall, ...] = ()
    notes: tuple[str, ...] = ()


def refill_of(shop: Shop, order: Order) -> Part:
    """The refill of an order's pieces. Raises BadInput where they have none."""
    family = shop.catalogue.family(shop.catalogue.pattern(order.pattern).family)
    name = order.refill or family.refill
    if name is None:
        raise BadInput(
            f"{order.pattern} has no refill.", hint="Say what the repair takes: --part NAME=AMOUNT."
        )
    return shop.catalogue.part(name)


def came_back(shop: Shop, order: Order, needs: Sequence[tuple[Part, int]]) -> Repair:
    """The repair draws these parts, thousandths of each. Raises Refused where nothing was handed over, NotEnough."""
    if order.state != "handed over" and not order.handed:
        state = state_called(order.state)
        raise Refused(
            f"Nothing of “{order.name}” is with a customer: it is {state}.",
            hint="`orders --all` shows what was handed over.",
        )
    draft = Draft(shop.book, shop.prices)
    drawn = tuple(_drawn(shop, draft, order, part, quantity) for part, quantity in _summed(needs))
    names = [one.part for one in drawn]
    off = off_in(draft.book, shop.catalogue.parts, shop.today)
    draft.add(settle(draft.book, {name: draft.book.balance(name).on_hand for name in names}, off=off))
    what = listed([so_much(part, quantity) for part, quantity in _summed(needs)])
    proposal = Proposal(
        "came back",
        f"Came back, {order.name}: {what}",
        shop.today,
        lines=tuple(draft.lines),
        lots=tuple(draft.lots),
        expected_version=shop.book.version,
    )
    short = lacking(draft.lines, shop.book, lambda name: shop.catalogue.part(name).unit)
    return Repair(proposal, order, drawn, short, tuple(opened_words(draft, shop.catalogue)))


def _summed(needs: Iterable[tuple[Part, int]]) -> list[tuple[Part, int]]:
    sums: dict[str, tuple[Part, int]] = {}
    for part, quantity in needs:
        key = fold(part.name)
        sums[key] = (part, sums.get(key, (part, 0))[1] + quantity)
    return list(sums.values())


def _drawn(shop: Shop, draft: Draft, order: Order, part: Part, quantity: int) -> Drawn:
    nobodys = sum(lot.quantity - lot.claimed for lot in draft.book.lots_of(part.name))
    if quantity > nobodys:
        raise NotEnough(
            f"The book has {show_amount(nobodys, part.unit)} of {part.name}, not {show_amount(quantity, part.unit)}.",
            hint="If more was there, first `kitdrawer found` it, or count the drawer: `kitdrawer count sheet`.",
        )
    return take(draft, part, quantity, Purpose(order.name, REPAIR, shop.today))
