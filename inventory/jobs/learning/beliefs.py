"""What is believed of a bill's quantities before any session: the first guess of every factor, light to load."""

from __future__ import annotations

from typing import Final

from inventory.making.rates.priors import Prior

SPREAD: Final = 0.5
SESSION_SPREAD: Final = 0.75


def prior_of(per: str) -> Prior:
    """What is believed of a factor before any session."""
    return Prior(1.0, SESSION_SPREAD if per == "session" else SPREAD)
