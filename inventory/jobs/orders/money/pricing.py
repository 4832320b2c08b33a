"""What a piece costs and the lowest sensible price for it.

Materials are what the batch is expected to use (see `making.evening`): all blanks of the pieces begun, and of every
other part what the starts that reach its stage take there. Each costs what drawing it would book (`drawing.take`): the
measured blanks of the cut plan, then lots first in, first out; what is not free costs as it is bought, or as the
last lot did where no offer has a price. The price of a piece wanted bears its share
of all that, and of the work on all starts: what a start more costs is paid by the order it is begun for. Where it comes
out well, a spare barrel or piece is left over that has been paid for; nobody can count on selling it.
lowest price = (materials + labour) / (1 − margin), rounded up to the next minor unit.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from inventory.catalogue import Part, fold
from inventory.jobs.hours.piece_time import Minutes, PieceTime
from inventory.jobs.orders.money.least_list import by_part
from inventory.jobs.orders.needs import Requirements, expected_bill
from inventory.jobs.orders.sourcing import Purchase, cheapest
from inventory.jobs.stock.drawing import Drawn, would_cost
from inventory.ledger import draw
from inventory.ledger.costs import UNKNOWN, Offered
from inventory.ledger.shop import Shop


@dataclass(frozen=True, slots=True)
class PiecePrice:
    """A piece's money in minor units. unpriced: parts no cost is known of; where there are any, there is no price.

    minutes: of work in one; total: materials of all pieces together; setting_up: by stage once an evening, which no
    price bears (it depends on what else is made then). `materials` and `lowest` leave those parts out: they are shown
    to nobody while `known` is false.
    """

    materials: int
    labour: int
    lowest: int
    unpriced: tuple[str, ...]
    minutes: int
    total: int
    setting_up: Minutes = ()

    @property
    def known(self) -> bool:
        """Whether every part's cost is known."""
        return not self.unpriced


def price(shop: Shop, plan: Requirements, count: int, time: PieceTime, buy: Iterable[Purchase]) -> PiecePrice:
    """The price of one good piece of `count`; time: what each that is begun takes."""
    drawn = would_draw(shop, plan, buy)
    total = sum(one.cost for one in drawn)
    unpriced = [one.part for one in drawn if one.cost_from == UNKNOWN]
    materials = -(-total // count)
    labour = ceil(Fraction(shop.labour_rate * time.minutes * plan.evening.starts, 60 * count))
    return PiecePrice(
        materials,
        labour,
        ceil((materials + labour) / (1 - shop.margin)),
        tuple(unpriced),
        time.minutes,
        total,
        time.setting_up,
    )


def would_draw(
    shop: Shop, plan: Requirements, buy: Iterable[Purchase], times: Fraction = Fraction(1)
) -> tuple[Drawn, ...]:
    """What the batch is expected to take of each part, at what drawing it would book; `times` that, rounded up."""
    rest = _buying(shop, by_part(buy))
    return tuple(
        would_cost(shop, shop.catalogue.part(name), ceil(quantity * times), _named(plan, name), rest)
        for name, quantity in expected_bill(plan).items()
    )


def _named(plan: Requirements, part: str) -> list[tuple[int, int]]:
    """The measured blanks that are cut, thousandths of each."""
    if not any(use.is_blank and use.part == part for use in plan.uses):
        return []
    return [(cut.lot, 1000 * cut.blanks) for cut in plan.blanks.cuts if cut.lot is not None]


def _buying(shop: Shop, bought: Mapping[str, Purchase]) -> Offered:
    """What is not there costs as it is bought, else as the offers in time would have it; the rest may be a sliver.

    One kit lies there, and with its losses 1.02 are expected to go.
    """

    def cost(name: str, quantity: int) -> int | None:
        one = bought.get(fold(name)) or cheapest(shop, shop.catalogue.part(name), quantity, shop.today)
        return (
            None
            if one is None or one.cost is None
            else round(Fraction(one.cost * quantity, one.packs * one.pack))
        )

    return cost


def finished_price(shop: Shop, pieces: Iterable[tuple[Part, int]], time: PieceTime) -> PiecePrice:
    """The price of pieces that are made already: what their lots cost, first in, first out, and the work in them."""
    total, count, unpriced = 0, 0, dict[str, None]()
    for part, many in pieces:
        takes, _ = draw(shop.book.lots_of(part.name), 1000 * many)
        total += sum(take.cost for take in takes)
        count += many
        if any(take.lot.cost_from == UNKNOWN for take in takes):
            unpriced[part.name] = None
    materials, labour = -(-total // count), ceil(Fraction(shop.labour_rate * time.minutes, 60))
    lowest = ceil((materials + labour) / (1 - shop.margin))
    return PiecePrice(materials, labour, lowest, tuple(unpriced), time.minutes, total, time.setting_up)
