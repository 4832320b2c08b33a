"""What ways of buying cost over a season: simulated shops of 18 months, the same demand and luck for each way.

    python3 scripts/soak/seasons.py                 30 shops (an hour and more)
    python3 scripts/soak/seasons.py --shops 4       so many
    python3 scripts/soak/seasons.py --from 100      other shops
    python3 scripts/soak/seasons.py --ways out,list only these

Prints, for each way, the means over the shops: cost a good piece net of stock, parcels, those with nothing promised in
them, postage, late orders, market sales lost, money in stock.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from statistics import fmean

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import ROOT, elsewhere
from season_bench import Buys, Lot, Season, live, unit_price
from season_buys import cheapest_line, one_supplier, todays_list, typed, when_out
from season_world import Tally, season, tastes

WAYS: dict[str, Callable[[], Buys]] = {
    "out": lambda: when_out,
    "line": lambda: cheapest_line,
    "one": lambda: one_supplier,
    "list": lambda: todays_list(typed),
}


def lived(seed: int, way: str) -> Tally:
    """One shop's season with a way of buying."""
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
    made = Season(read, offers, read.suppliers, asks, np.random.default_rng(seed + 1_000_000))
    for what, _ in liked:
        made.takes(what)
    for part in sorted({part for what, _ in liked for part in made.takes(what).parts()}):
        one = read.parts[part]
        begun = {"kit": 2000, "blank": 4000, "tube": 10000}.get(
            one.kind, getattr(one.detail, "net", None) or 4000
        )
        made.lots[part] = [Lot(begun, 0, unit_price(made, part))]
    return live(made, WAYS[way]())


def main(arguments: Sequence[str]) -> int:
    """Print the table, a line a way."""
    if (code := elsewhere(__file__, arguments, "test")) is not None:
        return code

    def said(name: str, otherwise: str) -> str:
        return arguments[arguments.index(name) + 1] if name in arguments else otherwise

    first, shops = int(said("--from", "0")), int(said("--shops", "30"))
    heads = ("parcels", "idle", "postage", "late", "asked", "good", "market", "stock", "end", "thrown", "s")
    widths = (9, 6, 9, 6, 7, 6, 8, 8, 8, 8, 7)
    print(f"{'way':<8}{'a piece':>9}" + "".join(f"{one:>{w}}" for one, w in zip(heads, widths, strict=True)))
    for way in said("--ways", ",".join(WAYS)).split(","):
        found = [lived(seed, way) for seed in range(first, first + shops)]
        print(_row(way, found), flush=True)
    return 0


def _row(way: str, found: Sequence[Tally]) -> str:
    def mean(of: Callable[[Tally], float]) -> float:
        return fmean(of(one) for one in found)

    return (
        f"{way:<8}{mean(lambda t: t.cost_a_piece):>9.3f}{mean(lambda t: t.parcels):>9.1f}"
        f"{mean(lambda t: t.idle_parcels):>6.1f}{mean(lambda t: float(t.postage) / 100):>9.2f}"
        f"{mean(lambda t: t.late):>6.1f}{mean(lambda t: t.asked):>7.1f}{mean(lambda t: t.good):>6.1f}"
        f"{mean(lambda t: t.market_lost):>8.1f}{mean(lambda t: float(fmean(t.stock)) / 100):>8.1f}"
        f"{mean(lambda t: float(t.ends_with) / 100):>8.1f}{mean(lambda t: float(t.thrown_out) / 100):>8.1f}"
        f"{mean(lambda t: t.seconds):>7.1f}"
    )


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
