"""A made-up year and a half of a small shop: who asks for what and when, what is lost, when parcels really come.

Nothing here is the program's own model. Customers come in bursts, tell their friends, follow a fashion that drifts and
a year with a loud December; parcels are mostly on time and sometimes weeks late; prices rise. What a pattern takes of
each part is read from the sample's bills, for that is data. Days are numbers from 0; quantities thousandths of a
part's unit; money cents of the shop.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil
from statistics import fmean
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np

    from inventory.catalogue import Catalogue, Offer

DAYS = 546
"""78 weeks."""
OF_THE_YEAR = (0.6, 0.6, 0.8, 1.0, 1.2, 1.1, 0.9, 0.8, 0.9, 1.1, 1.6, 2.2)
"""How much of a usual month's custom each month brings, January first (invented)."""
CAPACITY = 14
"""Pieces an evening's lathe begins at most."""
LOST_TURNING, LOST_LATE = 0.05, 0.02
"""Shares of pieces lost at the lathe (their kit is not yet touched) and when they are put together."""
AHEAD_OF_MARKET = 28
HOLDING = 0.25
"""What a coin in stock costs a year, of a column of its own: cost a piece net of stock leaves it out."""
Taste = tuple[tuple[str, str, str], float]
"""Pattern, plating and blank, with a weight."""


@dataclass(slots=True)
class Ask:
    """Somebody wants so many pieces by a day; of a market what the maker means to bring."""

    name: str
    on: int
    due: int
    what: tuple[str, str, str]
    pieces: int
    market: bool = False
    left: int = 0
    late: bool = False


@dataclass(slots=True)
class Parcel:
    """One bought line on its way."""

    part: str
    quantity: int
    comes: int
    expected: int
    supplier: str
    cost: Fraction
    pack: int


@dataclass(slots=True)
class Tally:
    """What a season cost and brought."""

    goods: Fraction = Fraction(0)
    postage: Fraction = Fraction(0)
    parcels: int = 0
    idle_parcels: int = 0
    idle_postage: Fraction = Fraction(0)
    good: int = 0
    late: int = 0
    asked: int = 0
    market_lost: int = 0
    thrown_out: Fraction = Fraction(0)
    stock: list[Fraction] = field(default_factory=list)
    begun_with: Fraction = Fraction(0)
    ends_with: Fraction = Fraction(0)
    seconds: float = 0.0

    @property
    def cost_a_piece(self) -> float:
        """Spent, less what more lies there at the end than at the beginning, by good pieces; in the shop's coin."""
        return float(self.goods + self.postage + self.begun_with - self.ends_with) / 100 / max(self.good, 1)

    @property
    def row(self) -> dict[str, float]:
        """The figures of the table; money in coins. tied: a quarter a year of what lay there on average, a piece."""
        many, lay = max(self.good, 1), fmean(map(float, self.stock)) / 100
        return {
            "a piece": self.cost_a_piece,
            "tied": (HOLDING * DAYS / 365 * lay) / many,
            "half": float(self.ends_with) / 200 / many,
            "parcels": self.parcels,
            "idle": self.idle_parcels,
            "postage": float(self.postage) / 100,
            "late": self.late,
            "asked": self.asked,
            "good": self.good,
            "market": self.market_lost,
            "stock": lay,
            "end": float(self.ends_with) / 100,
            "thrown": float(self.thrown_out) / 100,
            "s": self.seconds,
        }


@dataclass(frozen=True, slots=True)
class Recipe:
    """Thousandths of each part one piece takes, at the lathe and when it is put together; each evening's own."""

    lathe: Mapping[str, Fraction]
    late: Mapping[str, Fraction]
    evening: Mapping[str, int]

    def parts(self) -> Iterable[str]:
        """Every part it takes."""
        return dict.fromkeys((*self.lathe, *self.late, *self.evening))


def recipe(catalogue: Catalogue, what: tuple[str, str, str]) -> Recipe:
    """What one piece takes by the sample's bills; blanks by how many pieces their length gives."""
    from inventory.catalogue import Kit, fold
    from inventory.making.bom import RoleChoice, uses

    pattern = catalogue.pattern(what[0])
    kit = next(
        part
        for part in catalogue.parts.values()
        if isinstance(part.detail, Kit)
        and fold(part.detail.family) == fold(pattern.family)
        and fold(part.detail.plating) == fold(what[1])
    )
    lathe, late, evening = dict[str, Fraction](), dict[str, Fraction](), dict[str, int]()
    for use in uses(catalogue, pattern, RoleChoice(kit.name, what[2])):
        key = fold(use.part)
        each = Fraction(1000, per_blank(catalogue, what)) if use.role == "the blank" else use.per_piece
        if use.role == "the tubes" and isinstance(kit.detail, Kit) and kit.detail.tubes_inside:
            continue
        where = late if use.stage in ("assemble", "pack") else lathe
        where[key] = where.get(key, Fraction(0)) + each
        if use.per_session:
            evening[key] = evening.get(key, 0) + use.per_session
    return Recipe(lathe, late, evening)


def per_blank(catalogue: Catalogue, what: tuple[str, str, str]) -> int:
    """Pieces one blank gives: its length over the tubes', the allowance and a saw cut of 2 mm for each piece."""
    from inventory.catalogue import Blank

    family = catalogue.family(catalogue.pattern(what[0]).family)
    blank = catalogue.part(what[2]).detail
    if not isinstance(blank, Blank) or blank.length is None:
        return 0
    allowance = catalogue.material(blank.material).allowance.mm
    piece = Fraction(0)
    for barrel in family.barrels:
        tube = catalogue.part(barrel.tube).detail.length.mm if barrel.tube else None  # type: ignore[union-attr]  # looked at by its kind
        own = tube if tube is not None else (barrel.length.mm if barrel.length else Fraction(60))
        piece += own + allowance / max(len(family.barrels), 1) + 2
    return int((blank.length.mm + 2) / piece)


def tastes(
    catalogue: Catalogue, offers: Mapping[str, Sequence[Offer]], dice: np.random.Generator
) -> list[Taste]:
    """What a shop is asked for: (pattern, plating, blank) it could make of what is sold, with a weight."""
    from inventory.catalogue import Blank, Kit, fold

    families = {
        fold(p.family): p.name for p in catalogue.patterns.values() if p.bill and "schedule" not in p.name
    }
    kits = [
        (families[fold(part.detail.family)], part.detail.plating)
        for key, part in catalogue.parts.items()
        if isinstance(part.detail, Kit) and offers.get(key) and fold(part.detail.family) in families
    ]
    blanks = [
        part.name
        for key, part in catalogue.parts.items()
        if isinstance(part.detail, Blank) and offers.get(key) and part.detail.length is not None
    ]
    chosen = [kits[i] for i in dice.permutation(len(kits))[: int(dice.integers(6, 12))]]
    woods = [blanks[i] for i in dice.permutation(len(blanks))[: int(dice.integers(3, 6))]]
    found = []
    for at, (pattern, plating) in enumerate(chosen):
        for blank in woods:
            what = (pattern, plating, blank)
            if per_blank(catalogue, what) and _sold(recipe(catalogue, what), offers):
                found.append((what, float(dice.gamma(0.8)) / (1 + at)))
    return found


def _sold(taken: Recipe, offers: Mapping[str, Sequence[Offer]]) -> bool:
    return all(offers.get(part) for part in taken.parts())


def season(tastes_: list[Taste], dice: np.random.Generator, first_month: int) -> list[Ask]:
    """Everything asked for in a season, by the day it is asked for."""
    import numpy as np

    weights = np.array([weight for _, weight in tastes_])
    a_day = dice.uniform(0.4, 1.0) / 7
    asks: list[Ask] = []
    friends: list[tuple[int, tuple[str, str, str]]] = []
    for day in range(DAYS):
        if day % 30 == 0:  # fashion drifts
            weights = weights * np.exp(0.25 * dice.normal(size=len(weights)))
            weights /= weights.sum()
        today = [what for on, what in friends if on == day]
        month = OF_THE_YEAR[(first_month + day // 30) % 12]
        if dice.random() < a_day * month:
            today.append(tastes_[dice.choice(len(weights), p=weights)][0])
        for what in today:
            if dice.random() < 0.2:
                friends.append((day + int(dice.integers(2, 12)), what))
            pieces = int(min(dice.geometric(0.5), 8)) if dice.random() < 0.9 else int(dice.integers(6, 13))
            asks.append(Ask(f"O{len(asks)}", day, day + int(dice.integers(12, 40)), what, pieces))
    for number, day in enumerate(sorted(dice.choice(np.arange(60, DAYS - 7), size=5, replace=False))):
        wanted = dice.multinomial(int(dice.negative_binomial(6, 6 / 18)), weights)
        for at in np.flatnonzero(wanted):
            name = f"M{number}.{at}"
            asks.append(
                Ask(name, int(day) - AHEAD_OF_MARKET, int(day), tastes_[at][0], int(wanted[at]), True)
            )
    return sorted(asks, key=lambda ask: (ask.on, ask.name))


def whole(quantity: Fraction) -> int:
    """Thousandths, rounded up."""
    return ceil(quantity)
