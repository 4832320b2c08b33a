"""Looking back (`earned`, `worth`, `history`) against one sum over the book, `page` against `shelf`; `makeable`.

    python3 scripts/bench/accounts.py [--quick] [--book FILE]

Run by scripts/bench.py. The floor of those that look back is a process that loads pandas and adds up quantities and
costs of all lines of the shelf up to their day: one bare sum, nothing grouped. `history` says more than that sum can
tell (what packs of each offer were ordered at by year, what came of whom): its own floor is one sum that covers its
lines, grouped as it tells them; its ratio to the bare one is printed and not judged. Each is measured as a person sees
it and as JSON. Seconds are of the processor, ratios the median within each turn. Exit code 1 where a target is missed.
--book: a copy of a real one, as the ten years of scripts/soak/years.py (963,139 lines), in place of a made-up one.
"""

from __future__ import annotations

import random
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Hashable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from typing import TYPE_CHECKING

from environment import PYTHON, elsewhere, surroundings

if TYPE_CHECKING:
    from inventory.making.product_mix import MixTask

PARTS, FEW, MANY, TODAY = 2000, 100_000, 1_000_000, "2026-11-28"
PATTERNS, OF_PARTS, SECONDS = 60, 200, 2.0
PAST_DAY = "2020-12-31"
SUM = """
import sys, pandas, sqlite3
book = sqlite3.connect(f"file:{sys.argv[1]}?mode=ro", uri=True)
book.execute("SELECT SUM(line.quantity), SUM(line.cost) FROM movement line"
    " JOIN document ON document.id = line.document_id"
    " WHERE line.account = 'shelf' AND document.on_date <= ?", sys.argv[2:]).fetchall()
"""
COVERING = """
import sys, pandas, sqlite3
book = sqlite3.connect(f"file:{sys.argv[1]}?mode=ro", uri=True)
bought = ("FROM movement line JOIN purchase ON purchase.id = line.purchase_id"
    " JOIN document ON document.id = line.document_id WHERE line.account = 'due' AND document.on_date <= :day")
book.execute("SELECT purchase.part_id, purchase.supplier_id, purchase.pack, strftime('%Y', document.on_date) step,"
    f" COUNT(*), SUM(line.quantity), SUM(line.cost) {bought} AND document.kind = 'placed' GROUP BY 1, 2, 3, 4"
    f" UNION ALL SELECT line.document_id, purchase.supplier_id, 0, 0, 0, 0, SUM(-line.cost) {bought}"
    " AND document.kind = 'arrival' GROUP BY 1, 2"
    " UNION ALL SELECT line.document_id, 0, 0, 0, 0, SUM(line.cost * (line.reason = 'postage')), SUM(line.cost)"
    " FROM movement line JOIN document ON document.id = line.document_id WHERE line.account = 'shelf'"
    " AND document.kind = 'arrival' AND line.reason IN ('arrived', 'added', 'postage')"
    " AND document.on_date <= :day GROUP BY 1"
    " UNION ALL SELECT outcome.pattern_id, outcome.blank_id, 0, strftime('%Y', document.on_date) step, 0, 0,"
    " SUM(outcome.good) FROM outcome JOIN document ON document.id = outcome.document_id"
    " WHERE document.on_date <= :day GROUP BY 1, 2, 4", {"day": sys.argv[2]}).fetchall()
"""


def main(arguments: list[str]) -> int:
    """Measure and print the table."""
    if (code := elsewhere(__file__, arguments)) is not None:
        return code
    quick = "--quick" in arguments
    if "--book" in arguments:
        made = Path(arguments[arguments.index("--book") + 1])
    else:
        from big_store import make_store

        made = make_store(PARTS, FEW if quick else MANY)
    with tempfile.TemporaryDirectory() as folder:
        book = Path(folder) / "book.kitdrawer"
        shutil.copy(made, book)
        met = [*_looking_back(book, 2 if quick else 5), _makeable(2 if quick else 5)]
    return 0 if all(met) else 1


def _looking_back(book: Path, runs: int) -> list[bool]:
    own = str(PYTHON.with_name("kitdrawer"))
    back = {
        "worth": ["worth", "--on", PAST_DAY],
        "earned": ["earned", "--since", "2000-01-01"],
        "history": ["history"],
    }
    lines = {
        "sum": [str(PYTHON), "-c", SUM, str(book), TODAY],
        "sum to a past day": [str(PYTHON), "-c", SUM, str(book), PAST_DAY],
        "covering sum": [str(PYTHON), "-c", COVERING, str(book), TODAY],
        **{name: [own, *words] for name, words in back.items()},
        **{f"{name} --json": [own, *words, "--json"] for name, words in back.items()},
        "shelf": [own, "shelf"],
        "page": [own, "page", str(book.with_suffix(".html")), "--overwrite"],
    }
    took: dict[str, list[float]] = {name: [] for name in lines}
    for turn in range(runs + 1):  # the first is not counted
        for name, words in lines.items():
            seconds = _timed(words, book)
            if turn:
                took[name].append(seconds)
    floors = {"worth": "sum to a past day", "earned": "sum", "history": "covering sum"}
    met = [
        _said(shown, took[shown], took[floor], 2.0)
        for name, floor in floors.items()
        for shown in (name, f"{name} --json")
    ]
    for shown in ("history", "history --json"):
        _said(f"{shown}, bare sum", took[shown], took["sum"])
    return [*met, _said("page", took["page"], took["shelf"], 3.0)]


def _timed(words: list[str], book: Path) -> float:
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    around = surroundings(KITDRAWER_TODAY=TODAY, KITDRAWER_STORE=str(book))
    subprocess.run(words, env=around, capture_output=True, check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def _said(name: str, ours: list[float], floor: list[float], target: float = float("inf")) -> bool:
    ratio = statistics.median(one / least for one, least in zip(ours, floor, strict=True))
    verdict = (
        f", target {target:g}  {'met' if ratio <= target else 'MISSED'}" if target < float("inf") else ""
    )
    seconds = f"{statistics.median(ours):.2f} s (least {min(ours):.2f}), floor {statistics.median(floor):.2f}"
    seconds += f" ({min(floor):.2f})"
    print(f"{name}: {seconds}: ratio {ratio:.2f}{verdict}")
    return ratio <= target


def _makeable(shops: int) -> bool:
    """Whole-number programmes of 60 patterns over 200 parts, the slowest of some made-up shops.

    Where each pattern takes fifteen supplies drawn at random in amounts drawn at random, as no shop does, it takes 1 to
    6 s, and counting pieces alone is not always proven in 20.
    """
    from inventory.making.product_mix import best_mix

    worst, proven = 0.0, True
    for seed in range(shops + 1):
        task = _task(random.Random(seed))
        begun = time.process_time()
        found = best_mix(task)
        if seed:  # the first loads the solver
            worst, proven = max(worst, time.process_time() - begun), proven and found.proven
    fine = proven and worst < SECONDS
    print(
        f"makeable, {PATTERNS} patterns × {OF_PARTS} parts: {worst:.2f} s at most of {shops} shops, proven: {proven}; "
        f"target {SECONDS:g} s  {'met' if fine else 'MISSED'}"
    )
    return fine


def _task(dice: random.Random) -> MixTask:
    """At what pieces earn in 60 hours: kits of 60 patterns, tubes of twelve families, five finishing schedules.

    A schedule takes twenty supplies, its patterns within a fifth alike, of bottles that do for 5 to 80 pieces; twenty
    more parts are shared by a few patterns each. Blanks of twenty woods give up to two pieces of each family's size.
    """
    from inventory.making.product_mix import BlankSupply, MixItem
    from inventory.making.product_mix import MixTask as Task

    tubes, supplies = PATTERNS, PATTERNS + 20
    there: dict[Hashable, int] = {at: 1000 * dice.randint(0, 9) for at in range(PATTERNS)}
    there |= {tubes + at: 1000 * dice.randint(4, 60) for at in range(20)}
    usual = {part: dice.randint(50, 3000) for part in range(supplies, OF_PARTS)}
    there |= {part: usual[part] * dice.randint(5, 80) for part in usual}
    items = []
    for at in range(PATTERNS):
        family, schedule = at % 12, supplies + 20 * (at % 5)
        needs: dict[Hashable, int] = {at: 1000, tubes + family: 1000 * dice.randint(1, 2)}
        own = [*range(schedule, schedule + 20), *dice.sample(range(supplies + 100, OF_PARTS), 2)]
        needs |= {part: usual[part] * dice.randint(80, 120) // 100 for part in own}
        size = f"size {family}"
        items.append(MixItem(at, size, dice.randint(300, 4000), dice.randint(15, 70), needs))
    sizes = [f"size {family}" for family in range(12)]
    blanks = [
        BlankSupply(
            f"blank {at}",
            dice.randint(0, 12),
            {size: dice.randint(0, 2) for size in sizes},
            cost=dice.randint(50, 700),
        )
        for at in range(20)
    ]
    return Task(items, there, blanks, 60 * 60)


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
