"""One line of a document: who only draws, sets aside or asks what that would be needs no more of it."""

from __future__ import annotations

from dataclasses import dataclass

from inventory.ledger.book import Account


@dataclass(frozen=True, slots=True)
class Line:
    """One movement: so much of one part on one account.

    quantity: thousandths of the part's unit, positive in, negative out; cost: minor units with the same sign.
    lot, purchase: the id of one in the book, or the tag of one in this document. order: its name.
    reason: a short word (opening, receipt, used, lost, found, counted, claimed, …).
    cost_from: what it adds to the lot's mark of where its cost comes from (`ledger.costs`).
    """

    account: Account
    part: str
    quantity: int
    cost: int = 0
    lot: int | str | None = None
    purchase: int | str | None = None
    order: str | None = None
    reason: str = ""
    stage: str = ""
    cost_from: int = 0
