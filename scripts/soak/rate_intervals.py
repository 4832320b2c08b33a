"""How often a rate's 90 % interval holds the truth: a table over kinds of shop, hands and numbers of sessions.

    python3 scripts/soak/rate_intervals.py               400 shops a row (a quarter of an hour)
    python3 scripts/soak/rate_intervals.py --shops 1000  as many shops a row
    python3 scripts/soak/rate_intervals.py --only 3      rows whose name has this in it

Shops are made here, by none of the program's own model: what a session uses is drawn from the truth and the hand of
whoever works, and read off a scale. Exit code 1 where a row is held less often than 85 times in 100.
"""

from __future__ import annotations

import sys
import zlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import Stopped, elsewhere

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

LEAST = 0.85
SHOPS = 400
SCALE = 0.1
"""Millilitres the scale may be off, one standard deviation; a piece takes 1 ml by the sheet."""
BOTTLES = {
    "piece": ("piece",),
    "piece + session": ("piece", "session"),
    "volume + barrel": ("volume", "barrel"),
}
HANDS = (("constant", 0.1), ("proportional", 0.1), ("proportional", 0.25))


@dataclass(frozen=True, slots=True)
class Row:
    """One kind of shop. truth: times the sheet; None: drawn evenly from a half to one and a half for each rate."""

    bottle: str
    truth: float | None
    hand: str
    scatter: float
    sessions: int

    @property
    def name(self) -> str:
        """As the table has it."""
        truth = "0.5 to 1.5" if self.truth is None else f"{self.truth:g} x"
        return (
            f"{self.bottle:<16} {truth:<10} {self.hand:<12} {100 * self.scatter:>3.0f} % {self.sessions:>8}"
        )


def rows() -> Iterator[Row]:
    """Every kind of bottle, truth and hand, after a few sessions and after many."""
    for bottle in BOTTLES:
        for truth in (None, 2.0, 3.0):
            for hand, scatter in HANDS:
                for sessions in (2, 6, 20):
                    yield Row(bottle, truth, hand, scatter, sessions)


def held(row: Row, shops: int, seed: int | None = None) -> dict[str, tuple[float, float]]:
    """By rate: the share of shops whose interval holds the truth, and the median of its width over the truth."""
    import numpy as np

    from inventory.jobs.learning.beliefs import prior_of
    from inventory.making.rates.learning import learn
    from inventory.making.rates.model import Observation

    dice = np.random.default_rng(zlib.crc32(row.name.encode()) if seed is None else seed)
    pers = BOTTLES[row.bottle]
    found: dict[str, list[tuple[bool, float]]] = {per: [] for per in pers}
    for _ in range(shops):
        asked = _asked(row.sessions, dice)
        truth = {per: row.truth or float(dice.uniform(0.5, 1.5)) for per in pers}
        exact = sum((truth[per] * asked[per] for per in pers), np.zeros(row.sessions))
        shown = by_hand(row.hand, row.scatter, exact, dice) + SCALE * dice.normal(size=row.sessions)
        seen = [
            Observation(i, float(shown[i]), {per: float(asked[per][i]) for per in pers}, SCALE)
            for i in range(row.sessions)
        ]
        for per, rate in learn(seen, {per: prior_of(per) for per in pers}).rates.items():
            found[per].append((rate.low <= truth[per] <= rate.high, (rate.high - rate.low) / truth[per]))
    return {
        per: (sum(hit for hit, _ in each) / shops, float(np.median([width for _, width in each])))
        for per, each in found.items()
    }


def _asked(sessions: int, dice: np.random.Generator) -> dict[str, Floats]:
    """Two to twenty pieces a session; what is taken once is worth five; patterns differ in their barrels."""
    import numpy as np

    pieces = dice.integers(2, 21, sessions).astype(float)
    share = dice.uniform(0.2, 0.8, sessions)
    return {
        "piece": pieces,
        "session": np.full(sessions, 5.0),
        "volume": pieces * share,
        "barrel": pieces * (1 - share),
    }


def by_hand(hand: str, scatter: float, exact: Floats, dice: np.random.Generator) -> Floats:
    """What is really used where so much is the mean: never below nothing, and skew where it grows with use."""
    import numpy as np

    z = dice.normal(size=len(exact))
    if hand == "constant":
        return np.maximum(exact + scatter * float(exact.mean()) * z, 0.0)
    spread = float(np.sqrt(np.log1p(scatter**2)))
    return np.asarray(exact * np.exp(spread * z - spread**2 / 2))


def main(arguments: Sequence[str]) -> int:
    """Print the table, a line as soon as it is known."""
    if (code := elsewhere(__file__, arguments, "test")) is not None:
        return code
    shops = int(_said(arguments, "--shops", str(SHOPS)))
    word = _said(arguments, "--only", "")
    print(f"{'rates':<16} {'truth':<10} {'hand':<12} {'':>5} {'sessions':>8}   held by 90 % (width)")
    shares: list[float] = []
    for row in rows():
        if word in row.name:
            found = held(row, shops)
            told = "  ".join(f"{per} {share:.1%} ({width:.2f})" for per, (share, width) in found.items())
            print(f"{row.name}   {told}", flush=True)
            shares += (share for share, _ in found.values())
    if not shares:
        raise Stopped(f"No row has “{word}” in its name; they are like “{next(rows()).name}”.")
    low = sum(share < LEAST for share in shares)
    mean = sum(shares) / len(shares)
    print(f"{len(shares)} rates: least {min(shares):.1%}, mean {mean:.1%}, below {LEAST:.0%}: {low}")
    return int(low > 0)


def _said(arguments: Sequence[str], name: str, otherwise: str) -> str:
    return arguments[arguments.index(name) + 1] if name in arguments else otherwise


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
