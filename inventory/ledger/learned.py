"""Learned figures in a catalogue: what everybody sees once they are booked."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from inventory.catalogue import Catalogue, fold, over
from inventory.ledger.sessions import LearnedFigures, exactly


def with_learned(written: Catalogue, learned: LearnedFigures) -> Catalogue:
    """The written catalogue with learned losses in place of its own and factors on its bills."""
    losses: dict[str, dict[str, Fraction]] = {}
    for one in learned.losses:
        losses.setdefault(fold(one.material), {})[one.stage] = exactly(one.share)
    materials = {
        key: replace(material, losses={**material.losses, **losses.get(key, {})})
        for key, material in written.materials.items()
    }
    factors = {(fold(one.part), one.per): exactly(one.factor) for one in learned.rates}
    return replace(written, materials=over(written.materials, materials), factors=factors)
