"""More on the shelf by hand: added without a parcel, found in a drawer, or back from whom it was lent to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from fractions import Fraction

from inventory.catalogue import Blank, Part
from inventory.errors import Refused
from inventory.jobs.counting.doubts import known_costs, unlikely_cost
from inventory.jobs.days.by_hand import ByHand, DocumentHead, by_hand, so_much
from inventory.jobs.days.lots import lot_called
from inventory.ledger import Line, NewLot
from inventory.ledger.bottles.containers import called
from inventory.ledger.costs import Cost, share_like, worst
from inventory.ledger.counting.differences import cost_of, found_cost
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.lending import BACK, Lending, coming_back
from inventory.ledger.shop import Shop
from inventory.measures import show_amount, show_date


def added(
    shop: Shop,
    part: Part,
    quantity: int,
    unit_cost: Fraction | None,
    *,
    new: bool = False,
    use_by: date | None = None,
    draft: Draft | None = None,
) -> ByHand:
    """So much more, got today. unit_cost: minor units a unit; None: as what is found. new: nobody knew the part."""
    if unit_cost is None:
        cost = found_cost(part.name, quantity, shop.book.lots_of(part.name), shop.prices)
    else:
        cost = Cost(cost_of(quantity, unit_cost))
    _check_size(part)
    lot = NewLot("new", part.name, "", shop.today, use_by=use_by)
    notes = (f"“{part.name}” is new.",) if new else ()
    said = DocumentHead("add", f"Add {so_much(part, quantity)}", part if new else None, notes)
    made = _more(shop, part, quantity, cost, lot, "added", said, draft)
    known = known_costs(part.name, shop.prices, shop.book)
    doubt = "" if unit_cost is None else unlikely_cost(part, unit_cost, known, shop.currency)
    return replace(made, doubt=doubt)


def found(
    shop: Shop,
    part: Part,
    quantity: int,
    *,
    lot: str = "",
    use_by: date | None = None,
    draft: Draft | None = None,
) -> ByHand:
    """So much more was there than the book knew. lot: the one it belongs to, as it is called; empty: nobody knows.

    It costs what its lot does, else what the newest lot whose cost is known does, else by the offer, else unknown.
    """
    title = f"Found {so_much(part, quantity)}"
    if lot:
        like = lot_called(shop, part, lot)
        now = NewLot("new", part.name, like.name, like.received_on, like.opened_on, like.use_by)
        now = replace(now, smallest_diameter=like.smallest_diameter, length=like.length)
        said = DocumentHead("found", f"{title}, {called(like)}")
        return _more(shop, part, quantity, share_like(like, quantity), now, "found", said, draft)
    cost = found_cost(part.name, quantity, shop.book.lots_of(part.name), shop.prices)
    _check_size(part)
    now = NewLot("new", part.name, use_by=use_by)
    return _more(shop, part, quantity, cost, now, "found", DocumentHead("found", title), draft)


def back(
    shop: Shop, part: Part, quantity: int | None, lent: Sequence[Lending], draft: Draft | None = None
) -> ByHand:
    """So much of what was lent is here again, as it went and at what it cost. quantity: None for all of it.

    Raises Refused where less is lent.
    """
    owed = coming_back(lent, part.name, sum(one.quantity for one in lent))
    most = sum(one.quantity for one in owed)
    wanted = most if quantity is None else quantity
    if not most or wanted > most:
        there = f"only {show_amount(most, part.unit)} of {part.name} is lent" if most else "none is lent"
        raise Refused(
            f"{so_much(part, wanted)} cannot come back: {there}."
            if wanted
            else f"{part.name}: none is lent.",
            hint="`kitdrawer entries --lent` lists what is. What is more than that was found: leave --back out.",
        )
    draft = draft or Draft(shop.book, shop.prices)
    since = len(draft.lines)
    mine = coming_back(owed, part.name, wanted)
    for one in mine:
        draft.add(
            [_line(part, one.quantity, Cost(one.cost, one.cost_from), BACK)], [replace(one.lot, tag="new")]
        )
    days = ", ".join(dict.fromkeys(show_date(one.document.on) for one in mine))
    left = f"{show_amount(most - wanted, part.unit)} still lent." if most > wanted else ""
    said = DocumentHead("found", f"Back: {so_much(part, wanted)}, lent {days}", notes=(left,) if left else ())
    return by_hand(shop, draft, part, said, worst(one.cost_from for one in mine), since)


def _check_size(part: Part) -> None:
    """Natural blanks are measured one by one."""
    if isinstance(part.detail, Blank) and part.detail.shape == "natural":
        raise Refused(
            f"{part.name} is measured piece by piece, so that its size has to be said.",
            hint="Give it a row of its own, with a lot, smallest diameter and length, in a counts sheet: "
            "`kitdrawer columns counts`, then `kitdrawer load`.",
        )


def _more(
    shop: Shop,
    part: Part,
    quantity: int,
    cost: Cost,
    lot: NewLot,
    word: str,
    said: DocumentHead,
    draft: Draft | None,
) -> ByHand:
    draft = draft or Draft(shop.book, shop.prices)
    since = len(draft.lines)
    draft.add([_line(part, quantity, cost, word)], [lot])
    return by_hand(shop, draft, part, said, cost.cost_from, since)


def _line(part: Part, quantity: int, cost: Cost, word: str) -> Line:
    return Line("shelf", part.name, quantity, cost.amount, lot="new", reason=word, cost_from=cost.cost_from)
