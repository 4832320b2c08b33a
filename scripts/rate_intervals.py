"""How often a rate's 90 % interval holds the truth: a table over kinds of shop, hands and numbers of sessions.

    python3 scripts/rate_intervals.py               300 shops a row (some minutes)
    python3 scripts/rate_intervals.py --shops 1000  as many shops a row
    python3 scripts/rate_intervals.py --only 3      rows whose name has this word

Shops are made here, by none of the program's own model: what a session uses is drawn from the truth and the hand of
whoever works, and shown on a scale. Exit code 1 where any row is held less often than 85 in 100.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from environment import elsewhere

LEAST = 0.85
SHOPS = 300


@dataclass(frozen=True, slots=True)
class Row:
    """One kind of shop. truth: times the sheet, None: drawn evenly from a half to one and a half for each rate."""

    rates: str
    hand: str
    scatter: float
    truth: float | None
    sessions: int

    @property
    def name(self) -> str:
        """As the table has it."""
        truth = "0.5 to 1.5" if self.truth is None else f"{self.truth:g} x"
        return f"{self.rates:<18} {truth:<11} {self.hand:<13} {100 * self.scatter:>3.0f} % {self.sessions:>9}"


def rows() -> Iterator[Row]:
    """The rows of the table: every kind of bottle, hand and truth, after two, eight and twenty sessions."""
    for rates in ("piece", "piece, session", "volume, barrel"):
        for hand, scatter in (("constant", 0.1), ("root", 0.2), ("proportional", 0.1), ("proportional", 0.3)):
            for truth in (None, 1.0, 2.0, 3.0):
                for sessions in (2, 4, 8, 20):
                    yield Row(rates, hand, scatter, truth, sessions)


def held(row: Row, shops: int, seed: int) -> tuple[dict[str, float], dict[str, float]]:
    """By rate: the share of shops whose interval holds the truth, and the median width over the truth."""
    import numpy as np

    from inventory.jobs.learning import prior_of
    from inventory.making.rates import Observation, learn

    dice = np.random.default_rng(seed)
    pers = {
        "piece": ["piece"],
        "piece, session": ["piece", "session"],
        "volume, barrel": ["volume", "barrel"],
    }[row.rates]
    hits = dict.fromkeys(pers, 0)
    widths: dict[str, list[float]] = {per: [] for per in pers}
    for _ in range(shops):
        pieces = dice.integers(2, 21, row.sessions).astype(float)
        # the sheet's use: 1 ml a piece; a session takes as much as five pieces; barrels differ by pattern
        share = dice.uniform(0.2, 0.8, row.sessions)
        asked = {
            "piece": pieces,
            "session": np.full(row.sessions, 5.0),
            "volume": pieces * share,
            "barrel": pieces * (1 - share),
        }
        truth = {per: row.truth if row.truth else float(dice.uniform(0.5, 1.5)) for per in pers}
        exact = sum((truth[per] * asked[per] for per in pers), np.zeros(row.sessions))
        used = by_hand(row, exact, dice)
        error = 0.1
        shown = used + error * dice.normal(size=row.sessions)
        seen = [
            Observation(i, float(shown[i]), {per: float(asked[per][i]) for per in pers}, error)
            for i in range(row.sessions)
        ]
        for per, rate in learn(seen, {per: prior_of(per) for per in pers}).rates.items():
            hits[per] += rate.low <= truth[per] <= rate.high
            widths[per].append((rate.high - rate.low) / truth[per])
    return {per: hit / shops for per, hit in hits.items()}, {
        per: float(np.median(w)) for per, w in widths.items()
    }


def by_hand(row: Row, exact, dice):
    import numpy as np

    z = dice.normal(size=len(exact))
    usual = exact.mean()
    if row.hand == "constant":
        return np.maximum(exact + row.scatter * usual * z, 0.0)
    if row.hand == "root":
        return np.maximum(exact + row.scatter * np.sqrt(usual * exact) * z, 0.0)
    spread = np.sqrt(np.log1p(row.scatter**2))
    return exact * np.exp(spread * z - spread**2 / 2)


def main(arguments: Sequence[str]) -> int:
    if (code := elsewhere(__file__, arguments, "test")) is not None:
        return code
    shops = int(arguments[arguments.index("--shops") + 1]) if "--shops" in arguments else SHOPS
    words = arguments[arguments.index("--only") + 1] if "--only" in arguments else ""
    import time, zlib

    t = time.time()
    worst = 1
    low = 0
    tot = []
    for row in rows():
        if words not in row.name:
            continue
        share, width = held(row, shops, zlib.crc32(row.name.encode()))
        worst = min(worst, *share.values())
        tot += share.values()
        low += sum(v < LEAST for v in share.values())
        if min(share.values()) < LEAST or "--all" in arguments:
            print(
                row.name,
                "  ",
                "  ".join(f"{per} {100 * s:.0f} % ({width[per]:.2f})" for per, s in share.items()),
                flush=True,
            )
    print(f"worst {worst:.3f} low {low} of {len(tot)} mean {sum(tot) / len(tot):.3f}  {time.time() - t:.0f}s")
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
