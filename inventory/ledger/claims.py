"""Setting aside: claims follow the shelf, so that they never exceed what is there.

When stock comes, it goes to the orders that wait for it, earliest due first; what is out of date goes to nobody. When
stock turns out to be less than claimed, the order due last waits again. Quantities are thousandths of the part's unit.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date

from inventory.catalogue import fold
from inventory.ledger.book import Account, Book, Claim
from inventory.ledger.documents.lines import Line

ClaimKey = tuple[str, str, Account, int | str | None, int | str | None]
"""Folded order and part, account, lot, purchase: what makes claims add up to one."""


def claim_key(one: Claim | Line) -> ClaimKey:
    """What a claim, or a line of one, adds up with."""
    return fold(one.order or ""), fold(one.part), one.account, one.lot, one.purchase


def claims_of(book: Book, order: str) -> tuple[Claim, ...]:
    """Everything set aside or still to buy for one order."""
    return book.claims_of(order)


def let_go(book: Book, order: str) -> tuple[Line, ...]:
    """Lines that end every claim of an order."""
    return tuple(
        Line(
            claim.account,
            claim.part,
            -claim.quantity,
            lot=claim.lot,
            purchase=claim.purchase,
            order=claim.order,
            reason="let go",
        )
        for claim in claims_of(book, order)
    )


def settle(
    book: Book,
    on_hand: Mapping[str, int],
    *,
    without: str | None = None,
    off: Callable[[str], int] = lambda _: 0,
) -> tuple[Line, ...]:
    """Claim lines that bring claims in step with the shelf.

    on_hand: for each part that moves, what the shelf will hold afterwards. without: an order whose claims end in the
    same document. off: how much of a part is out of date then (see `availability.gone_of`).
    """
    gone = fold(without) if without else None
    lines: list[Line] = []
    for part, there in on_hand.items():
        claims = [claim for claim in book.claims_on(part) if fold(claim.order) != gone]
        claims.sort(key=lambda claim: _due(book, claim))
        held = sum(claim.quantity for claim in claims if claim.account == "claim")
        if held > there:
            lines += _give_back(claims, held - there)
        else:
            lines += _hand_out(claims, max(there - off(part) - held, 0))
    return tuple(lines)


def settle_lots(book: Book, lots: Mapping[int, int]) -> tuple[Line, ...]:
    """Claim lines for claims on very lots whose quantity (by lot id, afterwards) no longer covers them."""
    lines: list[Line] = []
    left = dict(lots)
    for claim in sorted(book.claims, key=lambda claim: _due(book, claim)):
        if claim.account != "claim" or claim.lot not in left:
            continue
        over = max(claim.quantity - left[claim.lot], 0)
        left[claim.lot] -= claim.quantity - over
        if over:
            lines += _to_buy(claim, over)
    return tuple(lines)


def with_lines(claims: Iterable[Claim], lines: Iterable[Line]) -> tuple[Claim, ...]:
    """The claims as they stand after some claim lines; emptied ones drop out."""
    sums: dict[ClaimKey, int] = {}
    first: dict[ClaimKey, Claim] = {}
    for one in [*claims, *(_as_claim(line) for line in lines if line.order is not None)]:
        key = claim_key(one)
        sums[key] = sums.get(key, 0) + one.quantity
        first.setdefault(key, one)
    return tuple(
        Claim(one.order, one.part, one.account, sums[key], one.lot, one.purchase)
        for key, one in first.items()
        if sums[key]
    )


def _as_claim(line: Line) -> Claim:
    lot = line.lot if isinstance(line.lot, int) else None
    purchase = line.purchase if isinstance(line.purchase, int) else None
    return Claim(line.order or "", line.part, line.account, line.quantity, lot, purchase)


def _due(book: Book, claim: Claim) -> tuple[date, str]:
    order = book.orders.get(fold(claim.order))
    return (order.due if order else date.max, claim.order)


def _hand_out(claims: list[Claim], free: int) -> list[Line]:
    lines: list[Line] = []
    for claim in claims:
        got = min(free, claim.quantity) if claim.account == "to buy" else 0
        if got:
            free -= got
            lines.append(Line("to buy", claim.part, -got, order=claim.order, reason="came in"))
            lines.append(Line("claim", claim.part, got, order=claim.order, reason="came in"))
    return lines


def _give_back(claims: list[Claim], over: int) -> list[Line]:
    lines: list[Line] = []
    for claim in reversed(claims):
        back = min(over, claim.quantity) if claim.account == "claim" else 0
        if back:
            over -= back
            lines += _to_buy(claim, back)
    return lines


def _to_buy(claim: Claim, quantity: int) -> list[Line]:
    return [
        Line("claim", claim.part, -quantity, lot=claim.lot, order=claim.order, reason="not there"),
        Line("to buy", claim.part, quantity, order=claim.order, reason="not there"),
    ]
