"""Is a confidence kept? Orders of invented shops, drawn from what is believed before anything is seen, and made.

    python3 scripts/soak/confidence.py [--shops 400]

Everything but the number of starts is worked out here, apart from the program's own laws: for each shop and stage a
factor of its own (exponential, 1 on average), for its material a share about the book's figure times that, then pieces
one by one. `before`: the material was never worked; `after`: forty pieces of it were, and the shop has learned from
them. The program is told what was counted and says how many to start and to allow for at each stage, and the chance
that this is enough; the batch is then begun, at each stage no more than allowed for are worked on, and whoever gets N
good ones has kept the promise. A whole number of starts is often enough with more than was asked for: so what was kept
is held against the chance that was stated for that number, and must not fall below what was asked by 2 points.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import elsewhere

if TYPE_CHECKING:
    import numpy as np

    from inventory.making.evening import Evening
    from inventory.making.losses.starts import Survival

    Dice = np.random.Generator

STAGES = ("cut", "drill", "glue", "trim", "turn", "finish", "assemble")
BOOKS = {
    "plain": (0.01, 0.02, 0.01, 0.01, 0.03, 0.01, 0.01),
    "brittle": (0.02, 0.08, 0.02, 0.04, 0.10, 0.02, 0.01),
}
COUNTS = (3, 6, 12, 30, 60)
ASKED = (0.80, 0.90, 0.95)
SEEN = 40
BATCHES = 500


def shop(dice: Dice, book: Sequence[float]) -> list[float]:
    """What one shop really loses of a material at each stage."""
    import numpy as np

    from inventory.making.losses.priors import STRENGTH

    real = []
    for loss in book:
        given = 1.0 - np.exp(-loss / (1.0 - loss) * dice.exponential())
        real.append(float(dice.beta(STRENGTH * given, STRENGTH * (1.0 - given))) if given > 1e-9 else 0.0)
    return real


def counted(dice: Dice, real: Sequence[float]) -> dict[tuple[str, str], tuple[int, int]]:
    """Forty pieces of it, made: how many reached each stage, and how many were lost there."""
    here, counts = SEEN, {}
    for stage, loss in zip(STAGES, real, strict=True):
        lost = int(dice.binomial(here, loss))
        counts["it", stage] = here, lost
        here -= lost
    return counts


def believed(
    book: Sequence[float], counts: dict[tuple[str, str], tuple[int, int]] | None
) -> tuple[Survival, ...]:
    """What the program believes of the stages."""
    from inventory.making.losses.learned import learn_losses
    from inventory.making.losses.priors import first_worth
    from inventory.making.losses.starts import Survival

    if counts is None:
        return tuple(Survival(1.0 - loss, first_worth(loss)) for loss in book)
    learned = learn_losses(counts, {("it", stage): loss for stage, loss in zip(STAGES, book, strict=True)})
    return tuple(Survival(1.0 - one.mean, one.worth) for one in learned.values())


def kept(dice: Dice, batch: Evening, real: Sequence[float]) -> float:
    """The share of batches that give enough in a shop that loses so much."""
    import numpy as np

    here = np.full(BATCHES, batch.starts)
    for most, loss in zip(batch.allowed, real, strict=True):
        here = dice.binomial(np.minimum(here, most), 1.0 - loss)
    return float(np.mean(here >= batch.good))


def main(arguments: Sequence[str]) -> int:
    """Print the table; exit code 1 where a confidence is not kept."""
    if (code := elsewhere(__file__, arguments, "test")) is not None:
        return code
    import numpy as np

    from inventory.making.evening import evening

    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--shops", type=int, default=400)
    shops, broken = asked.parse_args(arguments).shops, 0
    print(
        f"{'material':>10} {'':>7} {'good':>5} {'asked':>6} {'stated':>7} {'kept':>6} {'+-':>5} {'starts':>7}"
    )
    for name, book in BOOKS.items():
        for seen in (False, True):
            dice = np.random.default_rng(20261128)
            rows: dict[tuple[int, float], list[tuple[float, float, int]]] = {}
            for _ in range(shops if seen else 10 * shops):
                real = shop(dice, book)
                beliefs = believed(book, counted(dice, real) if seen else None)
                for good in COUNTS:
                    for level in ASKED:
                        batch = evening(good, beliefs, level)
                        row = batch.probability, kept(dice, batch, real), batch.starts
                        rows.setdefault((good, level), []).append(row)
            for (good, level), found in rows.items():
                stated, held, starts = (float(one) for one in np.mean(found, axis=0))
                error = float(np.std([one[1] for one in found]) / len(found) ** 0.5)
                bad = abs(held - stated) > 0.02 + 2 * error or held < level - 0.02 - 2 * error
                broken += bad
                when = "after" if seen else "before"
                print(
                    f"{name:>10} {when:>7} {good:>5} {100 * level:>5.0f}% {100 * stated:>6.1f}% {100 * held:>5.1f}%"
                    f" {100 * error:>5.1f} {starts:>7.1f}{'  NOT KEPT' if bad else ''}"
                )
    return int(broken > 0)


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
