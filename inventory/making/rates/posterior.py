"""What sessions say about the rates, as a mixture of truncated normal distributions.

Three things are not known beside the rates y: how good the priors are (all may be κ times as wide, about another
centre: `making.rates.priors`), the scatter τ between sessions, and the power α at which it grows with a session's
expected use (0: the same for all; 1: in proportion, as a hand's does). For given (κ, τ, α) everything is normal:

    A = CᵀWC + I/κ²,  W = diag(1/(error² + τ²·many·shape^2α)),  V = A⁻¹,  m = V(CᵀWd + y₀/κ²)

and y is N(m, V) cut off below 0. Each point of a grid weighs as much as the sessions support it:

    w(κ, τ, α) ∝ p(κ)·p(τ)·p(α)·|W|^½·|A|^−½·κ^−k·exp(−½(dᵀWd + y₀ᵀy₀/κ² − bᵀm))·P(N(m, V) ≥ 0)/P(N(y₀, κ²I) ≥ 0)

log τ is normal about `USUAL_HAND` of an ordinary session's use: two or three sessions that happen to agree do not
prove a hand that never differs. The grid of τ is laid twice, the second time over what the first found likely. The
chance that y is ≥ 0, and one rate's distribution beside all others, come from integrating the others one after
another along the Cholesky factor (A. Genz, *J. Comput. Graph. Statist.* 1, 1992, from memory) over a fixed lattice:
the same sessions always give the same answer.

How often intervals hold the truth, over kinds of shop and hands: `scripts/soak/rate_intervals.py`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from inventory.making.rates.priors import BELIEFS, HANDS_DIFFER, USUAL_HAND

if TYPE_CHECKING:
    from inventory.making.rates.design import Design, Floats

_POWERS = ((0.0, 0.3), (1.0, 0.7))  # α and its probability
_LEAST_SCATTER, _MOST_SCATTER, _SCATTERS = 0.01, 2.0, 9
_NEGLIGIBLE = 1e-4  # weight below which a point of the grid is left out, beside the heaviest
_UNLIKELY = 1e-3  # weight below which a scatter is not looked at again
_FURTHEST = 1e4  # deviations below 0: as good as 0, and quotients of Φ keep their digits
_POINTS = {1: 1, 2: 24}  # lattice points by number of rates
_MANY_POINTS = 96


@dataclass(frozen=True, slots=True)
class PosteriorGrid:
    """The g points (κ, τ, α) that matter. widening, centre, scatter, power, weight: g; mean: g × k; cover: g × k × k.

    variance: g × n, that of each session's weighing and scatter together.
    """

    widening: Floats
    centre: Floats
    scatter: Floats
    power: Floats
    variance: Floats
    weight: Floats
    mean: Floats
    cover: Floats


@dataclass(frozen=True, slots=True)
class RateMixture:
    """One rate's distribution: Σ weight · (normal of that mean and deviation, cut off below 0); all length j."""

    weight: Floats
    mean: Floats
    sd: Floats


def posterior(design: Design) -> PosteriorGrid:
    """The points (κ, τ, α) with their weights, and for each the normal distribution of all rates before the cut."""
    if not len(design.used):  # nothing was weighed, so nothing is asked about τ
        return _weighed(design, (0.0,))
    import numpy as np

    first = _weighed(design, np.geomspace(_LEAST_SCATTER, _MOST_SCATTER, _SCATTERS))
    step = (_MOST_SCATTER / _LEAST_SCATTER) ** (1 / (_SCATTERS - 1))
    likely = first.scatter[first.weight > _UNLIKELY]
    return _weighed(design, np.geomspace(likely.min() / step, likely.max() * step, _SCATTERS))


def _weighed(design: Design, scatters: Sequence[float] | Floats) -> PosteriorGrid:
    """The same over these τ, evenly spaced in their logarithm."""
    import numpy as np
    from scipy.special import log_ndtr

    widening, centre, scatter, power, log_weight = _points(np.asarray(scatters))
    variance = design.error**2 + scatter[:, None] ** 2 * design.many * design.shape ** (2 * power[:, None])
    weighted = design.matrix.T / variance[:, None, :]
    prior = design.prior * centre[:, None]
    size = len(design.prior)
    # by eigenvalues, none below that of the prior: sessions all alike leave A next to singular
    told, axes = np.linalg.eigh(weighted @ design.matrix)
    firm = np.maximum(told, 0.0) + 1 / widening[:, None] ** 2
    cover: Floats = ((axes / firm[:, None, :]) @ axes.swapaxes(1, 2)).astype(float)
    right = weighted @ design.used + prior / widening[:, None] ** 2
    mean = np.einsum("gij,gj->gi", cover, right)
    misfit = ((design.used - mean @ design.matrix.T) ** 2 / variance + np.log(variance)).sum(axis=1)
    strain = ((mean - prior) ** 2 / widening[:, None] ** 2).sum(axis=1)
    log_weight -= 0.5 * (misfit + strain + np.log(firm).sum(axis=1)) + size * np.log(widening)
    log_weight += log_inside(mean, cover) - log_ndtr(prior / widening[:, None]).sum(axis=1)
    weight = np.exp(log_weight - log_weight.max())
    kept = weight > _NEGLIGIBLE
    weight = weight[kept] / weight[kept].sum()
    point = widening[kept], centre[kept], scatter[kept], power[kept]
    return PosteriorGrid(*point, variance[kept], weight, mean[kept], cover[kept])


def marginal(grid: PosteriorGrid, index: int) -> RateMixture:
    """The distribution of one rate (in prior deviations), all others and (κ, τ, α) integrated over."""
    import numpy as np
    from scipy.special import log_ndtr

    log_weight, mean, sd = _given_others(grid.mean, grid.cover, index)
    mean = np.maximum(mean, -_FURTHEST * sd)
    log_weight = log_weight + log_ndtr(mean / sd)
    share = np.exp(log_weight - log_weight.max(axis=1, keepdims=True))
    weight = grid.weight[:, None] * share / share.sum(axis=1, keepdims=True)
    return RateMixture(weight.ravel(), mean.ravel(), np.broadcast_to(sd, mean.shape).ravel())


def log_inside(mean: Floats, cover: Floats) -> Floats:
    """log P(N(mean, cover) ≥ 0) for each of g distributions of k rates."""
    import numpy as np
    from scipy.special import log_ndtr

    log_weight, last, sd = _given_others(mean, cover, mean.shape[1] - 1)
    log_weight = log_weight + log_ndtr(last / sd)
    top = log_weight.max(axis=1, keepdims=True)
    return np.asarray(top[:, 0] + np.log(np.exp(log_weight - top).mean(axis=1)))


def _given_others(mean: Floats, cover: Floats, index: int) -> tuple[Floats, Floats, Floats]:
    """Mean (g × j) and deviation (g × 1) of one rate given j points of the others, and the points' log weights.

    With V = LLᵀ and that rate last, y_i = m_i + Σ_h L_ih z_h; each z is drawn from its own cut-off normal.
    """
    import numpy as np
    from scipy.special import log_ndtr, ndtr, ndtri

    size = mean.shape[1]
    order = [*(i for i in range(size) if i != index), index]
    lower: Floats = np.linalg.cholesky(cover[:, order][:, :, order]).astype(float)
    mean = mean[:, order]
    points = lattice(size - 1, _POINTS.get(size, _MANY_POINTS))
    log_weight = np.zeros((len(mean), points.shape[1]))
    drawn = np.zeros((len(mean), size - 1, points.shape[1]))
    for i in range(size - 1):
        least = (
            -(mean[:, i, None] + np.einsum("gh,ghj->gj", lower[:, i, :i], drawn[:, :i]))
            / lower[:, i, i, None]
        )
        log_weight += log_ndtr(-least)
        drawn[:, i] = np.maximum(-ndtri(points[i] * np.maximum(ndtr(-least), 1e-300)), least)
    last = mean[:, -1, None] + np.einsum("gh,ghj->gj", lower[:, -1, :-1], drawn)
    return log_weight, last, lower[:, -1, -1, None]


def lattice(size: int, count: int) -> Floats:
    """So many evenly spread points of the unit cube of that dimension, size × count.

    The first coordinate in equal steps, the others in multiples of powers of a generalised golden ratio.
    """
    import numpy as np

    golden = 2.0
    for _ in range(40):  # to the root of g^size = g + 1
        golden = (1 + golden) ** (1 / max(size, 1))
    steps = np.array([1 / count, *golden ** -np.arange(1.0, size)])[:size]
    start = np.array([0.5 / count, *np.full(max(size - 1, 0), 0.5)])[:size]
    return np.asarray((start[:, None] + steps[:, None] * np.arange(count)) % 1.0)


def _points(scatters: Floats) -> tuple[Floats, Floats, Floats, Floats, Floats]:
    """The grid (κ, centre, τ, α) and the log of p(κ)·p(τ)·p(α)."""
    import numpy as np

    beliefs, powers = np.array(BELIEFS), np.array(_POWERS)
    shape = len(beliefs), len(scatters), len(powers)
    at, which, how = (each.ravel() for each in np.indices(shape))
    scatter = scatters[which]
    log_weight = np.log(beliefs[at, 2]) + np.log(powers[how, 1])
    if scatters[0] > 0:
        log_weight = log_weight - 0.5 * (np.log(scatter / USUAL_HAND) / HANDS_DIFFER) ** 2
    return beliefs[at, 0], beliefs[at, 1], scatter, powers[how, 0], log_weight
