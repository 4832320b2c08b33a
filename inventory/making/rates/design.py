"""Sessions as a system of equations in common units, and its non-negative fit.

Columns are measured in standard deviations of their prior and weighings in the supply's ordinary session
use, so that rates of 0.002 ml per cm² and of 5 ml per session sit side by side without losing digits.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from inventory.making.rates.model import Observation
    from inventory.making.rates.priors import Prior

    Floats = NDArray[np.float64]

LEAST_ERROR = 0.002
"""No weighing is trusted closer than this share of an ordinary session's use."""

_MOST_REACH = 100.0  # a first guess a hundred times what is ever used may as well be that; more costs digits
_LEAST_SHAPE = 0.1  # a session expected to use almost nothing still scatters a little


@dataclass(frozen=True, slots=True)
class Design:
    """n weighings and k rates. matrix: n × k; used, error, shape, many: n; prior, deviations: k; unit: of used.

    The model: used = matrix · y + noise, y = rate / deviation; the prior of y is normal about `prior` with
    standard deviation 1; noise has variance error² + τ² · many · shape, `many` the sessions a weighing is of.
    """

    matrix: Floats
    used: Floats
    error: Floats
    shape: Floats
    many: Floats
    prior: Floats
    sds: Floats
    unit: float

    def only(self, kept: NDArray[np.bool_]) -> Design:
        """The same with some sessions left out."""
        rows = (self.matrix[kept], self.used[kept], self.error[kept], self.shape[kept], self.many[kept])
        return Design(*rows, self.prior, self.sds, self.unit)


def design(observations: Sequence[Observation], priors: Mapping[str, Prior]) -> Design:
    """The sessions as arrays; the unit is the median use, so that one mistake does not move it."""
    import numpy as np

    value = np.array([prior.value for prior in priors.values()], dtype=float)
    sd = np.array([prior.sd for prior in priors.values()], dtype=float)
    exposure = np.array(
        [[each.exposure.get(per, 0.0) for per in priors] for each in observations], dtype=float
    )
    exposure = exposure.reshape(len(observations), len(priors))
    used = np.array([each.used for each in observations], dtype=float)
    error = np.array([each.error for each in observations], dtype=float)
    many = np.array([each.many for each in observations], dtype=float)
    expected = exposure @ np.where(value > 0, value, sd)
    if not len(observations):
        return Design(exposure, used, error, used, many, value / sd, sd, 1.0)
    each, ordinary = np.abs(used / many), expected.sum() / many.sum()
    unit = float(np.median(each) or each.mean() or ordinary)
    shape = np.maximum(expected / many / ordinary, _LEAST_SHAPE)
    error = np.maximum(error / unit, LEAST_ERROR)
    reach = (exposure * sd / many[:, None]).max(axis=0) / unit
    scale = sd * (_MOST_REACH / np.maximum(reach, _MOST_REACH))
    return Design(exposure * scale / unit, used / unit, error, shape, many, value / sd, scale, unit)


def nonnegative_fit(
    matrix: Floats, wanted: Floats, weights: Floats, prior: Floats, prior_weights: Floats
) -> Floats:
    """The x ≥ 0 that minimises ‖W(Cx − d)‖² + ‖Λ(x − x₀)‖², by non-negative least squares on the stacked rows.

    matrix C is n × k; wanted d and weights (diagonal of W) have n numbers; prior x₀ and prior_weights
    (diagonal of Λ; √λ for a common λ) have k. Lawson & Hanson, *Solving Least Squares Problems*, ch. 23, from memory;
    rows for the prior as in any Tikhonov regularisation.
    """
    import numpy as np
    from scipy.optimize import nnls

    rows = np.vstack([matrix * weights[:, None], np.diag(prior_weights)])
    right = np.concatenate([wanted * weights, prior * prior_weights])
    return np.asarray(nnls(rows, right)[0], dtype=float)
