"""Deliveries, line by line: partial, over-delivered, substituted, damaged, at another price.

Postage is shared over the lots by value, by the largest remainders, so that cost stays exact; what arrives goes to the
claims that wait for it, earliest due first; prices seen become the offers' prices with their date.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from inventory.catalogue import Catalogue, Offer, Part, PriceStep, fold
from inventory.errors import BadInput, Place, Refused
from inventory.jobs.counting.doubts import cost_doubt, known_costs
from inventory.ledger import DueIn, Intake, Line, Lot, NewLot, Proposal, apportion, fingerprint, share
from inventory.ledger.availability import gone_of
from inventory.ledger.claims import settle, with_lines
from inventory.ledger.costs import BY_OFFER, POSTAGE, UNKNOWN, Cost, unsaid
from inventory.ledger.shop import Shop
from inventory.measures import currency, listed, show_amount, show_date, show_money
from inventory.reports.purchasing.parcels import Arrived, Delivery


@dataclass(frozen=True, slots=True)
class BookedParcel:
    """The proposed document, offers whose price was seen, and sentences on what is not as ordered.

    doubts: lines whose price is asked about before they are booked.
    """

    proposal: Proposal
    intake: Intake
    notes: tuple[str, ...]
    doubts: tuple[Place, ...] = ()


def arrive(shop: Shop, delivery: Delivery) -> BookedParcel:
    """The document for one delivery. Raises BadInput or Refused with the line's place; then nothing is booked."""
    supplier = shop.catalogue.supplier(delivery.supplier)
    rate = shop.rate(supplier.currency)
    if rate is None:
        raise BadInput(
            f"No exchange rate for {supplier.currency} is known.",
            hint=f"Say it: --rate {supplier.currency}=0.92.",
        )
    if delivery.on > shop.today:
        raise BadInput(
            f"{show_date(delivery.on)} is still to come; today is {show_date(shop.today)}.",
            hint="Give the day it came; without one it is today.",
        )
    if not delivery.lines:
        raise BadInput(
            "Nothing arrived.", hint="Name what came, or take a delivery sheet from `due-in --save`."
        )
    work = _Work(shop, delivery, supplier.name, rate)
    for line in delivery.lines:
        work.take(line)
    work.spread_postage()
    work.settle()
    return work.result()


class _Work:
    """One delivery on its way into a document."""

    def __init__(self, shop: Shop, delivery: Delivery, supplier: str, rate: Fraction) -> None:
        self.shop, self.delivery, self.supplier, self.rate = shop, delivery, supplier, rate
        self.due = {row.purchase: row for row in shop.book.due if fold(row.supplier) == fold(supplier)}
        self.goods: list[tuple[Arrived, Cost]] = []
        self.lines: list[Line] = []
        self.claims: list[Line] = []
        self.offers: dict[str, tuple[Offer, ...]] = {}
        self.notes: list[str] = [*delivery.announced, *delivery.understood]
        self.touched: dict[str, None] = {}
        self.doubts: list[Place] = []
        self.lots: list[NewLot] = []
        self.costs: list[int] = []

    def take(self, line: Arrived) -> None:
        """One line: what it clears of the due-in, what it costs, whose claims it serves."""
        part = self.shop.catalogue.part(line.part)
        ordered = self.shop.catalogue.part(line.instead_of) if line.instead_of else part
        came = line.good + line.damaged
        if line.good < 0 or line.damaged < 0 or not (came or line.rest_cancelled):
            raise BadInput(
                f"{part.name}: nothing came.",
                hint="Leave the line out, or say how much arrived.",
                where=[line.place],
            )
        settled = self._settled(ordered, part, line)
        cleared, agreed, packs = self._clear(ordered.name, settled, line)
        over = settled - cleared
        known = cleared or (line.instead_of and self._still(ordered.name))
        if came and not known and not self.delivery.unasked:
            raise Refused(
                f"{ordered.name} is not due in from {self.supplier}.",
                hint="Was this delivery booked before? Take it all the same with --not-ordered.",
                where=[line.place],
            )
        if over and cleared:
            self.notes.append(f"{part.name}: {show_amount(over, part.unit)} more than ordered.")
        if line.instead_of:
            what = (
                f"and settles {show_amount(cleared, ordered.unit)} of it"
                if line.settles
                else "and settles none of it"
            )
            self.notes.append(f"{part.name} came in place of {ordered.name} {what}.")
            self.touched[ordered.name] = None
        pack = self._pack(line, packs)
        if part.unit != ordered.unit and cleared:
            cleared = came  # what was agreed is for all that came
        cost = self._cost(line, came, cleared, agreed, pack)
        if came:
            self.goods.append((line, cost))
            self._doubt(part, line, Fraction(1000 * cost.amount, came))
            self._see_price(part.name, line, Fraction(agreed, cleared) if cleared else None, pack)

    def _settled(self, ordered: Part, part: Part, line: Arrived) -> int:
        """How much of what was ordered a line settles: as much as came, or all where it goes by another unit.

        Raises BadInput where something else came and nobody said whether it settles what was ordered.
        """
        if line.instead_of and line.settles is None:
            raise BadInput(
                f"{part.name} came in place of {ordered.name}: does it settle the order, or is that still to come?",
                hint="Say --settles or --still-due; on a sheet write yes or no under “settles it”.",
                where=[line.place],
            )
        if line.instead_of and not line.settles:
            return 0
        return line.good + line.damaged if part.unit == ordered.unit else self._still(ordered.name)

    def _still(self, part: str) -> int:
        """What is still to come of a part."""
        return sum(row.quantity for row in self.due.values() if fold(row.part) == fold(part))

    def _doubt(self, part: Part, line: Arrived, unit_cost: Fraction) -> None:
        """Ask about a price that was seen and is far from what is known of the part."""
        if line.price is None:
            return
        known = known_costs(part.name, self.shop.prices, self.shop.book)
        if why := cost_doubt(part, unit_cost, known, self.shop.currency):
            self.doubts.append(replace(line.place, column="price", said="", problem=f"{part.name}: {why}"))

    def _clear(self, part: str, came: int, line: Arrived) -> tuple[int, int, frozenset[int]]:
        """Take what came off the due-in; how much, at what agreed cost, and the packs it was ordered in.

        What was ordered in the line's own pack goes first, then the earliest expected.
        """
        cleared = agreed = 0
        packs = set()
        good = 0 if line.instead_of else line.good
        rows = [row for row in self.due.values() if fold(row.part) == fold(part) and row.quantity]
        if line.pack in {row.pack for row in rows}:
            rows.sort(key=lambda row: row.pack != line.pack)
            if line.rest_cancelled:  # of this pack: another row of the sheet speaks of the others
                rows = [row for row in rows if row.pack == line.pack]
        for row in rows:
            taken = min(row.quantity, came - cleared)
            rest = row.quantity - taken if line.rest_cancelled else 0
            if not taken + rest:
                continue
            cost = share(row.quantity, row.cost, taken)
            gone = share(row.quantity, row.cost, taken + rest)
            cleared, agreed = cleared + taken, agreed + cost
            packs |= {row.pack} if taken else set()
            self.lines.append(
                Line("due", row.part, -(taken + rest), -gone, purchase=row.purchase, reason=_why(taken, rest))
            )
            served = min(taken, good)
            good -= served
            left = row.quantity - taken - rest
            self._move_claims(row, served, left)
            self.due[row.purchase] = replace(row, quantity=left, cost=row.cost - gone)
            self.touched[part] = None
            if rest:
                self.notes.append(f"{part}: the rest will not come.")
        return cleared, agreed, frozenset(packs)

    def _move_claims(self, row: DueIn, served: int, left: int) -> None:
        """Claims on a due-in: the earliest get what came, the last ones wait anew where too little is still to come."""
        now = with_lines(self.shop.book.claims, self.claims)
        claims = [claim for claim in now if claim.account == "due claim" and claim.purchase == row.purchase]
        orders = self.shop.book.orders
        claims.sort(key=lambda claim: (orders[fold(claim.order)].due, claim.order))
        for claim in claims:
            got = min(claim.quantity, served)
            served -= got
            waits = min(claim.quantity - got, left)
            left -= waits
            lost = claim.quantity - got - waits
            for account, quantity in (("claim", got), ("to buy", lost)):
                if quantity:
                    self.claims.append(
                        Line(
                            "due claim",
                            claim.part,
                            -quantity,
                            purchase=row.purchase,
                            order=claim.order,
                            reason="arrived" if account == "claim" else "not coming",
                        )
                    )
                    self.claims.append(
                        Line(
                            "claim" if account == "claim" else "to buy",
                            claim.part,
                            quantity,
                            order=claim.order,
                            reason="arrived" if account == "claim" else "not coming",
                        )
                    )

    def _cost(self, line: Arrived, came: int, cleared: int, agreed: int, pack: int) -> Cost:
        """At the price seen, else as agreed, more of it at the same cost a unit, else by the offer, else unknown.

        Where nothing was ordered, or at a price nobody knew, an offer of this supplier goes before those of others.
        """
        if line.price is not None:
            return Cost(round(Fraction(came, pack) * line.price * self.rate))
        if agreed:
            return Cost(round(Fraction(agreed * came, cleared)))
        own = replace(self.shop.prices, offers={fold(line.part): self._offers(line.part)})
        found = unsaid(line.part, came, own)
        return found if found.cost_from != UNKNOWN else unsaid(line.part, came, self.shop.prices)

    def _pack(self, line: Arrived, ordered: frozenset[int]) -> int:
        """Thousandths in the pack the price is for: the line's own, else as it was ordered, offered, else one unit.

        Raises BadInput for a price where what came was ordered in several packs.
        """
        if line.pack is not None:
            return line.pack
        if len(ordered) > 1 and line.price is not None and not line.instead_of:
            unit = self.shop.catalogue.part(line.part).unit
            packs = " and ".join(show_amount(pack, unit) for pack in sorted(ordered))
            raise BadInput(
                f"{line.part} was ordered in packs of {packs}: a price alone does not say of which.",
                hint="Say how much came in each pack: a row a pack on the sheet, or --pack.",
                where=[line.place],
            )
        offers = [offer.pack for offer in self._offers(line.part)]
        bought = [] if line.instead_of else sorted(ordered)
        return [*bought, *offers, 1000][0]

    def _offers(self, part: str) -> list[Offer]:
        return [o for o in self.shop.offers.get(fold(part), ()) if fold(o.supplier) == fold(self.supplier)]

    def _see_price(self, part: str, line: Arrived, agreed: Fraction | None, pack: int) -> None:
        """The price seen goes into the step that was agreed on, and the day is noted.

        agreed: shop minor units for a thousandth; None where nothing was ordered: then the step the packs reach.
        """
        mine = next((offer for offer in self._offers(part) if offer.pack == pack), None)
        if line.price is None or mine is None:
            return
        packs = max((line.good + line.damaged) // mine.pack, 1)
        reached = [step for step in mine.steps if step.from_packs <= packs] or [mine.steps[0]]
        was = reached[-1]
        if agreed is not None:
            paid = agreed * mine.pack / self.rate
            was = min(mine.steps, key=lambda step: abs(step.price - paid))
        if was.price != line.price:
            coin = currency(self.shop.catalogue.supplier(self.supplier).currency or self.shop.currency.code)
            self.notes.append(
                f"{part}: the price was {show_money(was.price, coin)} and is {show_money(line.price, coin)} a pack."
            )
        steps = tuple(PriceStep(s.from_packs, line.price) if s == was else s for s in mine.steps)
        seen = replace(mine, steps=steps, seen_on=self.delivery.on)
        self.offers[fold(part)] = (*self.offers.get(fold(part), ()), seen)

    def spread_postage(self) -> None:
        """Lots with their goods' cost and their share of the postage, by value (by quantity where nothing cost)."""
        postage = round(self.delivery.postage * self.rate)
        values = [cost.amount for _, cost in self.goods]
        weights = values if sum(values) else [line.good + line.damaged for line, _ in self.goods]
        for (line, cost), part in zip(self.goods, apportion(postage, weights), strict=True):
            self._lot(line, cost, part)
        self._tell_unsaid()

    def _tell_unsaid(self) -> None:
        for mark, told in (
            (BY_OFFER, "no price was agreed or seen; the cost is what the latest offer says."),
            (UNKNOWN, "what it cost is unknown: no price was agreed or seen, and no offer says one."),
        ):
            names = dict.fromkeys(line.part for line, cost in self.goods if cost.cost_from == mark)
            self.notes += [f"{listed(names)}: {told}"] if names else []

    def _lot(self, line: Arrived, cost: Cost, postage: int) -> None:
        part = self.shop.catalogue.part(line.part).name
        tag = f"lot {len(self.lots) + 1}"
        came = line.good + line.damaged
        self.lots.append(NewLot(tag, part, line.lot, self.delivery.on, None, line.use_by))
        self.lines.append(
            Line("shelf", part, came, cost.amount, lot=tag, reason="arrived", cost_from=cost.cost_from)
        )
        if postage:
            self.lines.append(Line("shelf", part, 0, postage, lot=tag, reason=POSTAGE))
        if line.damaged:
            lost = share(came, cost.amount + postage, line.damaged)
            self.lines.append(Line("shelf", part, -line.damaged, -lost, lot=tag, reason="damaged"))

    def settle(self) -> None:
        """What is left over goes to others who wait for the same part."""
        book = replace(self.shop.book, claims=with_lines(self.shop.book.claims, self.claims))
        on_hand: dict[str, int] = {}
        for line, _ in self.goods:
            name = self.shop.catalogue.part(line.part).name
            on_hand[name] = on_hand.get(name, book.balance(name).on_hand) + line.good
        self.claims += settle(book, on_hand, off=self._off)

    def _off(self, part: str) -> int:
        """What of a part is out of date: on the shelf, or of what came."""
        known = self.shop.catalogue.part(part)
        new = [
            Lot(0, known.name, line.lot, self.delivery.on, line.good, 0, use_by=line.use_by)
            for line, _ in self.goods
            if fold(line.part) == fold(known.name)
        ]
        return gone_of(known, [*self.shop.book.lots_of(known.name), *new], self.shop.today)

    def result(self) -> BookedParcel:
        """The finished document."""
        rows = sorted(
            (fold(a.part), a.good, a.damaged, a.price or 0, fold(a.instead_of), a.lot, a.pack or 0, *_no(a))
            for a in self.delivery.lines
        )
        note = f" ({self.delivery.note})" if self.delivery.note else ""
        key = (
            ("arrived", fold(self.supplier), fold(self.delivery.note))
            if self.delivery.note
            else ("arrived", fold(self.supplier), self.delivery.on.isoformat(), rows, self._open_before())
        )
        proposal = Proposal(
            "arrival",
            f"Delivery from {self.supplier}{note}",
            self.delivery.on,
            lines=(*self.lines, *self.claims),
            lots=tuple(self.lots),
            fingerprint=fingerprint(*key),
            expected_version=self.shop.book.version,
        )
        self._tell_still_due()
        return BookedParcel(
            proposal,
            Intake(catalogue=Catalogue(offers=self.offers)),
            tuple(dict.fromkeys(self.notes)),
            tuple(self.doubts),
        )

    def _tell_still_due(self) -> None:
        """Once all lines are taken: another row of the parcel may have brought the rest."""
        for part in self.touched:
            if left := self._still(part):
                unit = self.shop.catalogue.part(part).unit
                self.notes.append(f"{part}: {show_amount(left, unit)} still to come.")

    def _open_before(self) -> list[int]:
        """The purchases the parcel was for: two equal parcels of one day for different purchases are two."""
        touched = {line.purchase for line in self.lines if line.account == "due"}
        return sorted(number for number in touched if isinstance(number, int))


def _no(line: Arrived) -> tuple[str, ...]:
    return ("still due",) if line.instead_of and not line.settles else ()


def _why(taken: int, rest: int) -> str:
    return "arrived" if taken else "cancelled" if rest else ""
