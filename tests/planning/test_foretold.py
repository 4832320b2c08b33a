"""What is said of the weeks ahead, held against shops that were made up apart from the program's own model."""

from __future__ import annotations

import importlib
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from inventory.ledger.asked import AskedFor
from inventory.planning.demand.expected import KNOWN, UNKNOWN, expected
from inventory.planning.futures import courses
from inventory.planning.rehearsal.drawing import futures
from inventory.planning.rehearsal.scene import BoughtAs, MadeOf, Recipe, Scene, Sender, Stream

SOAK = Path(__file__).resolve().parents[2] / "scripts" / "soak"
TODAY = date(2026, 11, 28)


@pytest.mark.cross_check
def test_ranges_hold_what_they_say(monkeypatch: pytest.MonkeyPatch) -> None:
    """Eight shops of the table of `scripts/soak/foretold.py`, whose 120 are within 3 points: about as near.

    A shop's months go together, so that so few of them scatter by some points.
    """
    for folder in (SOAK.parent, SOAK):
        monkeypatch.syspath_prepend(str(folder))
    found = importlib.import_module("foretold").measured(range(500, 508), (26, 45, 65))
    for what in ("pattern", "shared part", "part of one pattern"):
        seen = found[what]
        assert np.mean(seen.within[0.8]) == pytest.approx(0.8, abs=0.06)
        assert np.mean(seen.within[0.95]) == pytest.approx(0.95, abs=0.04)
        assert np.mean(seen.lasted[0.98]) == pytest.approx(0.98, abs=0.025)


def test_good_and_bad_times_are_learned() -> None:
    """A shop whose months are alike is surer of the next than one whose months are feast and famine."""
    even = [AskedFor(date.fromordinal(TODAY.toordinal() - 3 * at), "pen", "", "oak", 1) for at in range(240)]
    uneven = [one for one in even if (TODAY - one.on).days // 60 % 2] * 2
    could = {"pen": [("", "oak", None)]}
    steady, moody = (expected(some, could, TODAY, 4).swing for some in (even, uneven))
    assert steady < UNKNOWN < moody
    assert expected([], could, TODAY, 4).swing == UNKNOWN > KNOWN


@pytest.mark.cross_check
def test_rehearsals_draw_what_courses_draw() -> None:
    """The same stream in both: pieces of four weeks have the same mean and the same spread."""
    asked = [
        AskedFor(date.fromordinal(TODAY.toordinal() - 5 * at), "pen", "", "oak", 1 + at % 3)
        for at in range(60)
    ]
    looked = expected(asked, {"pen": [("", "oak", None)]}, TODAY, 4)
    (one,) = looked.patterns
    normal = np.random.RandomState(1).normal(size=4001)
    swings = np.exp(looked.swing * normal - looked.swing**2 / 2)
    scene = Scene(
        4,
        [0],
        [BoughtAs(0, 0, 1000, [(0, 1)])],
        [Sender(0)],
        [MadeOf(Recipe([(0, 1000)]))],
        [Stream([one.orders] * 4, one.shape, [0], [1.0], tuple(one.sizes), tuple(one.sizes.values()))],
        swings=[round(1000 * swing) for swing in swings],
    )
    drawn = futures(scene, 20_000, seed=2)
    theirs = np.bincount(drawn.future, drawn.pieces, 20_000)
    ours = courses(replace(looked, months=(1.0,) * 12), TODAY, 4, 20_000, seed=3).pieces.sum(axis=(0, 1))
    assert theirs.mean() == pytest.approx(ours.mean(), rel=0.03)
    assert theirs.std() == pytest.approx(ours.std(), rel=0.04)
    assert np.quantile(theirs, 0.95) == pytest.approx(np.quantile(ours, 0.95), abs=1.5)
