"""How strong should the book's loss figures be taken? A table of errors by the pieces they count for.

    python3 scripts/soak/loss_strength.py [--shops 60]

Shops are made up apart from the model that is tried: eight materials at six stages with figures like those of a
sheet, three kinds of maker (the sheet is right, he loses twice or three times as much), and by material and stage a
share of its own about that (lognormal: most lie within a third of it, or, for unlike materials, within a half). A
session works one to three materials, four to twelve pieces of each. The error is the root mean square, in points, of
the learned share of pieces lost from the first stage to the last, over the materials that were worked.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Mapping, Sequence
from math import prod
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import elsewhere

if TYPE_CHECKING:
    import numpy as np

STAGES = ("cut", "drill", "glue", "trim", "turn", "assemble")
BOOK = (0.01, 0.03, 0.01, 0.02, 0.04, 0.01)
MATERIALS = {
    "soft": 0.6,
    "plain": 0.8,
    "common": 1.0,
    "dense": 1.2,
    "resin": 1.0,
    "spalted": 2.0,
    "burl": 2.5,
    "horn": 1.5,
}
STRENGTHS = (20, 40, 60, 80, 100, 120)
SESSIONS = (10, 30, 60)
KINDS = {"sheet right": 1.0, "x 2": 2.0, "x 3": 3.0}
SPREADS = {"within a third": 0.3, "within a half": 0.5}

Counts = dict[tuple[str, str], tuple[int, int]]
Shares = dict[tuple[str, str], float]

SHEET: Shares = {
    (name, stage): times * loss
    for name, times in MATERIALS.items()
    for stage, loss in zip(STAGES, BOOK, strict=True)
}


def truth(dice: np.random.Generator, kind: float, spread: float) -> Shares:
    """What one shop really loses."""
    return {
        key: min(0.8, loss * kind * float(dice.lognormal(-(spread**2) / 2, spread)))
        for key, loss in SHEET.items()
    }


def session(dice: np.random.Generator, real: Shares, counts: Counts) -> None:
    """One session's pieces added to the counts."""
    for name in dice.choice(list(MATERIALS), size=int(dice.integers(1, 4)), replace=False):
        here = int(dice.integers(4, 13))
        for stage in STAGES:
            lost = int(dice.binomial(here, real[name, stage]))
            reached, before = counts.get((name, stage), (0, 0))
            counts[name, stage] = reached + here, before + lost
            here -= lost


def whole(shares: Mapping[tuple[str, str], float], name: str) -> float:
    """The share lost from the first stage to the last."""
    return 1.0 - prod(1.0 - shares[name, stage] for stage in STAGES)


def errors(dice: np.random.Generator, kind: float, spread: float) -> dict[tuple[int, int], list[float]]:
    """Squared errors of one shop, by strength and number of sessions."""
    from inventory.making.losses.learned import learn_losses

    real, counts, done = truth(dice, kind, spread), Counts(), {}
    for number in range(1, max(SESSIONS) + 1):
        session(dice, real, counts)
        if number in SESSIONS:
            worked = {name for name, _ in counts}
            for strength in STRENGTHS:
                learned = {
                    key: one.mean for key, one in learn_losses(counts, SHEET, strength=strength).items()
                }
                done[strength, number] = [(whole(learned, name) - whole(real, name)) ** 2 for name in worked]
    return done


def main(arguments: Sequence[str]) -> int:
    """Print the table."""
    if (code := elsewhere(__file__, arguments, "test")) is not None:
        return code
    import numpy as np

    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--shops", type=int, default=60)
    shops = asked.parse_args(arguments).shops
    print(f"{'materials':>16} {'maker':>12} {'sessions':>9}" + "".join(f"{k:>8}" for k in STRENGTHS))
    total: dict[int, float] = dict.fromkeys(STRENGTHS, 0.0)
    for (said, spread), (kind, times) in ((s, k) for s in SPREADS.items() for k in KINDS.items()):
        dice = np.random.default_rng(20261128)
        sums: dict[tuple[int, int], list[float]] = {}
        for _ in range(shops):
            for key, squares in errors(dice, times, spread).items():
                sums.setdefault(key, []).extend(squares)
        for number in SESSIONS:
            row = [100 * float(np.sqrt(np.mean(sums[k, number]))) for k in STRENGTHS]
            for k, error in zip(STRENGTHS, row, strict=True):
                total[k] += error / len(SESSIONS) / len(KINDS) / len(SPREADS)
            print(f"{said:>16} {kind:>12} {number:>9}" + "".join(f"{error:>8.2f}" for error in row))
    print(f"{'mean':>39}" + "".join(f"{total[k]:>8.2f}" for k in STRENGTHS))
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
