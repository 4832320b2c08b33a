"""The proof of learned figures: every kind of disagreement is named, rounding is not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from inventory.jobs.learning.proof import disagreements
from inventory.ledger.learned import LearnedFigures, LearnedLoss, LearnedRate

RATE = LearnedRate("gloss CA", "barrel area", 1_300_000, 1_200_000, 1_400_000, 8, (5,))
POT = LearnedRate("epoxy", "session", 1_500_000, 1_500_000, 1_500_000, 0, pinned=True)
LOSS = LearnedLoss("olive wood", "turn", 18_100, 126, 2)
RIGHT = LearnedFigures((RATE, POT), (LOSS,))


def test_the_same_agrees() -> None:
    """So do figures that differ in the last digits, which another machine may round otherwise."""
    near = replace(RIGHT, rates=(replace(RATE, factor=1_300_900, low=1_199_000), POT))
    assert disagreements(RIGHT, RIGHT) == disagreements(near, RIGHT) == ()
    assert disagreements(LearnedFigures(), LearnedFigures()) == ()


@pytest.mark.parametrize(
    ("kept", "told"),
    [
        (
            replace(RATE, factor=1_305_000),
            "is kept as 1.305 times the sheet (1.200 to 1.400, 8 sessions), by the sessions as 1.300 times",
        ),
        (replace(RATE, high=1_500_000), "1.200 to 1.500"),
        (replace(RATE, low=1_000_000), "1.000 to 1.400"),
        (replace(RATE, sessions=1), "1.400, 1 session), by"),
        (replace(RATE, outliers=()), "gloss CA per barrel area"),
        (replace(RATE, pinned=True), "pinned), by the sessions"),
    ],
)
def test_a_rate_that_is_not_what_sessions_give(kept: LearnedRate, told: str) -> None:
    """Factor, interval, sessions, outliers, pin: one sentence, both figures."""
    (sentence,) = disagreements(replace(RIGHT, rates=(kept, POT)), RIGHT)
    assert sentence.startswith("The rate of gloss CA per barrel area is kept as ")
    assert told in sentence


@pytest.mark.parametrize(
    "kept",
    [
        replace(LOSS, share=19_000),
        replace(LOSS, lost=3),
        replace(LOSS, reached=99),
    ],
)
def test_a_loss_that_is_not_what_sessions_give(kept: LearnedLoss) -> None:
    """Share and counts alike."""
    (sentence,) = disagreements(replace(RIGHT, losses=(kept,)), RIGHT)
    assert sentence.startswith("The loss of olive wood at turn is kept as ")
    assert sentence.endswith(", by the sessions as 1.81 % (2 spoiled of 126).")


def test_one_too_many_and_one_too_few() -> None:
    """A figure without sessions, and sessions without their figure."""
    bare = LearnedFigures((RATE,))
    few, lost = disagreements(bare, RIGHT)
    assert few.startswith("The rate of epoxy per session is kept as in the sheet, by the sessions as 1.500")
    assert lost.startswith(
        "The loss of olive wood at turn is kept as in the sheet, by the sessions as 1.81 %"
    )
    assert [one.endswith(", by the sessions as in the sheet.") for one in disagreements(RIGHT, bare)] == [
        True
    ] * 2
