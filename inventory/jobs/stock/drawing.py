"""Taking parts off the shelf for pieces: first in, first out, named lots first, and what the book lacks is found."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from inventory.catalogue import Catalogue, Part, fold
from inventory.ledger import Claim, Line, Lot
from inventory.ledger.availability import free
from inventory.ledger.bottles.containers import opened_first, to_open
from inventory.ledger.bottles.shelf_life import gone_off, use_by
from inventory.ledger.costs import SAID, UNKNOWN, Cost, Offered, share_like, unsaid, worst
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.fifo import Take, draw
from inventory.ledger.shop import Shop
from inventory.measures import show_date


@dataclass(frozen=True, slots=True)
class Drawn:
    """One part that went in: thousandths of its unit, its cost in minor units, and how much the book did not have.

    cost_from: how far the cost is known (`ledger.costs`); unknown where that of any of it is.
    """

    part: str
    unit: str
    quantity: int
    cost: int
    found: int
    cost_from: int = SAID


@dataclass(frozen=True, slots=True)
class Purpose:
    """What something is drawn for: the order (None: nobody's), the word of the line, the stage, the day."""

    order: str | None
    reason: str
    on: date
    stage: str = ""


def good_first(part: Part, lots: Iterable[Lot], on: date) -> tuple[Lot, ...]:
    """First in, first out; the open container before a full one, and what has gone off when nothing else is left.

    Measured one-offs come after what is of the catalogue's size: who cuts one of those says which.
    """
    return tuple(sorted(opened_first(lots), key=lambda lot: (gone_off(part, lot, on), lot.measured)))


def own_lots(claims: Iterable[Claim], part: str) -> tuple[tuple[int, int], ...]:
    """The very lots set aside by these claims, with how much of each."""
    key = fold(part)
    held = [(claim.lot, claim.quantity) for claim in claims if claim.lot and fold(claim.part) == key]
    return tuple(sorted(held))  # claims come in any order; what is drawn first must not depend on it


def take(
    draft: Draft, part: Part, quantity: int, purpose: Purpose, named: Sequence[tuple[int, int]] = ()
) -> Drawn:
    """Draw so many thousandths of a part. named: lots (with how much of each) that are used before any other.

    What the book does not hold is found: it costs what the latest fitting offer says, else as the lot drawn last.
    """
    left, cost, drawn = quantity, 0, list[Lot]()
    for lot, most in (*named, (None, quantity)):
        for one in _takes(draft, part, min(left, most), purpose, lot):
            left -= one.quantity
            cost += one.cost
            drawn.append(one.lot)
    marks = [lot.cost_from for lot in drawn]
    if left:
        priced = _found_cost(draft, part, left, drawn)
        from inventory.ledger import NewLot  # few draw more than there is

        found = NewLot("found", part.name, "found", purpose.on)
        there_now = _line(part, purpose, left, priced.amount, "found")
        there_now = replace(there_now, reason="found", cost_from=priced.cost_from)
        draft.add([there_now, _line(part, purpose, -left, -priced.amount, "found")], [found])
        cost, marks = cost + priced.amount, [*marks, priced.cost_from]
    return Drawn(part.name, part.unit, quantity, cost, left, worst(marks))


def would_cost(
    shop: Shop, part: Part, quantity: int, named: Sequence[tuple[int, int]], rest: Offered
) -> Drawn:
    """What `take` would say it cost, were it drawn now from what is free: the same computation, nothing written.

    rest: what it costs where the free stock does not go so far (else: as the lot drawn last).
    """
    key = fold(part.name)
    good = [lot for lot in shop.book.lots_of(part.name) if not gone_off(part, lot, shop.today)]
    if any(
        lot.id < 0 for lot in good
    ):  # a draft's own new lots, whose numbers only it knows: all are numbered anew
        numbers = {lot.id: at for at, lot in enumerate(good, 1)}
        good = [replace(lot, id=numbers[lot.id]) for lot in good]
        named = [(numbers[lot], most) for lot, most in named if lot in numbers]
    draft = Draft(replace(shop.book, balances={}, lots={key: tuple(good)}, claims=(), due=()), rest)
    purpose = Purpose(None, "used", shop.today)
    there = min(quantity, free(shop.book, part, shop.today))
    drawn = take(draft, part, there, purpose, named) if there else Drawn(part.name, part.unit, 0, 0, 0)
    if there == quantity:
        return drawn
    priced = _found_cost(draft, part, quantity - there, good)
    return Drawn(
        part.name,
        part.unit,
        quantity,
        drawn.cost + priced.amount,
        drawn.found + quantity - there,
        worst([drawn.cost_from, priced.cost_from]),
    )


def _found_cost(draft: Draft, part: Part, quantity: int, drawn: Sequence[Lot]) -> Cost:
    priced = unsaid(part.name, quantity, draft.offered)
    known = [lot for lot in drawn if lot.cost_from != UNKNOWN]
    return share_like(known[-1], quantity) if priced.cost_from == UNKNOWN and known else priced


def _takes(draft: Draft, part: Part, quantity: int, purpose: Purpose, named: int | None) -> Iterator[Take]:
    """Each lot's share, written down; a full container is opened before anything is taken from it."""
    while quantity > 0:
        lots = draft.book.lots_of(part.name)
        if named is None:
            there = [lot for lot in good_first(part, lots, purpose.on) if lot.quantity > lot.claimed]
        else:
            there = [lot for lot in lots if lot.id in (named, *draft.opened.get(named, ()))]
            there = list(opened_first(there))
        if not there:
            return
        lot = there[0]
        free = lot.quantity - (0 if named is not None else lot.claimed)
        asked = min(quantity, to_open(part, lot) or free, free)
        if asked < (opens := min(to_open(part, lot), free)):  # one that is used up at once needs no day
            lot = draft.broach(lot, opens, purpose.on)
        (one,), _ = draw([lot], asked, named=lot.id)
        draft.add([_line(part, purpose, -one.quantity, -one.cost, lot.id)])
        quantity -= one.quantity
        yield one


def _line(part: Part, purpose: Purpose, quantity: int, cost: int, lot: int | str) -> Line:
    return Line(
        "shelf",
        part.name,
        quantity,
        cost,
        lot=lot,
        order=purpose.order,
        reason=purpose.reason,
        stage=purpose.stage,
    )


def opened_words(draft: Draft, catalogue: Catalogue) -> list[str]:
    """A sentence for every container that keeps only so long from now on: this document opened it."""
    said = []
    for number in (one for several in draft.opened.values() for one in several):
        part = catalogue.part(draft.lots[-number - 1].part)
        lot = next((one for one in draft.book.lots_of(part.name) if one.id == number), None)
        last = use_by(part, lot) if lot is not None else None
        if lot is not None and lot.opened_on and last is not None:
            said.append(
                f"{part.name}: a container was opened on {show_date(lot.opened_on)}; best before {show_date(last)}."
            )
    return said


def shop_of(shop: Shop, draft: Draft) -> Shop:
    """The shop as the draft leaves it."""
    return replace(shop, book=draft.book)
