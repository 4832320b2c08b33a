"""Knowing ahead: a rehearsal against a plain loop over the same events, `levels` against `shopping`, 500 forecasts.

    python3 scripts/bench/ahead.py [--quick]

Run by scripts/bench.py. The rehearsal is of 2,000 parts, 26 weeks and 2,000 futures (200 with `--quick`). A plain loop
lives the first of them, comes to the same figures, and counts as often as there are futures. Seconds of the processor.
Exit code 1 where a target is missed.

`levels` and `shopping` are timed on a book of 100 orders; as the list that looks ahead works levels out itself, today's
list is beside it. On a book of ten years, 963,139 lines and 600 parts in use (`soak/years.py --years 10 --only
"shopping,shopping today,levels"`) `levels` takes 1.9 s of a processor, today's list 2.8, the one that looks ahead 4.6;
`levels` took 34.8 s before changes of a joint cycle were found from a heap and bills worked out without what is there.
"""

from __future__ import annotations

import resource
import statistics
import subprocess
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import PYTHON, ROOT, elsewhere, surroundings

PARTS, KINDS, WEEKS, FUTURES = 2000, 400, 26, 2000
PLAIN = 8
"""Futures the plain loop lives."""
TODAY = "2026-11-28"


def main(arguments: list[str]) -> int:
    """Measure and print the table."""
    if (code := elsewhere(__file__, arguments, "test")) is not None:
        return code
    sys.path.insert(0, str(ROOT / "tests"))
    quick = "--quick" in arguments
    met = [_rehearsal(FUTURES // 10 if quick else FUTURES), _forecasts(), _levels(2 if quick else 5)]
    return 0 if all(met) else 1


def _rehearsal(many: int) -> bool:
    from planning.plain_rehearsal import live_plainly
    from planning.rehearsal_case import made_up, ways

    from inventory.planning.rehearsal.drawing import futures
    from inventory.planning.rehearsal.living import live

    scene = made_up(PARTS, KINDS, WEEKS, seed=1, orders=20.0)
    way = ways(scene)[0]
    begun = time.process_time()
    drawn = futures(scene, many, 1)
    half = time.process_time()
    (lived,) = live(scene, drawn, [way])
    ended = time.process_time()
    same = True
    for future in range(PLAIN):
        told, held, _ = live_plainly(scene, drawn, way, future)
        same &= all(int(getattr(lived, name)[future]) == value for name, value in told.items())
        same &= lived.held[:, future].tolist() == held
    plain = (time.process_time() - ended) / PLAIN * many
    ours, memory = ended - half, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"rehearsal, {PARTS:,} parts × {WEEKS} weeks × {many:,} futures ({len(drawn.week):,} orders)")
    print(f"  drawn {half - begun:.2f} s, lived {ours:.2f} s, plain loop {plain:.1f} s; {memory:.0f} MB")
    fine = same and plain / ours >= 20 and memory < 1024
    print(f"  ratio {plain / ours:.1f}, target 20; the same figures: {same}  {'met' if fine else 'MISSED'}")
    return fine


def _forecasts() -> bool:
    """500 series of ten years of weeks, by every method, with rolling origins."""
    import numpy as np

    from inventory.planning.forecasting.choosing import choose

    dice = np.random.RandomState(3)
    demand = dice.poisson(dice.gamma(0.5, 0.4, size=500), size=(520, 500)).astype(float)
    begun = time.process_time()
    choose(demand, 4, np.full(500, 0.2), 6.0)
    took = time.process_time() - begun
    print(f"forecasts of 500 series, 520 weeks: {took:.2f} s, target 2  {'met' if took < 2 else 'MISSED'}")
    return took < 2


def _levels(runs: int) -> bool:
    """The whole processes, on the sample's book with a hundred orders; no long book is timed here."""
    from many_orders import make_shop

    store = str(make_shop(100, TODAY))
    lines = ("shopping", "shopping --today-only", "levels", "rehearse")
    took: dict[str, list[float]] = {line: [] for line in lines}
    for turn in range(runs + 1):  # the first is not counted
        for line, seconds in took.items():
            words = [str(PYTHON.with_name("kitdrawer")), *line.split(), "--json", "--store", store]
            before = resource.getrusage(resource.RUSAGE_CHILDREN)
            subprocess.run(words, env=surroundings(KITDRAWER_TODAY=TODAY), capture_output=True, check=False)
            after = resource.getrusage(resource.RUSAGE_CHILDREN)
            if turn:
                seconds.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    ahead, today, levels, rehearse = (statistics.median(took[line]) for line in lines)
    fine = levels < 2 * min(ahead, today)
    print(f"shopping {ahead:.2f} s, --today-only {today:.2f} s, levels {levels:.2f} s", end="")
    print(
        f": ratio {levels / min(ahead, today):.2f}, target 2  {'met' if fine else 'MISSED'}; rehearse {rehearse:.2f} s"
    )
    return fine


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
