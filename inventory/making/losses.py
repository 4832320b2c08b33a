"""How many pieces to start so that enough come out good.

Pieces are started one after another until N are good. With p the chance that one piece survives, the number
of failures F before the N-th good piece is negative binomial:

    P(F = k) = C(N + k − 1, k) · p^N · (1 − p)^k

and P(Binomial(n, p) ≥ N) = P(F ≤ n − N), so the starts needed at confidence c are N plus the c-quantile of F
(Sedcole, *Crop Science* 17, 1977, tabulates the same rule for seeds, Wilks 1941 for tolerance limits).
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import accumulate
from math import fsum
from operator import mul

from inventory.errors import BadInput

MOST_STARTS = 5_000_000
"""Expected starts beyond which no answer is of use to anybody; asking for more is refused."""

_NEGLIGIBLE = 1e-20  # share of the likeliest outcome below which an outcome is left out
_TIE = 1e-12  # 0.9 of 0.9 must count as reached although floats may fall a hair short


def check_good(good: int) -> None:
    """Refuse a count of good pieces below one."""
    if good < 1:
        raise BadInput(f"{good} good pieces cannot be planned for.", hint="Ask for one piece or more.")


def check_success(success: float) -> None:
    """Refuse a success probability outside 0 < p ≤ 1 (a NaN is outside too)."""
    if not 0.0 < success <= 1.0:
        raise BadInput(
            f"A success of {success:g} cannot be used.",
            hint="The share of pieces that survive lies above 0 and is at most 1 (0.95 = 19 of 20).",
        )


def check_starts(good: int, success: float) -> None:
    """Refuse what `check_good` and `check_success` refuse, and losses so heavy that the work is hopeless."""
    check_good(good)
    check_success(success)
    if good / success > MOST_STARTS:
        raise BadInput(
            f"{good} good pieces at a success of {success:g} would take more than {MOST_STARTS:,} starts.",
            hint="Check the losses by stage; a success this low is most likely a typing mistake.",
        )


def check_confidence(confidence: float) -> None:
    """Refuse a confidence outside 0 < c < 1."""
    if not 0.0 < confidence < 1.0:
        raise BadInput(
            f"A confidence of {confidence:g} cannot be used.",
            hint="Give a share between 0 and 1, neither included (0.9 = right nine times in ten).",
        )


@lru_cache(maxsize=4096)
def failure_odds(good: int, success: float) -> tuple[int, tuple[float, ...]]:
    """Failures before the `good`-th good piece: the fewest that matter; the odds of that many, one more, …

    The odds are built outwards from the likeliest count by P(k+1)/P(k) = (N + k)/(k + 1) · (1 − p) and then
    normalised, so that nothing underflows where p^N alone would. Outcomes rarer than 1e-20 of the likeliest
    are left out.
    """
    check_starts(good, success)
    lost = 1.0 - success
    mode = int((good - 1) * lost / success)
    below, weight, k = [], 1.0, mode
    while k > 0 and (weight := weight * k / ((good + k - 1) * lost)) > _NEGLIGIBLE:
        below.append(weight)
        k -= 1
    above, weight, k = [1.0], 1.0, mode
    while (weight := weight * (good + k) / (k + 1) * lost) > _NEGLIGIBLE:
        above.append(weight)
        k += 1
    weights = below[::-1] + above
    total = fsum(weights)
    return mode - len(below), tuple(weight / total for weight in weights)


def starts_for(good: int, success: float, confidence: float) -> int:
    """Pieces to start so that at least `good` come out with probability `confidence`.

    The smallest n with P(Binomial(n, success) ≥ good) ≥ confidence; a probability within 1e-12 of the
    confidence counts as reached. `success` is the chance in (0, 1] that one started piece survives.

    >>> starts_for(10, 0.9, 0.95)
    13
    """
    check_confidence(confidence)
    fewest, odds = failure_odds(good, success)
    sums = accumulate(odds)
    more = next((k for k, reached in enumerate(sums) if reached >= confidence - _TIE), len(odds) - 1)
    return good + fewest + more


def onward_success(success_by_stage: Sequence[float]) -> tuple[float, ...]:
    """For each stage, the chance that a piece reaching it ends up good: the product from that stage on."""
    for success in success_by_stage:
        check_success(success)
    return tuple(accumulate(reversed(success_by_stage), mul))[::-1]


def reach_quantiles(good: int, success_by_stage: Sequence[float], confidence: float) -> tuple[int, ...]:
    """Pieces to allow for at each stage: R_s = `starts_for`(good, p_s · p_{s+1} · …, confidence).

    Each stage alone is enough with probability `confidence`; all together are enough with less
    (`inventory.making.odds` gives the joint odds).
    """
    return tuple(starts_for(good, onward, confidence) for onward in onward_success(success_by_stage))


def expected_reach(good: int, success_by_stage: Sequence[float]) -> tuple[float, ...]:
    """Mean number of pieces that reach each stage until `good` are good: E[R_s] = N / (p_s · p_{s+1} · …)."""
    check_good(good)
    return tuple(good / onward for onward in onward_success(success_by_stage))
