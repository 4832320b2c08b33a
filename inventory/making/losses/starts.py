"""How many pieces to start so that enough come out good, when the share that survives is itself not known exactly.

What is known of the chance p that a piece survives a stage is Beta(a, b), a = share · worth, b = (1 − share) · worth:
`share` is what is expected and `worth` the pieces of experience behind it. Pieces are started one after another until
N are good; the number of failures F before the N-th good piece is then beta-negative-binomial:

    P(F = k) = C(N + k − 1, k) · B(a + N, b + k) / B(a, b)

(Johnson, Kemp, Kotz, *Univariate Discrete Distributions*, 3rd ed. 2005, ch. 6, from memory). Where p is known exactly
(worth = ∞) that is the negative binomial C(N + k − 1, k) · p^N · (1 − p)^k, and P(Binomial(n, p) ≥ N) = P(F ≤ n − N)
(Sedcole, *Crop Science* 17, 1977, tabulates the same rule for seeds, Wilks 1941 for tolerance limits; both from
memory). Going by the expected share alone would keep 95 % only as often as the guess is right.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate
from math import ceil, exp, fsum, inf, lgamma
from operator import mul

from inventory.errors import BadInput
from inventory.measures import plural

MOST_STARTS = 5_000_000
"""Expected starts beyond which no answer is of use to anybody; asking for more is refused."""

MOST_OUTCOMES = 20_000
"""Counts of failures looked at beyond the likeliest; what lies further is taken as never enough."""

_NEGLIGIBLE = 1e-20  # share of the likeliest outcome below which an outcome is left out
_AS_GOOD_AS_EXACT = 1e7
_LIGHT = 2_000.0  # pieces of experience beyond which the long end is short
TIE = 1e-12
"""0.9 of 0.9 must count as reached although floats may fall a hair short."""


@dataclass(frozen=True, slots=True)
class Survival:
    """What is known of the chance that one piece survives: what is expected, 0 < share ≤ 1, and the pieces it is worth.

    worth: a + b of the Beta distribution, above 0; infinite where the share is known exactly.
    """

    share: float
    worth: float = inf

    @property
    def sure(self) -> bool:
        """Whether nothing is ever lost."""
        return self.share >= 1.0

    @property
    def exact(self) -> bool:
        """Whether the share is known exactly, or as good as."""
        return self.worth > _AS_GOOD_AS_EXACT

    @property
    def light(self) -> bool:
        """Whether so much is known that hardly any outcome lies far out."""
        return self.sure or self.worth > _LIGHT

    @property
    def beta(self) -> tuple[float, float]:
        """The parameters of the Beta: pieces that survived, pieces that were lost."""
        return self.share * self.worth, (1.0 - self.share) * self.worth


def check_good(good: int) -> None:
    """Refuse a count of good pieces below one."""
    if good < 1:
        raise BadInput(
            f"{plural(good, 'good piece')} cannot be planned for.", hint="Ask for one piece or more."
        )


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
            f"{plural(good, 'good piece')} at a success of {success:g} would take more than {MOST_STARTS:,} starts.",
            hint="Check the losses by stage; a success this low is most likely a typing mistake.",
        )


def check_confidence(confidence: float) -> None:
    """Refuse a confidence outside 0 < c < 1."""
    if not 0.0 < confidence < 1.0:
        raise BadInput(
            f"A confidence of {confidence:g} cannot be used.",
            hint="Give a share between 0 and 1, neither included (0.9 = right nine times in ten).",
        )


class Failures:
    """The law of the failures before the `good`-th good piece.

    fewest: failures below this hardly ever happen and are left out. probabilities: of that many, one more, …; as many
    as were asked for so far, for the long end of a hardly known share is long indeed.
    """

    def __init__(self, good: int, survival: Survival) -> None:
        check_starts(good, survival.share)
        self.good, self.survival = good, survival
        self.fewest, self.probabilities, self.ended = 0, [1.0], survival.sure
        if not survival.sure and survival.light:
            self._whole()
        elif not survival.sure:
            self.probabilities = [_weight(good, survival, 0)]
        self.sums = list(accumulate(self.probabilities))

    @property
    def reached(self) -> float:
        """What the probabilities add up to so far."""
        return self.sums[-1]

    def within(self, most: int) -> list[float]:
        """The probabilities of `fewest` failures, one more, … up to `most`."""
        wanted = max(most - self.fewest + 1, 0)
        self._further(wanted, inf)
        return self.probabilities if wanted >= len(self.probabilities) else self.probabilities[:wanted]

    def nearly_all(self, left_out: float) -> list[float]:
        """The probabilities from `fewest` failures on; where the long end is long, without so much of it."""
        return self.probabilities if self.survival.light else self.until(1.0 - left_out)

    def until(self, reached: float) -> list[float]:
        """The probabilities from `fewest` failures on until they add up to so much."""
        self._further(MOST_OUTCOMES, reached)
        return self.probabilities[: bisect_left(self.sums, reached) + 1]

    def _further(self, wanted: int, reached: float) -> None:
        """More of them, one by one by P(k + 1)/P(k), as far as is asked for."""
        probabilities, sums = self.probabilities, self.sums
        k, b, whole, good = (
            len(probabilities) - 1,
            self.survival.beta[1],
            self.survival.worth + self.good,
            self.good,
        )
        while len(probabilities) < wanted and sums[-1] < reached and not self.ended:
            probabilities.append(probabilities[-1] * ((good + k) / (k + 1) * (b + k) / (whole + k)))
            sums.append(sums[-1] + probabilities[-1])
            k += 1
            self.ended = k >= MOST_OUTCOMES

    def _whole(self) -> None:
        """All that matter, built outwards from the likeliest, so that nothing underflows where P(F = 0) would."""
        ratio, mode = _ratio(self.good, self.survival), _mode(self.good, self.survival)
        above, below, weight, k = [1.0], [], 1.0, mode
        while k > 0 and (weight := weight / ratio(k - 1)) > _NEGLIGIBLE:
            below.append(weight)
            k -= 1
        weight, k = 1.0, mode
        while (weight := weight * ratio(k)) > _NEGLIGIBLE:
            above.append(weight)
            k += 1
        weights = below[::-1] + above
        total = fsum(weights)
        self.fewest, self.probabilities, self.ended = (
            mode - len(below),
            [weight / total for weight in weights],
            True,
        )


failures = lru_cache(maxsize=4096)(Failures)


def _ratio(good: int, survival: Survival) -> Callable[[int], float]:
    """P(k + 1)/P(k) = (N + k)/(k + 1) · (b + k)/(a + b + N + k), or (N + k)/(k + 1) · (1 − p)."""
    if survival.exact:
        lost = 1.0 - survival.share
        return lambda k: (good + k) / (k + 1) * lost
    b, whole = survival.beta[1], survival.worth + good
    return lambda k: (good + k) / (k + 1) * (b + k) / (whole + k)


def _mode(good: int, survival: Survival) -> int:
    """The likeliest count: the first k from which the ratio is at most 1."""
    if survival.exact:
        return int((good - 1) * (1.0 - survival.share) / survival.share)
    a, b = survival.beta
    return max(0, ceil((good * b - a - b - good) / (a + 1)))


def _weight(good: int, survival: Survival, k: int) -> float:
    """P(F = k) itself."""
    a, b = survival.beta
    ways = lgamma(good + k) - lgamma(good) - lgamma(k + 1)
    return exp(ways + log_beta(a + good, b + k) - log_beta(a, b))


def log_beta(a: float, b: float) -> float:
    """log B(a, b)."""
    return lgamma(a) + lgamma(b) - lgamma(a + b)


def never_sure(good: int, confidence: float) -> BadInput:
    """The refusal where so little is known of a heavy loss that no sensible number of starts is enough."""
    return BadInput(
        f"No sensible number of starts gives {plural(good, 'good piece')} with {100 * confidence:g} % confidence.",
        hint="The losses are heavy and hardly known: ask for less confidence, or check the losses by stage.",
    )


def onward_success(survivals: Sequence[Survival]) -> tuple[float, ...]:
    """For each stage, the expected chance that a piece reaching it ends up good: the product from that stage on."""
    for survival in survivals:
        check_success(survival.share)
    return tuple(accumulate((one.share for one in reversed(survivals)), mul))[::-1]
