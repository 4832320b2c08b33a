"""Sessions that belong to another story: a bottle topped up, ounces for grams, a spill.

Each session is held against the others by its studentised residual without it,

    t_i = r_i / √(v_i · (1 − h_i) · s²₍ᵢ₎),   s²₍ᵢ₎ = (Σ r²/v − r_i²/(v_i(1 − h_i))) / (n − rank − 1)

with r the residual of the weighted fit, h its leverage and v its relative variance. The worst is taken away,
the rest looked at again, up to a quarter of all; what was taken up to the last one beyond the critical value
of Student's t is an outlier. So two that hide each other are both found (B. Rosner, *Technometrics* 25, 1983,
generalised extreme studentised deviates; from memory, carried over from a mean to a regression). Priors have no say: a
maker whose every session differs from the sheet has no outlier but another rate.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from inventory.making.rates.design import Design, Floats

FEWEST = 5
"""Sessions below which none can be told from the others."""

ALPHA = 0.005
"""Chance that any session of a good set is named, before the number of sessions is allowed for."""

_USUAL = 0.1  # relative scatter that shapes v where weighing is much better than that
_LEAST = 0.02  # a session closer than this share of an ordinary one is never an outlier


def ordinary(design: Design, alpha: float = ALPHA) -> NDArray[np.bool_]:
    """Which sessions to learn from: a mask over the sessions, False for outliers."""
    import numpy as np
    from scipy.special import stdtrit

    count = len(design.used)
    kept = np.ones(count, dtype=bool)
    taken: list[int] = []
    beyond = 0
    for _ in range(count // 4 if count >= FEWEST else 0):
        deviates, freedom = studentised(design.only(kept))
        worst = int(np.argmax(deviates))
        if freedom < 2:  # one number cannot say how far residuals usually lie
            break
        critical = stdtrit(freedom, 1 - alpha / (2 * len(deviates)))
        taken.append(int(np.flatnonzero(kept)[worst]))
        kept[taken[-1]] = False
        if deviates[worst] > critical:
            beyond = len(taken)
    kept[taken[beyond:]] = True
    return kept


def studentised(design: Design) -> tuple[Floats, int]:
    """|t_i| of each session and its degrees of freedom; 0 where a session alone determines a rate."""
    import numpy as np

    variance = design.error**2 + _USUAL**2 * design.many * np.maximum(design.shape, design.shape**2)
    basis, size, _ = np.linalg.svd(design.matrix / np.sqrt(variance)[:, None], full_matrices=False)
    basis = basis[:, size > size[0] * 1e-9]
    wanted = design.used / np.sqrt(variance)
    residual = wanted - basis @ (basis.T @ wanted)
    free = 1.0 - (basis**2).sum(axis=1)
    alone = free < 1e-9
    own = residual**2 / np.where(alone, 1.0, free)
    freedom = len(wanted) - basis.shape[1] - 1
    spread = np.maximum((residual @ residual - own) / max(freedom, 1), 0.0)
    least = (
        np.maximum(design.error**2, _LEAST**2 * design.many * np.maximum(design.shape, design.shape**2))
        / variance
    )
    return np.where(alone, 0.0, np.sqrt(own / np.maximum(spread, least))), freedom
