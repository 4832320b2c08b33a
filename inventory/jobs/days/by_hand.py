"""What one line typed by hand changes: a part, how much of it, what that costs, and what orders get or lack by it."""

from __future__ import annotations

from dataclasses import dataclass

from inventory.catalogue import Part, fold
from inventory.errors import BadInput, UnknownName
from inventory.ledger import DocumentKind, Line, Proposal
from inventory.ledger.availability import free, off_in
from inventory.ledger.claims import settle
from inventory.ledger.costs import SAID
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.shop import Shop
from inventory.measures import listed, show_amount
from inventory.reports.day_words import pieces_called
from inventory.reports.shortfalls import Shortfall, lacking


@dataclass(frozen=True, slots=True)
class ByHand:
    """The proposed document. quantity: thousandths that come (negative: go); cost: minor units of them, never negative.

    cost_from: how far that is known (`ledger.costs`); on_hand, free: afterwards; gained: what orders that waited get;
    short: what they lack anew; notes: what else is to be known; doubt: why its price is asked about.
    """

    proposal: Proposal
    part: Part
    quantity: int
    cost: int
    cost_from: int
    on_hand: int
    free: int
    gained: tuple[Line, ...] = ()
    short: tuple[Shortfall, ...] = ()
    notes: tuple[str, ...] = ()
    doubt: str = ""


@dataclass(frozen=True, slots=True)
class DocumentHead:
    """What the document is called and does: its kind, its title; new: a part that comes into being with it."""

    kind: DocumentKind
    title: str
    new: Part | None = None
    notes: tuple[str, ...] = ()


def by_hand(
    shop: Shop, draft: Draft, part: Part, said: DocumentHead, cost_from: int = SAID, since: int = 0
) -> ByHand:
    """The draft as a document, with the claims brought in step with the shelf. since: its lines before were others'."""
    off = off_in(draft.book, {**shop.catalogue.parts, fold(part.name): part}, shop.today)
    draft.add(settle(draft.book, {part.name: draft.book.balance(part.name).on_hand}, off=off))
    lines = tuple(draft.lines[since:])
    # an opened container only moves its content, so that it adds up to nothing here
    mine = [line for line in lines if line.account == "shelf" and line.part == part.name]
    balance = draft.book.balance(part.name)
    return ByHand(
        Proposal(
            said.kind,
            said.title,
            shop.today,
            lines=lines,
            lots=tuple(draft.lots),
            expected_version=shop.book.version,
            parts=(said.new,) if said.new else (),
        ),
        part,
        sum(line.quantity for line in mine),
        abs(sum(line.cost for line in mine)),
        cost_from,
        balance.on_hand,
        free(draft.book, part, shop.today),
        tuple(line for line in lines if line.account == "claim" and line.quantity > 0),
        lacking(lines, shop.book, lambda _: part.unit),
        said.notes,
    )


def so_much(part: Part, quantity: int) -> str:
    """`2 × Dunlin kit chrome`, `50 ml of CA thin`."""
    return f"{show_amount(quantity, part.unit)} {'×' if part.unit == 'piece' else 'of'} {part.name}"


def part_called(shop: Shop, text: str) -> Part:
    """The part of that name, or the one finished piece whose name has all these words.

    Raises UnknownName, BadInput where several pieces are meant.
    """
    try:
        return shop.catalogue.part(text)
    except UnknownName:
        found = pieces_called(shop.catalogue, text)
        there = [one for one in found if shop.book.balance(one.name).on_hand] or found
        if len(there) == 1:
            return there[0]
        if not there:
            raise
    names = [f"“{one.name}”" for one in there]
    raise BadInput(f"“{text}” can be {listed(names)}.", hint=f"Write the whole name, as {names[0]}.")
