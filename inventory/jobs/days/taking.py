"""Less on the shelf by hand: given away, broken, thrown out, lent, used up.

What is set aside for an order goes last. Where it has to go too, the order that is due last waits for it again;
finished pieces that are set aside stay. What is thrown out is what is out of date, as far as that goes.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from inventory.catalogue import Part
from inventory.errors import BadInput, NotEnough
from inventory.jobs.days.by_hand import ByHand, DocumentHead, by_hand, so_much
from inventory.jobs.days.lots import lot_called
from inventory.jobs.stock.drawing import Purpose, opened_words, take
from inventory.ledger import Line, Lot
from inventory.ledger.availability import free, out_of_date
from inventory.ledger.bottles.containers import called, full_and_open, net_of
from inventory.ledger.bottles.shelf_life import gone_off
from inventory.ledger.claims import settle_lots
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.lending import LENT
from inventory.ledger.shop import Shop
from inventory.measures import listed, show_amount

_WORDS: Final = {"gave away": "given away", "broke": "broken", "threw out": "thrown out", "lent": LENT}
"""The words of the lines, where they are others."""


@dataclass(frozen=True, slots=True)
class Going:
    """What goes: thousandths (None: all that is out of date), why, in our words; to whom; the lot it is taken of."""

    quantity: int | None
    why: str
    whom: str = ""
    lot: str = ""


def taken(shop: Shop, part: Part, going: Going, draft: Draft | None = None) -> ByHand:
    """So much less. Raises NotEnough where the book has less, BadInput where nobody said how much."""
    quantity = _quantity(shop, part, going)
    of = lot_called(shop, part, going.lot) if going.lot else None
    check_there(shop, part, quantity, of)
    word = _WORDS.get(going.why, going.why)
    draft = draft or Draft(shop.book, shop.prices)
    since = len(draft.lines)
    named = [(of.id, quantity)] if of else _named(shop, part, quantity, going.why)
    chosen = draft.add(settle_lots(shop.book, _left_for_claims(shop, part, quantity, named)))
    drawn = take(draft, part, quantity, Purpose(None, word, shop.today), named)
    whom = f" to {going.whom}" if going.whom else ""
    title = f"{going.why.capitalize()} {so_much(part, quantity)}{whom}"
    notes = (
        *_chosen_told(shop, part, chosen),
        *_lots_told(shop, part, draft.lines[since:]),
        *opened_words(draft, shop.catalogue),
    )
    return by_hand(shop, draft, part, DocumentHead("took", title, notes=notes), drawn.cost_from, since)


def _quantity(shop: Shop, part: Part, going: Going) -> int:
    if going.quantity is not None:
        return going.quantity
    old = sum(lot.quantity for lot in out_of_date(shop.book, part, shop.today))
    if going.why != "threw out" or not old:
        why = f"Nothing of {part.name} is out of date. " if going.why == "threw out" else ""
        raise BadInput(
            f"{why}How much of {part.name} went?", hint="Write it after the part: 2, 50 ml, 1 bottle."
        )
    return old


def check_there(shop: Shop, part: Part, quantity: int, of: Lot | None) -> None:
    """Raises NotEnough where the book has less, of the part or of one lot; of finished pieces, where less is free."""
    there = of.quantity if of else shop.book.balance(part.name).on_hand
    where = f"{called(of)} of {part.name}" if of else part.name
    if quantity > there:
        raise NotEnough(
            f"The book has {show_amount(there, part.unit)} of {where}, not {show_amount(quantity, part.unit)}.",
            hint="If more was there, first `kitdrawer found` it, or count the drawer: `kitdrawer count sheet`.",
        )
    nobodys = free(shop.book, part, shop.today)
    if part.kind == "piece" and quantity > nobodys:
        orders = listed(dict.fromkeys(claim.order for claim in shop.book.claims_on(part.name)))
        raise NotEnough(
            f"Only {show_amount(nobodys, part.unit)} of “{part.name}” is free; the rest is set aside for {orders}.",
            hint="Take fewer; `kitdrawer orders` shows what waits for them.",
        )


def _named(shop: Shop, part: Part, quantity: int, why: str) -> list[tuple[int, int]]:
    """Lots that go before any other, with how much of each, and set-aside ones where nothing else is left."""
    lots = shop.book.lots_of(part.name)
    first: list[tuple[int, int]] = []
    if why == "threw out":
        first = [(lot.id, lot.quantity - lot.claimed) for lot in lots if gone_off(part, lot, shop.today)]
    elif why in ("gave away", "lent") and (net := net_of(part)) and quantity % net == 0:
        sealed = [lot for lot in lots if lot.opened_on is None and not gone_off(part, lot, shop.today)]
        first = [
            (lot.id, min(net * full_and_open(part, lot)[0], lot.quantity - lot.claimed)) for lot in sealed
        ]
    nobodys = sum(lot.quantity - lot.claimed for lot in lots)
    return [*((lot, most) for lot, most in first if most > 0), *_claimed(lots, quantity - nobodys)]


def _claimed(lots: tuple[Lot, ...], wanted: int) -> list[tuple[int, int]]:
    """So much of what is claimed by the very lot: all that is nobody's goes as well."""
    found = []
    for lot in lots:
        if (some := min(lot.claimed, wanted)) > 0:
            found.append((lot.id, some + lot.quantity - lot.claimed))
            wanted -= some
    return found


def _left_for_claims(shop: Shop, part: Part, quantity: int, named: list[tuple[int, int]]) -> dict[int, int]:
    """What each named lot holds when its share has gone, by number."""
    left: dict[int, int] = {lot.id: lot.quantity for lot in shop.book.lots_of(part.name)}
    for lot, most in named:
        gone = min(quantity, most, left[lot])
        left[lot] -= gone
        quantity -= gone
    return {lot: left[lot] for lot, _ in named}


def _chosen_told(shop: Shop, part: Part, lines: Iterable[Line]) -> Iterator[str]:
    """A word on every very lot that an order loses: what comes in its place was not looked at for it."""
    known = {lot.id: lot for lot in shop.book.lots_of(part.name)}
    for line in lines:
        if line.account == "claim" and isinstance(line.lot, int):
            lost = f"“{called(known[line.lot])}” was chosen for “{line.order}”"
            yield f"{lost}: whether another fits was not looked at. Release it and promise it again to have it chosen."


def _lots_told(shop: Shop, part: Part, lines: Iterable[Line]) -> tuple[str, ...]:
    """A word on every lot that is special: out of date, opened, named."""
    known = {lot.id: lot for lot in shop.book.lots_of(part.name)}
    gone: Counter[int] = Counter()
    for line in lines:
        if line.account == "shelf" and isinstance(line.lot, int) and line.lot in known:
            gone[line.lot] -= line.quantity
    told = []
    for number, quantity in gone.items():
        lot = known[number]
        if lot.name or lot.opened_on or gone_off(part, lot, shop.today):
            old = ", out of date" if gone_off(part, lot, shop.today) else ""
            told.append(f"From “{called(lot)}”: {show_amount(quantity, part.unit)}{old}.")
    return tuple(told)
