"""`kill -9` at any moment of any command that writes: nothing that was told is lost, nothing is half-done."""

from __future__ import annotations

from inspect import signature

import pytest

from inventory.cli.app import command

from .kills import Kills, Row
from .shop import ENGINES, Shop
from .trials import LOOKING, TRIALS, Trial, without_trial
from .warm import Warm

EACH = 10
"""Trials of each row on each engine: some 300 an engine."""


def sound(row: Row) -> bool:
    """Whether nothing was lost, half-done or stuck."""
    return not (row.lost or row.half_done or row.wrong)


def test_no_writing_command_is_without_a_trial() -> None:
    """Every command is either tried here or one that only looks."""
    assert without_trial() == set()


@pytest.mark.parametrize("name", sorted(LOOKING))
def test_looking_commands_have_nothing_to_write(name: str) -> None:
    """What is not tried asks for no yes and saves no file."""
    assert not {"yes", "save"} & set(signature(command(name)).parameters)


@pytest.mark.parametrize("engine", ENGINES)
def test_killed_now_and_then(light: Warm, small_shop: Shop, engine: str) -> None:
    """A promise killed at a random moment and at a random step; `scripts/soak.py` tries all."""
    promise = next(one for one in TRIALS if one.command == "promise")
    row = Kills(light, small_shop, seed=7).row(promise, engine, 2)
    assert sound(row), row
    assert row.midway > 0


@pytest.mark.soak
@pytest.mark.parametrize(
    ("engine", "trial"), [(engine, one) for one in TRIALS for engine in one.engines], ids=str
)
def test_killed_at_any_moment(warm: Warm, shop: Shop, engine: str, trial: Trial) -> None:
    """Ten kills of each way of writing, at random moments and at random steps."""
    row = Kills(warm, shop, seed=11).row(trial, engine, EACH)
    assert row.trials == EACH
    assert sound(row), row
