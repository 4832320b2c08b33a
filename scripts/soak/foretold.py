"""Whether what is said of the weeks ahead is true: coverage of predicted ranges on held-out months of simulated shops.

    python3 scripts/soak/foretold.py                 60 shops (some minutes)
    python3 scripts/soak/foretold.py --shops 10      so many
    python3 scripts/soak/foretold.py --from 100      other shops

Shops are made by `season_world`, apart from the program's own model: bursts, friends, drifting fashion, a loud
December.
At the end of some weeks each is told its past and asked for the next; then what came is held against what was said.
Prints, for pieces of the whole shop, of a pattern, and units of a part, how many of 100 lay in the 80 % and the 95 %
range (a count that lies on the border of one is put in it by as much of its probability as belongs there), and how many
no more than what lasts with 90, 95 and 98 %.
"""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import ROOT, elsewhere

if TYPE_CHECKING:
    from season_world import Ask

    from inventory.catalogue import Catalogue
    from inventory.planning.demand.expected import Kind

FIRST = date(2026, 11, 30)
ENDS = (13, 19, 26, 32, 39, 45, 52, 58, 65, 71, 74)
"""Weeks of past a shop is asked after."""
AHEAD = 4
"""Weeks that are held out each time."""
COURSES = 2000
RANGES, LASTS = (0.8, 0.95), (0.9, 0.95, 0.98)


@dataclass
class Seen:
    """What of one kind of figure came to be. within: by range; lasted: by chance; both as shares of one."""

    within: dict[float, list[float]] = field(default_factory=lambda: defaultdict(list))
    lasted: dict[float, list[float]] = field(default_factory=lambda: defaultdict(list))

    def add(self, below: float, upto: float) -> None:
        """A figure that came: the share of courses below it, and of those no higher."""
        for share in RANGES:
            tail = (1 - share) / 2
            self.within[share].append(_part(below, upto, tail, 1 - tail))
        for chance in LASTS:
            self.lasted[chance].append(float(below < chance))


def _part(below: float, upto: float, low: float, high: float) -> float:
    """How much of the stretch from `below` to `upto` lies between `low` and `high`."""
    if upto <= below:
        return float(low <= below <= high)
    return max(min(upto, high) - max(below, low), 0.0) / (upto - below)


def measured(seeds: Sequence[int], ends: Sequence[int] = ENDS) -> dict[str, Seen]:
    """Every kind of figure over these shops, asked after so many weeks."""
    found: dict[str, Seen] = defaultdict(Seen)
    for seed in seeds:
        catalogue, asks, kinds = _shop(seed)
        for weeks in ends:
            for what, below, upto in _held_out(catalogue, asks, kinds, weeks):
                found[what].add(below, upto)
    return found


Kinds = dict[str, Sequence["Kind"]]


def _shop(seed: int) -> tuple[Catalogue, list[Ask], Kinds]:
    """One shop's season, markets left out, and what it could make."""
    import numpy as np
    from season_world import season, tastes

    from inventory.catalogue import Catalogue, fold
    from inventory.measures import currency
    from inventory.sheets.stock.reader import read_sheets

    read = read_sheets([ROOT / "sample_stock"], Catalogue(), {}, currency("EUR"), today=FIRST).catalogue
    offers = {key: several for key, several in read.offers.items() if read.parts[key].kind != "tool"}
    dice = np.random.default_rng(seed)
    liked = tastes(read, offers, dice)
    asks = [one for one in season(liked, dice, FIRST.month - 1) if not one.market]
    kinds: dict[str, list[Kind]] = defaultdict(list)
    for (pattern, plating, blank), _ in liked:
        kinds[fold(pattern)].append((fold(plating), fold(blank), None))
    return read, asks, dict(kinds)


def _held_out(
    catalogue: Catalogue, asks: Sequence[Ask], kinds: Kinds, weeks: int
) -> Iterator[tuple[str, float, float]]:
    """What came in the weeks ahead: what it is, the share of courses below it, and of those no higher."""
    import numpy as np
    from season_world import recipe

    from inventory.catalogue import fold
    from inventory.ledger.asked import AskedFor
    from inventory.planning.demand.expected import expected
    from inventory.planning.futures import courses

    today = FIRST + timedelta(days=7 * weeks - 1)
    past = [
        AskedFor(FIRST + timedelta(days=one.on), *one.what, one.pieces) for one in asks if one.on < 7 * weeks
    ]
    came = [one for one in asks if 7 * weeks <= one.on < 7 * (weeks + AHEAD)]
    looked = expected(past, kinds, today, AHEAD)
    drawn = courses(looked, today + timedelta(days=1), AHEAD, COURSES, seed=weeks)
    pieces = drawn.pieces.sum(axis=1)

    def rank(said: np.ndarray, real: float) -> tuple[float, float]:
        return float(np.mean(said < real - 1e-9)), float(np.mean(said <= real + 1e-9))

    yield "shop", *rank(pieces.sum(axis=0), sum(one.pieces for one in came))
    for pattern in kinds:
        rows = [at for at, (name, _) in enumerate(drawn.kinds) if name == pattern]
        mine = sum(one.pieces for one in came if fold(one.what[0]) == pattern)
        yield "pattern", *rank(pieces[rows].sum(axis=0), mine)
    names = {fold(one.what[0]): one.what[0] for one in asks}
    takes: dict[str, dict[int, float]] = defaultdict(dict)
    for at, (name, kind) in enumerate(drawn.kinds):
        if name in names:
            made = recipe(catalogue, (names[name], kind[0], kind[1]))
            for part in (*made.lathe, *made.late):
                takes[part][at] = float(made.lathe.get(part, 0) + made.late.get(part, 0)) / 1000
    for uses in takes.values():
        said = sum(units * pieces[at] for at, units in uses.items())
        real = sum(
            one.pieces * uses.get(at, 0.0)
            for one in came
            for at, (name, kind) in enumerate(drawn.kinds)
            if name == fold(one.what[0]) and kind[:2] == (fold(one.what[1]), fold(one.what[2]))
        )
        what = "part of one pattern" if len({drawn.kinds[at][0] for at in uses}) == 1 else "shared part"
        yield what, *rank(np.asarray(said), real)


def main(arguments: Sequence[str]) -> int:
    """Print the table. Exit code 1 where a range is more than 3 points from what it says."""
    if (code := elsewhere(__file__, arguments, "test")) is not None:
        return code

    def said(name: str, otherwise: str) -> int:
        return int(arguments[arguments.index(name) + 1] if name in arguments else otherwise)

    first = said("--from", "0")
    found = measured(range(first, first + said("--shops", "60")))
    print(f"{'':22}{'many':>7}" + "".join(f"{f'{share:.0%} range':>11}" for share in RANGES), end="")
    print("".join(f"{f'lasts {chance:.0%}':>11}" for chance in LASTS))
    worst = 0.0
    for what, seen in found.items():
        shares = [sum(seen.within[share]) / len(seen.within[share]) for share in RANGES]
        lasts = [sum(seen.lasted[chance]) / len(seen.lasted[chance]) for chance in LASTS]
        worst = max(worst, *(abs(a - b) for a, b in zip(shares, RANGES, strict=True)))
        cells = "".join(f"{one:>11.1%}" for one in (*shares, *lasts))
        print(f"{what:22}{len(seen.within[RANGES[0]]):>7}{cells}")
    return 1 if worst > 0.03 else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
