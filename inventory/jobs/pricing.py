"""What a piece costs and the lowest sensible price for it.

Materials are what the batch is expected to use (see `making.evening`): all blanks of the pieces begun, and of every
other part what the starts that reach its stage take there; each use priced from the lots first in, first out, the rest
at the offers' prices, or as the last lot cost where no offer has a price. The price of a piece wanted bears its share
of all that, and of the work on all starts: what a start more costs is paid by the order it is begun for. Where it comes
out well, a spare barrel or piece is left over that has been paid for; nobody can count on selling it.
lowest price = (materials + labour) / (1 − margin), rounded up to the next minor unit.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from inventory.catalogue import STAGES, Part, fold
from inventory.jobs.needs import Requirements, usable_lots
from inventory.jobs.shop import Shop
from inventory.jobs.sourcing import Purchase, cheapest
from inventory.ledger import draw
from inventory.ledger.costs import UNKNOWN
from inventory.making.bill import Use
from inventory.making.evening import mean

MINUTES = 60
"""Minutes of work a piece takes where its pattern says nothing (an assumption)."""


@dataclass(frozen=True, slots=True)
class Price:
    """A piece's money in minor units. unpriced: parts no cost is known of; where there are any, there is no price.

    `materials` and `lowest` leave those parts out: they are shown to nobody while `known` is false.
    """

    materials: int
    labour: int
    lowest: int
    unpriced: tuple[str, ...]
    minutes: int

    @property
    def known(self) -> bool:
        """Whether every part's cost is known."""
        return not self.unpriced


def price(shop: Shop, plan: Requirements, count: int, minutes: int | None, buy: Iterable[Purchase]) -> Price:
    """The price of one good piece of `count`."""
    bought = {fold(one.part.name): one for one in buy}
    total, unpriced = Fraction(0), []
    for part, quantity in _quantities(plan).items():
        cost = _cost(shop, shop.catalogue.part(part), quantity, bought)
        if cost is None:
            unpriced.append(shop.catalogue.part(part).name)
        else:
            total += cost
    materials = ceil(total / count)
    taken = minutes if minutes is not None else MINUTES
    labour = ceil(Fraction(shop.labour_rate * taken * plan.evening.starts, 60 * count))
    return Price(materials, labour, ceil((materials + labour) / (1 - shop.margin)), tuple(unpriced), taken)


def finished_price(shop: Shop, pieces: Iterable[tuple[Part, int]], minutes: int | None) -> Price:
    """The price of pieces that are made already: what their lots cost, first in, first out, and the work in them."""
    total, count, unpriced = 0, 0, dict[str, None]()
    for part, many in pieces:
        takes, _ = draw(shop.book.lots_of(part.name), 1000 * many)
        total += sum(take.cost for take in takes)
        count += many
        if any(take.lot.cost_from == UNKNOWN for take in takes):
            unpriced[part.name] = None
    taken = minutes if minutes is not None else MINUTES
    materials, labour = -(-total // count), ceil(Fraction(shop.labour_rate * taken, 60))
    lowest = ceil((materials + labour) / (1 - shop.margin))
    return Price(materials, labour, lowest, tuple(unpriced), taken)


def _quantities(plan: Requirements) -> dict[str, Fraction]:
    """Expected thousandths of each part, by folded name."""
    sums: dict[str, Fraction] = {}
    pieces = [Fraction(mean(worked)).limit_denominator(10**6) for worked in plan.evening.worked]
    for use in plan.uses:
        key = fold(use.part)
        sums[key] = sums.get(key, Fraction(0)) + _expected(use, plan, pieces)
    return sums


def _expected(use: Use, plan: Requirements, pieces: Sequence[Fraction]) -> Fraction:
    at = STAGES.index(use.stage)
    if use.role == "the blank":
        return plan.blanks.needed * 1000 * pieces[at] / plan.reach[at]
    if use.role == "the tubes" and getattr(plan.kit.detail, "tubes_inside", False):
        kits = next((pieces[STAGES.index(u.stage)] for u in plan.uses if u.role == "the kit"), Fraction(0))
        return use.per_piece * max(pieces[at] - kits, Fraction(0))
    return use.per_piece * pieces[at] + use.per_session


def _cost(shop: Shop, part: Part, quantity: Fraction, bought: Mapping[str, Purchase]) -> Fraction | None:
    """Minor units for so many thousandths: lots first, then what is bought, any offer, the last lot; None if unknown.

    The rest may be a sliver: one kit lies there, and with its losses 1.02 are expected to go. A lot of unknown cost
    that is drawn from makes the whole unknown.
    """
    cost, last = Fraction(0), None
    for lot in usable_lots(shop, part):
        taken = min(Fraction(lot.quantity), quantity)
        if taken and lot.cost_from == UNKNOWN:
            return None
        cost += lot.cost * taken / lot.quantity
        last = Fraction(lot.cost, lot.quantity)
        quantity -= taken
    if quantity <= 0:
        return cost
    one = bought.get(fold(part.name)) or cheapest(shop, part, max(ceil(quantity), 1), shop.today)
    if one is None or one.cost is None:
        return None if last is None else cost + last * quantity
    return cost + one.cost * quantity / (one.packs * one.pack)
