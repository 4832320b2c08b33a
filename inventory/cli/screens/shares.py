"""Probabilities for people."""

from __future__ import annotations


def percent(share: float) -> str:
    """Never 100 % where something could still fail, never 0 % where it could still work."""
    if share >= 1.0 - 1e-9:
        return "100 %"
    if share > 0.995:
        return "over 99 %"
    if 0 < share < 0.005:
        return "under 1 %"
    return f"{share * 100:.0f} %"
