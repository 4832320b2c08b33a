"""What ways of buying cost over a season: simulated shops of 18 months, the same demand and luck for each way.

    python3 scripts/soak/seasons.py                       30 shops, every way (hours)
    python3 scripts/soak/seasons.py --shops 4 --from 100  four others
    python3 scripts/soak/seasons.py --ways out,list       only these
    python3 scripts/soak/seasons.py --ways 'ahead:MARKS_UP*2,ahead'     an assumption of looking ahead doubled
    python3 scripts/soak/seasons.py --keep rows.jsonl     goes on where it was stopped; with --table only what is kept

The ways: buying when out, the cheapest line, one supplier; today's list with typed levels and with worked-out ones;
looking ahead from the first day, and as the program does, once the book tells enough. And a bound below all of them.

Prints a line a shop and way as it goes; then the means over the shops, and each way against the last one, shop by shop:
cost a good piece net of stock (`tied`: what its stock would cost besides, at a quarter a year; `half`: how much dearer
it were if what lies there at the end were worth half), parcels, those with nothing promised in them, postage, late
orders, pieces made, pieces markets lacked, money in stock, at the end, and thrown out, seconds.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from statistics import fmean, stdev

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import ROOT, elsewhere
from season_bench import Buys, Lot, Season, live, unit_price
from season_bound import least
from season_buys import ahead_of, cheapest_line, one_supplier, todays_list, typed, when_out
from season_world import HOLDING, season, tastes

WAYS: dict[str, Callable[[], Buys]] = {
    "out": lambda: when_out,
    "line": lambda: cheapest_line,
    "one": lambda: one_supplier,
    "list": lambda: todays_list(typed),
    "worked": lambda: ahead_of(today_only=True),
    "always": lambda: ahead_of(always=True),
    "ahead": ahead_of,
}
LEAST = "least"
"""Whoever knows all of it beforehand: a bound (season_bound.py), not a way."""
Row = Mapping[str, float]


def opened(seed: int) -> Season:
    """A shop on its first day, with what it will be asked for."""
    import numpy as np
    from season_buys import FIRST

    from inventory.catalogue import Catalogue
    from inventory.measures import currency
    from inventory.sheets.stock.reader import read_sheets

    read = read_sheets([ROOT / "sample_stock"], Catalogue(), {}, currency("EUR"), today=FIRST).catalogue
    offers = {key: several for key, several in read.offers.items() if read.parts[key].kind != "tool"}
    dice = np.random.default_rng(seed)
    liked = tastes(read, offers, dice)
    asks = season(liked, dice, FIRST.month - 1)
    luck, post = (np.random.default_rng(seed + million * 1_000_000) for million in (1, 2))
    made = Season(read, offers, read.suppliers, asks, luck, post, seed)
    for what, _ in liked:
        made.takes(what)
    for part in sorted({part for what, _ in liked for part in made.takes(what).parts()}):
        one = read.parts[part]
        begun = {"kit": 2000, "blank": 4000, "tube": 10000}.get(
            one.kind, getattr(one.detail, "net", None) or 4000
        )
        made.lots[part] = [Lot(begun, 0, unit_price(made, part))]
    return made


def main(arguments: Sequence[str]) -> int:
    """Print the table."""
    if (code := elsewhere(__file__, arguments, "test")) is not None:
        return code

    def said(name: str, otherwise: str) -> str:
        return arguments[arguments.index(name) + 1] if name in arguments else otherwise

    first, shops = int(said("--from", "0")), int(said("--shops", "30"))
    ways = said("--ways", ",".join((*WAYS, LEAST))).split(",")
    keep = Path(said("--keep", "")) if "--keep" in arguments else None
    rows = _kept(keep) if keep is not None and keep.exists() else {}
    seeds = range(first, first + shops)
    for seed in seeds:
        for way in ways:
            if (way, seed) not in rows and "--table" not in arguments:
                rows[way, seed] = row = _bound(seed) if way == LEAST else _lived(way, seed)
                print(f"shop {seed} {way:<18}" + "".join(_cells(row)), flush=True)
                if keep is not None:
                    with keep.open("a", encoding="utf-8") as file:
                        file.write(json.dumps({"way": way, "shop": seed, **row}) + "\n")
    _table({way: {seed: rows[way, seed] for seed in seeds if (way, seed) in rows} for way in ways})
    return 0


def _kept(keep: Path) -> dict[tuple[str, int], Row]:
    rows: dict[tuple[str, int], Row] = {}
    for line in keep.read_text(encoding="utf-8").splitlines():
        one = json.loads(line)
        rows[one.pop("way"), one.pop("shop")] = one
    return rows


def _lived(way: str, seed: int) -> Row:
    """A season; `ahead:MARKS_UP*2` with an assumption of looking ahead doubled."""
    from inventory.jobs.ahead import looking

    name, _, changed = way.partition(":")
    figure, _, factor = changed.partition("*")
    before = getattr(looking, figure) if figure else None
    try:
        if isinstance(before, tuple):
            setattr(looking, figure, tuple(round(days * float(factor)) for days in before))
        elif before is not None:
            setattr(looking, figure, before * float(factor))
        return live(opened(seed), WAYS[name]()).row
    finally:
        if figure:
            setattr(looking, figure, before)


def _bound(seed: int) -> Row:
    """What nobody can buy below: net of stock, and with a quarter a year of what lies there."""
    bare, held = least(opened(seed), opened(seed), (0.0, HOLDING))
    return {"a piece": bare, "tied": held - bare}


def _cells(row: Row) -> list[str]:
    return [
        f"{key} {value:.{2 if key in ('a piece', 'tied', 'half') else 0}f}  " for key, value in row.items()
    ]


def _table(found: Mapping[str, Mapping[int, Row]]) -> None:
    """Means over the shops, then the last way that was lived against each other, shop by shop."""
    heads = list(next(row for rows in found.values() for row in rows.values()))
    print(f"{'way':<18}{'shops':>6}" + "".join(f"{head:>8}" for head in heads))
    for way, rows in found.items():
        means = {
            head: fmean(row[head] for row in rows.values()) for head in heads if rows and _has(rows, head)
        }
        print(
            f"{way:<18}{len(rows):>6}"
            + "".join(
                f"{means[head]:>8.{2 if at < 3 else 1}f}" if head in means else f"{'':>8}"
                for at, head in enumerate(heads)
            )
        )
    last = next((way for way in reversed(list(found)) if way != LEAST and found[way]), LEAST)
    for way in found:
        both = sorted(found[way].keys() & found[last].keys())
        if way != last and both:
            pairs = [(found[way][seed], found[last][seed]) for seed in both]
            bare = _less([(one["a piece"], other["a piece"]) for one, other in pairs])
            held = _less(
                [(one["a piece"] + one["tied"], other["a piece"] + other["tied"]) for one, other in pairs]
            )
            print(f"{last} costs {bare} less a piece than {way}; with {HOLDING:.0%} a year for stock {held}")


def _has(rows: Mapping[int, Row], head: str) -> bool:
    return all(head in row for row in rows.values())


def _less(pairs: Sequence[tuple[float, float]]) -> str:
    """By how much of the first the second is less: mean of the shops, with half a 95 % interval (Student's t)."""
    from scipy.stats import t

    less = [1 - second / first for first, second in pairs]
    half = (
        float(t.ppf(0.975, len(less) - 1)) * stdev(less) / len(less) ** 0.5 if len(less) > 1 else float("nan")
    )
    return f"{fmean(less):.1%} ± {half:.1%} ({len(less)} shops)"


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
