"""What share of pieces is lost, by material and stage, from the shop's own counts.

The book's figure p₀ for a material at a stage counts as `STRENGTH` pieces of experience. Where one maker loses
three times the book's figure at drilling, he most likely does so in every material; so each stage has a
factor f for the whole shop, which all materials teach and thin ones profit from:

    f ~ Gamma(a, a)                      mean 1; a = `FACTOR_SHAPE` pseudo-losses
    q = 1 − exp(−h·f)                    about p₀·f for rare losses; h = a·((1 − p₀)^(−1/a) − 1) makes E[q] = p₀
    p ~ Beta(K·q, K·(1 − q))             of one material, given f; K = `STRENGTH`
    lost ~ Binomial(reached, p)

Given f a material's posterior is Beta(K·q + lost, K·(1 − q) + reached − lost) (*Bayes Rules!*, ch. 3). The
posterior of f is its prior times every material's beta-binomial probability of what was lost; for a large K and
rare losses that is Gamma(a + Σ lost, a + Σ reached·p₀) (*ibid.*, ch. 5). It is kept on a grid, so that a
loss's distribution is a mixture of Betas; a material's own count is used once, and what is not known of f
widens its interval. The 90 % interval leaves a twentieth of the mixture on either side.

For predictions (`making.losses`) the mixture is told as the one Beta with its mean m and variance v, which is worth
m(1 − m)/v − 1 pieces. Starts by it keep what the mixture keeps to within 0.7 points (3 to 60 pieces, losses of 1 to
40 %, before and after 40 pieces seen).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from math import fsum
from operator import mul
from typing import Final

from inventory.errors import BadInput
from inventory.making.losses.factor import Points, beta_update, factor_points, given_factor
from inventory.making.losses.priors import FACTOR_SHAPE, SAFE, STRENGTH

MaterialStage = tuple[str, str]

_TAIL: Final = 0.05
_LEAST: Final = 0.0005  # p₀ of a stage the book calls safe, once a piece was lost there
_EXACT: Final = 1e-9


@dataclass(frozen=True, slots=True)
class LossEstimate:
    """The share lost of the pieces that reach a stage: the book's, what is expected now, its 90 % interval.

    reached, lost  what it was learned from, this material alone
    worth          pieces of experience it is worth: α + β of the Beta with the same mean and variance
    factor         how many times the book's figure this shop loses at this stage, over all materials
    mixture        its distribution; None where none was ever lost
    """

    prior: float
    mean: float
    reached: int
    lost: int
    worth: float
    factor: float
    mixture: BetaMixture | None

    @property
    def low(self) -> float:
        """The lower end of the interval, which is stretched to hold the mean. Loads scipy."""
        return 0.0 if self.mixture is None else min(self.mixture.ends()[0], self.mean)

    @property
    def high(self) -> float:
        """The upper end; of a loss of 0 the largest that loses none of so many pieces once in twenty."""
        return (
            1 - _TAIL ** (1 / self.worth) if self.mixture is None else max(self.mixture.ends()[1], self.mean)
        )


def learn_losses(
    counts: Mapping[MaterialStage, tuple[int, int]],
    prior: Mapping[MaterialStage, float],
    *,
    strength: float = STRENGTH,
    factor_shape: float = FACTOR_SHAPE,
) -> dict[MaterialStage, LossEstimate]:
    """The loss of every (material, stage) of `prior`; counts are (reached, lost), missing ones (0, 0).

    A loss of 0 in the book stays 0 until a piece is lost there. Raises BadInput for counts that cannot be
    and for a material and stage of which the book says nothing.
    """
    for key, (reached, lost) in counts.items():
        _check_counts(key, reached, lost, prior)
    for key, loss in prior.items():
        _check_prior(key, loss)
    if not (strength > 0 and factor_shape > 0):
        raise BadInput("A first guess must be worth something.", hint="Give a strength above 0 pieces.")
    learned: dict[MaterialStage, LossEstimate] = {}
    for stage in dict.fromkeys(stage for _, stage in prior):
        here = {key: loss for key, loss in prior.items() if key[1] == stage}
        learned |= _learn_stage(counts, here, strength, factor_shape)
    return {key: learned[key] for key in prior}


def _learn_stage(
    counts: Mapping[MaterialStage, tuple[int, int]],
    prior: Mapping[MaterialStage, float],
    strength: float,
    shape: float,
) -> dict[MaterialStage, LossEstimate]:
    """All materials at one stage."""
    here = {key: counts.get(key, (0, 0)) for key in prior}
    losses = {key: _taken(loss, here[key][1]) for key, loss in prior.items()}
    taught = [key for key in prior if here[key][0]]
    factor, probabilities = factor_points(
        [here[key] for key in taught], [losses[key] for key in taught], strength, shape
    )

    @cache  # most materials of a shop were never turned, and many start from the same figure
    def learned(loss: float, reached: int, lost: int) -> tuple[float, float, BetaMixture | None]:
        if not loss > 0:
            return 0.0, strength + reached, None
        given = beta_update(given_factor(loss, factor, shape), strength, reached, lost)
        mixture = BetaMixture(*given, probabilities)
        return *mixture.mean_and_worth(), mixture

    shop = _mean(factor, probabilities)
    done = {}
    for key, count in here.items():
        mean, worth, mixture = learned(losses[key], *count)
        done[key] = LossEstimate(prior[key], mean, *count, worth, shop, mixture)
    return done


def _taken(loss: float, lost: int) -> float:
    """The book's figure to start from: one that calls a stage safe is mended once a piece was lost there."""
    if lost:
        return max(loss, _LEAST)
    return loss if loss > SAFE else 0.0


@dataclass(frozen=True, slots=True)
class BetaMixture:
    """Betas, each with its probability."""

    alpha: Points
    beta: Points
    probabilities: Points

    def mean_and_worth(self) -> tuple[float, float]:
        """Its mean, and α + β of the one Beta with the same mean and variance."""
        pairs = [(a, a + b) for a, b in zip(self.alpha, self.beta, strict=True)]
        mean = _mean([a / whole for a, whole in pairs], self.probabilities)
        square = _mean([a * (a + 1) / (whole * (whole + 1)) for a, whole in pairs], self.probabilities)
        return mean, mean * (1 - mean) / (square - mean * mean) - 1

    def ends(self) -> tuple[float, float]:
        """The points with a twentieth of it below and above."""
        return _ends(self)


def _mean(points: Iterable[float], probabilities: Iterable[float]) -> float:
    return fsum(map(mul, points, probabilities))


@lru_cache(maxsize=1024)  # one end is asked for after the other
def _ends(of: BetaMixture) -> tuple[float, float]:
    from scipy.optimize import brentq
    from scipy.special import betainc

    def beyond(point: float, share: float) -> float:
        return float(betainc(of.alpha, of.beta, point) @ of.probabilities) - share

    low, high = (brentq(beyond, 0.0, 1.0, args=(share,), xtol=_EXACT) for share in (_TAIL, 1 - _TAIL))
    return float(low), float(high)


def _check_counts(key: MaterialStage, reached: int, lost: int, prior: Mapping[MaterialStage, float]) -> None:
    material, stage = key
    if key not in prior:
        raise BadInput(
            f"Nothing is known of what {material} loses at {stage}.",
            hint=f"Give the material a loss at {stage}, or check the name of the stage.",
        )
    if not 0 <= lost <= reached:
        raise BadInput(
            f"{material}, {stage}: {lost} spoiled of {reached} that reached it cannot be.",
            hint="Count again: spoiled pieces are among those that reached the stage.",
        )


def _check_prior(key: MaterialStage, loss: float) -> None:
    if not 0 <= loss < 1:
        raise BadInput(
            f"{key[0]}, {key[1]}: a loss of {loss:g} cannot be.",
            hint="Give a share from 0 to below 1 (4 % = 0.04).",
        )
