"""What ways of buying cost over a season: simulated shops of 18 months, the same demand and luck for each way.

    python3 scripts/soak/seasons.py                       30 shops, every way (hours)
    python3 scripts/soak/seasons.py --shops 4 --from 100  four others
    python3 scripts/soak/seasons.py --ways out,list       only these
    python3 scripts/soak/seasons.py --keep rows.jsonl     goes on where it was stopped

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
from season_buys import cheapest_line, looking_ahead, one_supplier, todays_list, typed, when_out
from season_world import season, tastes

WAYS: dict[str, Callable[[], Buys]] = {
    "out": lambda: when_out,
    "line": lambda: cheapest_line,
    "one": lambda: one_supplier,
    "list": lambda: todays_list(typed),
    "ahead": lambda: looking_ahead,
}
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

    first, shops, ways = int(said("--from", "0")), int(said("--shops", "30")), said("--ways", ",".join(WAYS))
    keep = Path(said("--keep", "")) if "--keep" in arguments else None
    rows: dict[tuple[str, int], Row] = {}
    if keep is not None and keep.exists():
        for line in keep.read_text(encoding="utf-8").splitlines():
            one = json.loads(line)
            rows[one.pop("way"), one.pop("shop")] = one
    for seed in range(first, first + shops):
        for way in ways.split(","):
            if (way, seed) not in rows:
                rows[way, seed] = row = live(opened(seed), WAYS[way]()).row
                print(f"shop {seed} {way:<8}" + "".join(_cells(row)), flush=True)
                if keep is not None:
                    with keep.open("a", encoding="utf-8") as file:
                        file.write(json.dumps({"way": way, "shop": seed, **row}) + "\n")
    _table({way: [rows[way, seed] for seed in range(first, first + shops)] for way in ways.split(",")})
    return 0


def _cells(row: Row) -> list[str]:
    return [
        f"{key} {value:.{2 if key in ('a piece', 'tied', 'half') else 0}f}  " for key, value in row.items()
    ]


def _table(found: Mapping[str, Sequence[Row]]) -> None:
    heads = list(next(iter(found.values()))[0])
    print(f"{'way':<8}" + "".join(f"{head:>8}" for head in heads))
    for way, rows in found.items():
        means = {head: fmean(row[head] for row in rows) for head in heads}
        print(
            f"{way:<8}" + "".join(f"{means[head]:>8.{2 if at < 3 else 1}f}" for at, head in enumerate(heads))
        )
    last = list(found)[-1]
    for way in list(found)[:-1]:
        less = [1 - b["a piece"] / a["a piece"] for a, b in zip(found[way], found[last], strict=True)]
        sure = 1.96 * stdev(less) / len(less) ** 0.5 if len(less) > 1 else float("nan")
        print(f"{last} costs {fmean(less):.1%} less a piece than {way}, give or take {sure:.1%}")


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
