"""What to count: a drawer somebody names, or the few parts most worth it, as a sheet to fill.

Stock is put into classes by its value, highest first: A while the parts before make up less than 70 % of it, B while
less than 95 %, C the rest (ABC analysis; J. Heizer, B. Render, *Operations Management*, chapter 12, read on a
solutions page, whose example these bounds give back). A is counted every month, B every quarter, C twice a year, as
in the same chapter's example of cycle counting. How much a part is worth counting is

    score = min(days since it was counted / days of its class, 3) + 3 if the book's figure is doubtful

where a part never counted has the 3; of equals the dearer comes first.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Final, Literal

from inventory.catalogue import Part, Supply, fold
from inventory.jobs.stock.shelf import Filters, shelf
from inventory.ledger import Lot
from inventory.ledger.bottles.containers import called, net_of
from inventory.ledger.costs import UNKNOWN
from inventory.ledger.shop import Shop
from inventory.reports.session_sheet import CountRow, CountSheet

Class = Literal["A", "B", "C"]
BOUNDS: Final[tuple[tuple[Class, Fraction], ...]] = (("A", Fraction(70, 100)), ("B", Fraction(95, 100)))
EVERY: Final[Mapping[Class, int]] = {"A": 30, "B": 90, "C": 180}
"""Days between two counts of a class."""
MOST: Final = Fraction(3)
"""Longer than three times the days of its class makes no difference, so that doubt always comes first."""
DOUBT: Final = 3


@dataclass(frozen=True, slots=True)
class Worth:
    """A part worth counting. value: minor units of all there is of it; days: since it was counted (None: never)."""

    part: Part
    value: int
    group: Class
    days: int | None
    doubtful: bool

    @property
    def score(self) -> Fraction:
        """Days over the days of its class, at most 3, and 3 more where the book's figure is doubtful."""
        late = MOST if self.days is None else Fraction(self.days, EVERY[self.group])
        return min(late, MOST) + DOUBT * self.doubtful

    @property
    def why(self) -> str:
        """In words that do not tell how much the book thinks there is."""
        said = ["the book's figure is doubtful"] if self.doubtful else []
        said += ["dear"] if self.group == "A" else []
        if self.days is None:
            said.append("never counted")
        elif self.days > EVERY[self.group]:
            said.append(f"not counted for {self.days} days")
        return "; ".join(said)


def classes(values: Mapping[str, int]) -> Mapping[str, Class]:
    """The class of each thing by its value; what is worth nothing is C."""
    whole, before = sum(values.values()), 0
    done: dict[str, Class] = {}
    for key, value in sorted(values.items(), key=lambda one: -one[1]):
        share = Fraction(before, whole) if whole else Fraction(1)
        group = next((name for name, bound in BOUNDS if share < bound), "C")
        done[key] = group if value > 0 else "C"  # type: ignore[assignment]  # one of the three
        before += value
    return done


def values(shop: Shop) -> Mapping[str, int]:
    """Minor units all lots of each part cost, by folded name; what nobody knows the cost of at the offer's price."""
    return {key: sum(_value(shop, lot) for lot in lots) for key, lots in shop.book.lots.items()}


def _value(shop: Shop, lot: Lot) -> int:
    offered = shop.prices(lot.part, lot.quantity) if lot.cost_from == UNKNOWN else None
    return lot.cost if offered is None else offered


def rated(shop: Shop, last_counted: Mapping[str, date], parts: Iterable[Part]) -> tuple[Worth, ...]:
    """How much each of these parts is worth counting, in their order. last_counted: by folded name."""
    worth = values(shop)
    groups = classes(worth)
    doubtful = frozenset(map(fold, shop.book.to_count))
    return tuple(
        Worth(
            part,
            worth.get(key, 0),
            groups.get(key, "C"),
            max((shop.today - last_counted[key]).days, 0) if key in last_counted else None,
            key in doubtful,
        )
        for part in parts
        for key in (fold(part.name),)
    )


def worth_counting(
    shop: Shop, last_counted: Mapping[str, date], few: int, parts: Iterable[Part] | None = None
) -> tuple[Worth, ...]:
    """The few most worth counting, best first (the dearer of equals), of all parts that are there or doubtful.

    The shop needs the lots of every part: classes are by value.
    """
    chosen = shop.catalogue.parts.values() if parts is None else parts
    rows = rated(shop, last_counted, chosen)
    there = [one for one in rows if one.doubtful or shop.book.balance(one.part.name).on_hand > 0]
    return tuple(sorted(there, key=lambda one: (-one.score, -one.value, fold(one.part.name)))[: max(few, 0)])


def select(
    shop: Shop, filters: Filters, *, supplier: str = "", doubtful: bool = False, empty: bool = False
) -> tuple[Part, ...]:
    """The parts of a drawer, by kind and name: those that pass all filters of the shelf, and then these.

    supplier: only what they offer; doubtful: only where the book's figure is; empty: those too of which the book has
    none. Unknown names raise UnknownName.
    """
    seller = fold(shop.catalogue.supplier(supplier).name) if supplier else ""
    return tuple(
        row.part
        for row in shelf(shop.catalogue, shop.book, filters, shop.today)
        if (empty or row.balance.on_hand or row.to_count)
        and (row.to_count or not doubtful)
        and (not seller or seller in _sellers(shop, row.part))
    )


def _sellers(shop: Shop, part: Part) -> Collection[str]:
    return {fold(offer.supplier) for offer in shop.offers.get(fold(part.name), ())}


def count_sheet(shop: Shop, mark: str, rows: Iterable[Worth], *, blind: bool) -> CountSheet:
    """The sheet for these parts. Of a part whose lots are all measured, or of a supply in bottles
    of several lots, every lot has its own row.

    blind: without the book's figures, so that nobody writes down what he expects to find.
    """
    lines = [line for one in rows for line in _rows(shop, one, blind=blind)]
    return CountSheet(mark, shop.book.version, shop.today, blind, tuple(lines))


def _rows(shop: Shop, one: Worth, *, blind: bool) -> Iterable[CountRow]:
    part, lots = one.part, shop.book.lots_of(one.part.name)
    weighed = in_containers(part)
    if not lots or not (all(lot.measured for lot in lots) or (weighed and len(lots) > 1)):
        booked = None if blind else shop.book.balance(part.name).on_hand
        return [
            CountRow(
                *(part.name, part.unit, one.why, booked),
                containers=weighed,
                drawer=part.drawer,
                kind=part.kind,
            )
        ]
    return [
        CountRow(
            part.name,
            part.unit,
            one.why,
            None if blind else lot.quantity,
            lot.id,
            called(lot),
            containers=weighed,
            drawer=part.drawer,
            opened_on=lot.opened_on,
            kind=part.kind,
        )
        for lot in lots
    ]


def in_containers(part: Part) -> bool:
    """Whether full ones can be counted and the open one weighed."""
    detail = part.detail
    known = isinstance(detail, Supply) and detail.tare is not None and net_of(part) is not None
    return known and (part.unit == "g" or getattr(detail, "density", None) is not None)
