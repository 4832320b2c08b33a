"""What a book's figures of losses are worth before a shop has counted any; the model is in `making.losses.learned`."""

from __future__ import annotations

from typing import Final

STRENGTH: Final = 60.0
"""Pieces of experience that a book's figure is worth."""

FACTOR_SHAPE: Final = 1.0
"""a: the shop's own factor is 1 on average, above 3 in one shop of twenty (beginners lose about 3 times)."""

SAFE: Final = 1e-6
"""One in a million is none."""


def first_worth(loss: float, strength: float = STRENGTH, factor_shape: float = FACTOR_SHAPE) -> float:
    """What a book's figure p₀ is worth before anything was seen: pieces of experience, as `LearnedLoss.worth`.

    E[(1 − q)²] = (1 + 2h/a)^(−a), so var q = (1 + 2h/a)^(−a) − (1 − p₀)² and
    var p = var q + (p₀(1 − p₀) − var q)/(K + 1).
    """
    if loss <= SAFE:
        return strength
    hazard = factor_shape * ((1 - loss) ** (-1 / factor_shape) - 1)
    spread = (1 + 2 * hazard / factor_shape) ** -factor_shape - (1 - loss) ** 2
    whole = loss * (1 - loss)
    return float(whole / (spread + (whole - spread) / (strength + 1)) - 1)
