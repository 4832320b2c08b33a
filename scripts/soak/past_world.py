"""Two invented years of the invented shop, written as the sheets in sample_stock/past.

    python3 scripts/soak/past_world.py

A little world with a seed of its own: customers come at random, more of them before Christmas; two makers stand at the
lathe most Saturdays, buy on some Fridays what looks low, and take what is ready to two markets a year. Nothing of the
program is asked: how much of glue and paper a piece takes is said here by hand. What is on the shelf in the beginning
is reckoned back, so that at the end there lies about what the sheets of sample_stock count.
"""

from __future__ import annotations

import csv
import math
import random
import sys
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path

from past_wares import (
    A_WEEK,
    AWAY,
    CUSTOMERS,
    FAR,
    LATE,
    LOOKED_AFTER,
    MARKETS,
    OYSTER,
    POSTED,
    SALT,
    SEASON,
    TAKES,
    TO_COME,
    WARES,
    WOOD,
    WOODS,
)

HERE = Path(__file__).resolve().parents[2] / "sample_stock"
FIRST, LAST, SEED = date(2024, 11, 30), date(2026, 11, 27), 1847


@dataclass(slots=True)
class Order:
    """One that was promised, with what is still to be made of it."""

    name: str
    ware: str
    blank: str
    count: int
    taken: date
    due: date
    plating: str
    customer: str
    price: int
    left: int = 0
    handed: date | None = None

    @property
    def kit(self) -> str:
        """The kit it takes."""
        return f"{WARES[self.ware].family} kit {self.plating}"


@dataclass(slots=True)
class World:
    """The two years, day by day."""

    offers: Mapping[tuple[str, str], Sequence[tuple[int, float, int]]]
    dice: random.Random = field(default_factory=lambda: random.Random(SEED))
    shelf: dict[str, float] = field(default_factory=dict)
    lowest: dict[str, float] = field(default_factory=dict)
    pieces: Counter[tuple[str, str, str]] = field(default_factory=Counter)
    orders: list[Order] = field(default_factory=list)
    due_in: list[tuple[date, str, float]] = field(default_factory=list)
    days: list[dict[str, object]] = field(default_factory=list)
    bought: list[dict[str, object]] = field(default_factory=list)
    sessions: int = 0

    def live(self) -> None:
        """All of it."""
        day = FIRST
        while day <= LAST:
            self.arrive(day)
            if day.weekday() == 5 and not any(a <= day <= b for a, b in AWAY):
                self.saturday(day)
            if day.weekday() in (1, 3, 5):
                self.customers(day)
            if day in MARKETS:
                self.market(day)
            if day.weekday() == 6:
                self.hand_over(day)
            if day.weekday() == 4 and day.isocalendar().week % 3 != 1:
                self.shop(day)
            day += timedelta(days=1)

    def chosen(self, weights: Mapping[str, float]) -> str:
        """One of them, by its weight."""
        return self.dice.choices(list(weights), list(weights.values()))[0]

    def poisson(self, mean: float) -> int:
        """How many come (Knuth's way)."""
        least, many, product = math.exp(-mean), 0, self.dice.random()
        while product > least:
            many, product = many + 1, product * self.dice.random()
        return many

    def take(self, part: str, many: float) -> None:
        """So much less on the shelf."""
        self.shelf[part] -= many
        self.lowest[part] = min(self.lowest[part], self.shelf[part])

    def customers(self, day: date) -> None:
        """Who comes today: some take a piece that is ready, others order."""
        for _ in range(self.poisson(A_WEEK * SEASON[day.month - 1] / 3)):
            ware = self.chosen({name: one.share for name, one in WARES.items()})
            plating = self.chosen(WARES[ware].platings)
            blank = self.chosen(WOODS[WARES[ware].blanks])
            ready = [key for key, many in self.pieces.items() if many and key[:2] == (ware, plating)]
            if ready and self.dice.random() < 0.6:
                self.sell(
                    day, self.dice.choice(sorted(ready)), self.dice.choice(("", "a visitor", "a neighbour"))
                )
                continue
            count = self.dice.choices((1, 2, 3, 4, 6), (10, 6, 2, 2, 1))[0]
            if ware == "Curlew capped pen":
                count = 1
            due = day + timedelta(days=self.dice.choice((14, 18, 21, 25, 28, 35, 42)))
            name = f"K{len(self.orders) + 1}"
            price = WARES[ware].price - (1 if day.year < 2026 else 0)
            customer = self.dice.choice(CUSTOMERS)
            mine = min(count, self.pieces[ware, plating, blank])  # ready ones are set aside first
            self.pieces[ware, plating, blank] -= mine
            left = count - mine
            self.orders.append(Order(name, ware, blank, count, day, due, plating, customer, price, left))

    def sell(self, day: date, key: tuple[str, str, str], at: str) -> None:
        """One finished piece goes."""
        self.pieces[key] -= 1
        ware, plating, blank = key
        piece = f"{ware} {plating} {blank}"
        price = WARES[ware].price - (1 if day.year < 2026 else 0)
        self.days.append({"what": "sold", "part": piece, "how many": 1, "day": day, "price": price, "at": at})

    def market(self, day: date) -> None:
        """A day at the stall."""
        name, mean = MARKETS[day]
        for _ in range(self.poisson(mean)):
            ready = [key for key, many in self.pieces.items() for _ in range(many)]
            if ready:
                self.sell(day, self.dice.choice(sorted(ready)), name)

    def saturday(self, day: date) -> None:
        """At the lathe: what is due first, then for the shelf."""
        soon = any(day < one <= day + timedelta(days=56) for one in MARKETS)
        room, self.sessions = 13 if soon else 8, self.sessions + 1
        for order in sorted(self.orders, key=lambda one: one.due):
            if not order.left or not room or order.due > day + timedelta(days=35):
                continue
            good = self.make(day, order.ware, order.plating, order.blank, min(order.left, room), order.name)
            order.left, room = order.left - good, room - good
        ready = sum(self.pieces.values())
        while room > 0 and ready < (28 if soon else 5):
            ware = self.chosen({name: one.share for name, one in WARES.items() if one.price < 60})
            plating, blank = self.chosen(WARES[ware].platings), self.chosen(WOODS[WARES[ware].blanks])
            good = self.make(day, ware, plating, blank, self.dice.choice((1, 2)), "")
            self.pieces[ware, plating, blank] += good
            room, ready = room - max(good, 1), ready + good

    def make(self, day: date, ware: str, plating: str, blank: str, wanted: int, order: str) -> int:
        """As many as there are parts for; good ones."""
        one = WARES[ware]
        kit, (tube, tubes) = f"{one.family} kit {plating}", one.tubes
        mine = 0.5 if one.blanks == "short" else 1.0
        least = [(kit, 1.0), (blank, mine), (tube, float(tubes)), (one.refill, 1.0), (one.box, 1.0)]
        held = self.held(order)
        there = [int((self.shelf[part] - held[part]) / many) for part, many in least if part and many]
        good = min(wanted, *there)
        if good < 1:
            return 0
        spoiled = {}
        if good < min(there) and self.dice.random() < 0.05 * good:
            spoiled[self.dice.choice(("drill", "turn", "turn", "assemble"))] = 1
        for stage, many in [("", good), *spoiled.items()]:
            for part, each in least:
                if part and not (stage in ("drill", "turn") and part in (kit, one.refill, one.box)):
                    self.take(part, each * many)
            for part, each in {**TAKES[one.sanded], **TAKES[one.coat]}.items():
                self.take(part, each * many)
        self.take("care card", good)
        self.take("denatured alcohol", 2.0 * good)
        self.take("tube plug wax", 0.4 * good)
        said = "; ".join(f"{stage}={many}" for stage, many in spoiled.items())
        row = {"what": "made", "part": order or ware, "how many": good, "day": day, "spoiled": said}
        self.days.append(row if order else {**row, "plating": plating, "blank": blank})
        return good

    def held(self, but: str) -> Counter[str]:
        """What is set aside for the other orders."""
        done: Counter[str] = Counter()
        for one in self.orders:
            if one.left and one.name != but:
                done[one.kit] += one.left
                tube, many = WARES[one.ware].tubes
                done[tube] += many * one.left
                done[one.blank] += one.left
                done[WARES[one.ware].refill] += one.left
                done[WARES[one.ware].box] += one.left
        return done

    def hand_over(self, day: date) -> None:
        """What is finished is fetched."""
        for one in self.orders:
            if not one.left and one.handed is None:
                one.handed = day

    def arrive(self, day: date) -> None:
        """Parcels of today."""
        for on, part, many in [row for row in self.due_in if row[0] == day]:
            self.shelf[part] += many
            self.due_in.remove((on, part, many))

    def shop(self, day: date) -> None:
        """What looks low goes to whoever usually has it; a small parcel waits unless an order waits for it."""
        held, coming = self.held(""), defaultdict[str, float](float)
        for _, part, many in self.due_in:
            coming[part] += many
        wanted: dict[str, list[tuple[str, float, bool]]] = defaultdict(list)
        for part, low in LOOKED_AFTER.items():
            lacks = low - (self.shelf[part] + coming[part] - held[part])
            if lacks > 0:
                supplier = self.usual(part)
                wanted[supplier].append((part, lacks + low / 2, self.shelf[part] + coming[part] < held[part]))
        for supplier, rows in wanted.items():
            lines = [(part, *self.packs(supplier, part, many)) for part, many, _ in rows]
            goods = sum(packs * price for _, _, packs, price in lines)
            enough = {SALT: 4000, OYSTER: 4500, FAR: 6000, WOOD: 2500}[supplier]
            if goods >= enough or any(hurry for *_, hurry in rows):
                self.order(day, supplier, lines, goods)

    def order(self, day: date, supplier: str, lines: Iterable[tuple[str, int, int, int]], goods: int) -> None:
        """One parcel."""
        lead, postage, free = POSTED[supplier]
        came = day + timedelta(days=lead + self.dice.choice(LATE[supplier]))
        for number, (part, pack, packs, price) in enumerate(lines):
            posted = "" if number or goods >= free else f"{postage / 100:.2f}"
            row = {
                "supplier": supplier,
                "part": part,
                "pack": pack,
                "packs": packs,
                "price": f"{price / 100:.2f}",
            }
            here = came if came <= LAST else ""
            self.bought.append({**row, "ordered": day, "arrived": here, "postage": posted})
            self.due_in.append((came, part, float(pack * packs)))

    def usual(self, part: str) -> str:
        """The first in this order who has it."""
        return next(one for one in (SALT, OYSTER, WOOD, FAR) if (one, part) in self.offers)

    def packs(self, supplier: str, part: str, many: float) -> tuple[int, int, int]:
        """Pack, how many of it, and what one costs then, a little less in the first year."""
        steps = self.offers[supplier, part]
        pack = min(one for one, _, _ in steps)
        packs = math.ceil(many / pack)
        price = min(price for size, price, start in steps if size == pack and start <= packs)
        return pack, packs, round(price * 100)


def offers() -> dict[tuple[str, str], list[tuple[int, float, int]]]:
    """Pack, price and from how many packs, of what each supplier has."""
    found = defaultdict(list)
    with (HERE / "offers.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            line = (int(row["pack"]), float(row["price"]), int(row["from packs"] or 1))
            found[row["supplier"], row["part"]].append(line)
    return dict(found)


def counted() -> Mapping[str, float]:
    """What the sample's sheets count of each part."""
    sums: dict[str, float] = defaultdict(float)
    bottle = {"CA thin": 50, "CA medium": 50, "CA thick": 50}
    with (HERE / "counts.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            number, _, unit = row["quantity"].partition(" ")
            many = float(number) * (bottle[row["part"]] if unit == "bottle" else 1)
            sums[row["part"]] += many
    return sums


def main() -> int:
    """Live through it and write the sheets."""
    begun = {part: 3.0 * low for part, low in LOOKED_AFTER.items()}
    world = World(offers(), shelf=dict(begun), lowest=dict(begun))
    world.live()
    at_end = counted()
    opening = {}
    for part, many in begun.items():
        least = math.ceil(many - world.lowest[part])
        opening[part] = max(math.ceil(many + at_end[part] - world.shelf[part]), least, 0)
    write(world, opening)
    print(f"{len(world.orders)} orders, {world.sessions} sessions, {len(world.days)} lines of days,")
    print(f"{len({(row['supplier'], row['ordered']) for row in world.bought})} parcels")
    return 0


def write(world: World, opening: Mapping[str, int]) -> None:
    """The sheets."""
    past = HERE / "past"
    past.mkdir(exist_ok=True)
    costs = {part: min(p / s for s, p, _ in rows) for (_, part), rows in world.offers.items()}
    _sheet(
        past / "opening.csv",
        [
            {"part": part, "quantity": many, "unit cost": round(costs[part], 3)}
            for part, many in opening.items()
            if many
        ],
    )
    _sheet(past / "purchases.csv", world.bought)
    _sheet(
        past / "orders.csv",
        [
            {
                "order": one.name,
                "pattern": one.ware,
                "blank": one.blank,
                "count": one.count,
                "platings": one.plating,
                "taken": one.taken,
                "due": one.due,
                "customer": one.customer,
                "price": f"{one.price}.00",
                "handed over": one.handed or "",
            }
            for one in world.orders
        ],
    )
    heads = ("what", "part", "how many", "day", "price", "at", "plating", "blank", "spoiled")
    _sheet(past / "days.csv", [{head: row.get(head, "") for head in heads} for row in world.days])
    _sheet(
        past / "markets.csv", [dict(zip(("market", "day", "expected"), row, strict=True)) for row in TO_COME]
    )


def _sheet(path: Path, rows: Sequence[Mapping[str, object]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        out = csv.DictWriter(file, list(rows[0]), lineterminator="\n")
        out.writeheader()
        out.writerows(rows)


if __name__ == "__main__":
    sys.exit(main())
