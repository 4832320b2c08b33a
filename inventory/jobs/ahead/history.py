"""What the book says was asked for: promised orders and pieces sold on the day they were taken, pieces given away."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from inventory.catalogue import Kit, Piece, fold
from inventory.ledger.asked import AskedFor
from inventory.ledger.markets import Market
from inventory.ledger.shop import Shop

LEAST_ASKED, LEAST_DAYS = 8, 91
"""Orders, and days from the first to today, from which a past is one to go by (an assumption: a quarter of a year)."""
COUNTED = ("promised", "made", "handed over")
"""States of an order somebody asked for; what was given up or only wished for is none."""


def asked_for(
    shop: Shop,
    taken: Mapping[str, date],
    given: Iterable[tuple[str, date, int]],
    markets: Iterable[str] = (),
) -> tuple[AskedFor, ...]:
    """Oldest first. taken: by folded order the first day it stood promised or handed over; given: pieces given away.

    markets: names of places; what was sold there is a market's past and no order of a week's.

    What a session made for the stall was asked for when it was sold, so the making itself is left out: such orders
    stand in no `taken`.
    """
    places = {fold(name) for name in markets}
    found = [
        AskedFor(
            taken[key],
            order.pattern,
            order.platings[0] if order.platings else "",
            order.blank,
            order.whole,
            order.refill,
            order.customer,
            order.price,
            fold(order.customer) in places,
        )
        for key, order in shop.book.orders.items()
        if key in taken and order.state in COUNTED and order.whole
    ]
    found += [one for row in given if (one := _given(shop, *row)) is not None]
    return tuple(sorted(found, key=lambda one: one.on))


def tells_enough(asked: Sequence[AskedFor], today: date) -> bool:
    """Whether there is a past to look ahead from; a newcomer's list is today's."""
    return len(asked) >= LEAST_ASKED and (today - min(one.on for one in asked)).days >= LEAST_DAYS


def expects(asked: Sequence[AskedFor], markets: Iterable[Market], today: date) -> bool:
    """Whether there is anything to look ahead from: a past, or a market to come for which so many pieces are said."""
    return tells_enough(asked, today) or any(one.on >= today and one.expected for one in markets)


def notices(shop: Shop, taken: Mapping[str, date]) -> tuple[int, ...]:
    """Days from the promise to the day due, of every order that was promised before it was due."""
    found = [(order.due - taken[key]).days for key, order in shop.book.orders.items() if key in taken]
    return tuple(days for days in found if days > 0)


def _given(shop: Shop, part: str, on: date, pieces: int) -> AskedFor | None:
    """A finished piece that was given away."""
    piece = shop.catalogue.parts[fold(part)].detail if fold(part) in shop.catalogue.parts else None
    if not isinstance(piece, Piece):
        return None
    kit = shop.catalogue.parts.get(fold(piece.kit))
    plating = kit.detail.plating if kit is not None and isinstance(kit.detail, Kit) else ""
    return AskedFor(on, piece.pattern, plating, piece.blank, pieces, piece.refill)
