"""The basket against a plain integer programme for HiGHS, on generated lists of 10 to 200 lines.

    python3 scripts/bench_basket.py [--quick]

Run by scripts/bench.py. Each case is solved by both in the same run; a case HiGHS cannot prove within its limit counts
with that limit as its time. Also: 25 lines against the start of the whole `shopping`
process, before it searches. Exit code 1 where a target is missed.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from environment import PYTHON, ROOT, VENV, ready, surroundings

LINES = (10, 25, 50, 100, 200)
LIMIT = 60.0


def main(arguments: list[str]) -> int:
    """Measure and print the table."""
    ready("test")
    if Path(sys.prefix).resolve() != VENV.resolve():
        words = [str(PYTHON), __file__, *arguments]
        return subprocess.run(words, env=surroundings(), check=False).returncode
    sys.path.insert(0, str(ROOT / "tests"))
    quick = "--quick" in arguments
    states, lines = (2, LINES[:3]) if quick else (5, LINES)
    print(f"{'basket, lines':<22}{'HiGHS s':>9}{'ours s':>9}{'ratio':>8}{'proven':>9}  same optimum")
    print("-" * 80)
    ratios, worse = [], 0
    for count in lines:
        ours, theirs, proven, same = [], [], 0, 0
        for state in range(states):
            took, limit, sure, verdict = _case(count, state)
            ours.append(took)
            theirs.append(limit)
            proven += sure
            same += verdict >= 0
            worse += verdict < 0
        ratio = statistics.median(t / o for t, o in zip(theirs, ours, strict=True))
        ratios += [t / o for t, o in zip(theirs, ours, strict=True)]
        print(
            f"{count:<22}{statistics.median(theirs):>9.3f}{statistics.median(ours):>9.3f}{ratio:>8.1f}"
            f"{f'{proven} of {states}':>9}  {same} of {states}",
            flush=True,
        )
    median = statistics.median(ratios)
    print(f"{'median of all':<22}{'':>18}{median:>8.1f}   target 5.0  {'met' if median >= 5 else 'UNDER'}")
    share = _against_a_process()
    print(
        f"{'25 lines / its start':<22}{'':>18}{share:>8.2f}   target 0.3  {'met' if share < 0.3 else 'OVER'}"
    )
    return 1 if worse or median < 5 or share >= 0.3 else 0


def _case(count: int, state: int) -> tuple[float, float, bool, int]:
    """Seconds of ours and of HiGHS, whether ours is proven, and 0 same, 1 ours cheaper, -1 ours dearer."""
    from buying.basket_cases import TODAY, family, plain_milp

    from inventory.buying import best_basket

    shop = family(count, state)
    started = time.perf_counter()
    basket = best_basket(shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY, time_limit=LIMIT)
    ours = time.perf_counter() - started
    started = time.perf_counter()
    total, proven = plain_milp(shop, LIMIT)
    theirs = time.perf_counter() - started
    if total is None or basket.total < total:
        return ours, theirs, basket.proven, 1
    # HiGHS stops within its own tolerance of a ten-thousandth
    return ours, theirs, basket.proven, 0 if basket.total == total or not proven else -1


def _against_a_process() -> float:
    """25 lines proven, as a share of what `kitdrawer shopping` takes to start (a store where nothing is wanted)."""
    from buying.basket_cases import TODAY, family

    from inventory.buying import best_basket
    from inventory.store import begin

    starts, ours = [], []
    with tempfile.TemporaryDirectory() as folder:
        store = str(Path(folder) / "empty.store")
        begin(store, "EUR").close()
        for state in range(5):
            shop = family(25, state)
            started = time.perf_counter()
            words = [str(PYTHON), "-m", "inventory.cli", "shopping", "--store", store]
            subprocess.run(words, capture_output=True, check=True)
            starts.append(time.perf_counter() - started)
            started = time.perf_counter()
            best_basket(shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY)
            ours.append(time.perf_counter() - started)
    return statistics.median(ours) / statistics.median(starts)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
