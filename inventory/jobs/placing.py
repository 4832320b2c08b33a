"""Buying: a list becomes due-in, and the promises that wait for it claim it before it arrives."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction
from math import ceil

from inventory.catalogue import fold
from inventory.errors import BadInput, Place
from inventory.jobs.overdue import movable
from inventory.jobs.shop import Shop
from inventory.ledger import Claim, Line, NewPurchase, Proposal, fingerprint
from inventory.ledger.lateness import counted_on


@dataclass(frozen=True, slots=True)
class Placed:
    """One line that was ordered: packs of `pack` thousandths at `price` a pack, minor units of the supplier's coin."""

    supplier: str
    part: str
    pack: int
    packs: int
    price: int
    code: str = ""
    place: Place = field(default_factory=Place, compare=False)

    @property
    def quantity(self) -> int:
        """Thousandths of the part's unit."""
        return self.pack * self.packs

    @property
    def cost(self) -> int:
        """Minor units of the supplier's currency."""
        return self.price * self.packs


def place(shop: Shop, rows: Sequence[Placed]) -> Proposal:
    """The document that turns ordered lines into due-in.

    Raises BadInput where a line orders nothing, its supplier has no lead time, or the exchange rate is not known.
    """
    if not rows:
        raise BadInput("There is nothing to order.", hint="`kitdrawer shopping` shows what is wanted.")
    _check(shop, rows)
    purchases, lines = [], []
    waiting = _Waiting(shop)
    for number, row in enumerate(rows, start=1):
        supplier = shop.catalogue.supplier(row.supplier)
        part = shop.catalogue.part(row.part)
        tag = f"purchase {number}"
        expected = shop.today + timedelta(days=supplier.lead_days) if supplier.lead_days is not None else None
        cost = ceil(row.cost * (shop.rate(supplier.currency) or Fraction(0)))
        purchases.append(NewPurchase(tag, supplier.name, part.name, expected, row.code, row.pack))
        lines.append(Line("due", part.name, row.quantity, cost, purchase=tag, reason="ordered"))
        lines += waiting.claim(part.name, row.quantity, tag, expected)
    content = sorted((fold(r.supplier), fold(r.part), r.code, r.pack, r.packs, r.price) for r in rows)
    suppliers = ", ".join(dict.fromkeys(purchase.supplier for purchase in purchases))
    return Proposal(
        "placed",
        f"Order from {suppliers}",
        shop.today,
        lines=tuple(lines),
        purchases=tuple(purchases),
        fingerprint=fingerprint("placed", shop.today.isoformat(), content),
        basis=shop.book.version,
    )


def _check(shop: Shop, rows: Iterable[Placed]) -> None:
    wrong = []
    for row in rows:
        if row.packs < 1 or row.pack < 1:
            wrong.append((row, "orders nothing: packs and pack are whole numbers above 0"))
            continue
        shop.catalogue.part(row.part)
        supplier = shop.catalogue.supplier(row.supplier)
        if shop.rate(supplier.currency) is None:
            wrong.append((row, f"no exchange rate for {supplier.currency} is known"))
    if wrong:
        first, why = wrong[0]
        raise BadInput(
            f"{first.part} from {first.supplier}: {why}.",
            hint="Nothing was ordered. Mend the line; a rate is said with --rate USD=0.92.",
            where=[
                Place(r.place.file, r.place.tab, r.place.row, r.place.column, r.part, problem)
                for r, problem in wrong
            ],
        )


class _Waiting:
    """What promised orders still have to buy, or wait for in vain, handed out earliest due first."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self.late = {row.purchase: row for row in shop.book.due}
        self.claims = sorted(
            movable(shop), key=lambda claim: (shop.book.orders[fold(claim.order)].due, claim.order)
        )
        self.left = [claim.quantity for claim in self.claims]

    def claim(self, part: str, quantity: int, tag: str, expected: date | None) -> list[Line]:
        lines = []
        for at, claim in enumerate(self.claims):
            if fold(claim.part) != fold(part) or not self._sooner(claim, expected):
                continue
            got = min(self.left[at], quantity)
            if got:
                self.left[at] -= got
                quantity -= got
                reason = "ordered" if claim.purchase is None else "ordered anew"
                lines += [
                    Line(
                        claim.account, part, -got, order=claim.order, purchase=claim.purchase, reason=reason
                    ),
                    Line("due claim", part, got, order=claim.order, purchase=tag, reason=reason),
                ]
        return lines

    def _sooner(self, claim: Claim, expected: date | None) -> bool:
        """Whether a new parcel is expected before the late one the claim waits for, if it waits for one."""
        if claim.purchase is None:
            return True
        counted = counted_on(self.shop.book, self.late[claim.purchase], self.shop.today)
        return expected is not None and counted is not None and expected < counted
