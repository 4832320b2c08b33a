"""A batch at the bench: what is said of it holds in shops drawn and worked apart from the program's own laws."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import stats

from inventory.errors import BadInput
from inventory.making.distributions import mean
from inventory.making.evening import Evening, all_enough, evening, nothing, survivor_probabilities
from inventory.making.losses.learned import learn_losses
from inventory.making.losses.priors import STRENGTH, first_worth
from inventory.making.losses.reaching import (
    _Exact,
    _Simulated,
    probability_at_most,
    probability_within,
    reach_laws,
)
from inventory.making.losses.starts import Survival


def known(shares: Iterable[float]) -> tuple[Survival, ...]:
    """Shares that are known exactly."""
    return tuple(Survival(share) for share in shares)


BOOK = (0.01, 0.03, 0.0, 0.02, 0.06, 0.01)
BELIEVED = tuple(Survival(1 - loss, first_worth(loss)) if loss else Survival(1.0) for loss in BOOK)
SHOPS = 40_000


def losses(dice: np.random.Generator, shops: int) -> list[NDArray[np.float64]]:
    """What so many shops lose at each stage: a factor of each shop's own, and a share of the material's about it."""
    real = []
    for book in BOOK:
        given = 1 - np.exp(-book / (1 - book) * dice.exponential(size=shops))
        beta = dice.beta(np.maximum(STRENGTH * given, 1e-12), STRENGTH * (1 - given))
        real.append(beta if book else np.zeros(shops))
    return real


def worked(
    dice: np.random.Generator, batch: Evening, real: Sequence[NDArray[np.float64]]
) -> list[NDArray[np.int64]]:
    """The batch made in each of these shops: pieces worked on at every stage, and good ones last."""
    here, done = np.full(len(real[0]), batch.starts), []
    for most, loss in zip(batch.allowed, real, strict=True):
        here = np.minimum(here, most)
        done.append(here)
        here = dice.binomial(here, 1 - loss)
    return [*done, here]


@pytest.mark.cross_check
@pytest.mark.parametrize("good", [3, 12, 30, 60])
@pytest.mark.parametrize("confidence", [0.8, 0.9, 0.95])
def test_a_confidence_is_kept_where_nothing_was_seen(good: int, confidence: float) -> None:
    """Forty thousand shops drawn from what is believed make the batch: what is stated is kept to half a point."""
    dice = np.random.default_rng(good)
    batch = evening(good, BELIEVED, confidence)
    runs = worked(dice, batch, losses(dice, SHOPS))
    assert batch.probability >= confidence
    assert np.mean(runs[-1] >= good) == pytest.approx(batch.probability, abs=0.009)
    for stage, law in enumerate(batch.worked):
        assert mean(law) == pytest.approx(runs[stage].mean(), rel=0.01)
    assert batch.spare == pytest.approx(np.maximum(runs[-1] - good, 0).mean(), abs=0.01)


@pytest.mark.soak
@pytest.mark.cross_check
def test_a_confidence_is_kept_after_forty_pieces() -> None:
    """Two hundred shops learn from forty pieces each; their next orders keep what is stated to within 2 points."""
    dice = np.random.default_rng(40)
    book = {("it", str(stage)): loss for stage, loss in enumerate(BOOK)}
    sums: dict[tuple[int, float], list[tuple[float, float]]] = {}
    for _ in range(200):
        real = losses(dice, 1)
        here, counts = 40, {}
        for key, loss in zip(book, real, strict=True):
            lost = int(dice.binomial(here, loss[0]))
            counts[key], here = (here, lost), here - lost
        learned = [Survival(1 - one.mean, one.worth) for one in learn_losses(counts, book).values()]
        for good in (3, 12, 30, 60):
            for confidence in (0.8, 0.9, 0.95):
                batch = evening(good, learned, confidence)
                made = worked(dice, batch, [np.repeat(loss, 500) for loss in real])[-1]
                row = batch.probability, float(np.mean(made >= good))
                sums.setdefault((good, confidence), []).append(row)
    for (good, confidence), rows in sums.items():
        stated, kept = np.mean(rows, axis=0)
        error = np.std([row[1] for row in rows]) / len(rows) ** 0.5
        assert abs(kept - stated) < 0.02 + 2 * error, (good, confidence)
        assert kept > confidence - 0.02 - 2 * error, (good, confidence)


def test_going_by_the_mean_alone_would_not_keep_it() -> None:
    """What the expected shares ask for is kept by far fewer shops: the case can fail."""
    dice = np.random.default_rng(1)
    by_the_mean = evening(30, known(one.share for one in BELIEVED), 0.95)
    kept = np.mean(worked(dice, by_the_mean, losses(dice, SHOPS))[-1] >= 30)
    assert kept < 0.88


@pytest.mark.outside
@pytest.mark.parametrize(
    "survival", [Survival(0.9), Survival(0.9, 12.5), Survival(0.4, 300.0), Survival(1.0)]
)
@pytest.mark.parametrize("pieces", [0, 1, 17])
def test_how_many_survive_a_stage(survival: Survival, pieces: int) -> None:
    """The probability are those of scipy.stats.binom and scipy.stats.betabinom."""
    counts = range(pieces + 1)
    wanted = stats.binom.pmf(counts, pieces, survival.share)
    if not survival.exact and not survival.sure:
        wanted = stats.betabinom.pmf(counts, pieces, *survival.beta)
    assert survivor_probabilities(pieces, survival) == pytest.approx(wanted, abs=1e-12)


@pytest.mark.outside
@pytest.mark.parametrize(
    ("good", "share", "worth"), [(1, 0.9, 20), (30, 0.8, 8), (12, 0.99, 150), (40, 0.7, 5_000)]
)
def test_starts_of_one_stage(good: int, share: float, worth: float) -> None:
    """One stage alone: scipy.stats.betanbinom has the same quantile and the same chance."""
    survival = Survival(share, worth)
    batch = evening(good, (survival,), 0.9)
    law = stats.betanbinom(good, *survival.beta)
    assert batch.starts == good + law.ppf(0.9)
    assert batch.probability == pytest.approx(law.cdf(batch.starts - good), abs=1e-9)


def test_large_orders_are_simulated_alike() -> None:
    """Where the chain is too long seeded runs take its place, and give the same batch to a piece or two."""
    exact, runs = _Exact(40, BELIEVED), _Simulated(40, BELIEVED)
    assert runs.quantiles(0.9) == pytest.approx(exact.quantiles(0.9), abs=1)
    some = exact.quantiles(0.95)
    assert runs.together(some) == pytest.approx(exact.together(some), abs=0.01)
    large = evening(500, BELIEVED, 0.9)
    assert large == evening(500, BELIEVED, 0.9)
    assert large.starts > 500
    assert sum(
        probability for pieces, probability in large.finished.items() if pieces >= 500
    ) == pytest.approx(0.9, abs=0.02)


def test_fewer_begun_than_planned() -> None:
    """A session that begins fewer has its own chance, and works on no more anywhere."""
    batch = evening(10, BELIEVED, 0.9)
    fewer = batch.begun(batch.starts - 3)
    assert fewer.probability < batch.probability
    assert all(a <= b for a, b in zip(fewer.allowed, batch.allowed, strict=True))
    assert batch.begun(batch.starts).probability == pytest.approx(batch.probability, abs=1e-6)


def test_orders_of_one_material_share_their_fate() -> None:
    """Two orders of one material: P(both come out) against shops drawn apart; unlike ones multiply."""
    dice = np.random.default_rng(9)
    one, other = evening(20, BELIEVED, 0.9), evening(12, BELIEVED, 0.9)
    real = [
        dice.beta((1 - b.share) * b.worth, b.share * b.worth, size=SHOPS) if not b.sure else np.zeros(SHOPS)
        for b in BELIEVED
    ]
    both = (worked(dice, one, real)[-1] >= 20) & (worked(dice, other, real)[-1] >= 12)
    names = range(len(BOOK))
    assert all_enough([(one, names), (other, names)]) == pytest.approx(both.mean(), abs=0.015)
    apart = all_enough([(one, names), (other, [-1 - name for name in names])])
    assert apart == pytest.approx(one.probability * other.probability, abs=0.015)
    assert (all_enough([(one, names)]), all_enough([])) == (one.probability, 1.0)


def test_no_chance_is_over_one() -> None:
    """Though these sums of the machine's numbers are a hair more."""
    known, hardly = Survival(0.95), Survival(0.95, 20.0)
    (law,) = reach_laws(1, (known,))
    assert sum(law[1]) > 1.0
    assert probability_at_most(law, 1000) == 1.0
    assert probability_within(1, (hardly, known), (159, 159)) == 1.0
    batch = Evening(9, (Survival(0.95, 300.0),), (69,), 0.0)
    assert sum(batch.finished.values()) > 1.0
    assert batch.begun(69).probability == 1.0


@pytest.mark.outside
def test_a_large_batch_is_told_piece_by_piece_or_in_four_hundred_steps() -> None:
    """Of 300 pieces by scipy.stats.binom, in single pieces; of 60,000 in steps, a step too many at most."""
    survival = Survival(0.9)
    law = Evening(250, (survival,), (300,), 0.0).finished
    assert min(b - a for a, b in pairwise(sorted(law))) == 1
    assert mean(law) == pytest.approx(270, abs=0.2)
    assert sum(law.values()) == pytest.approx(1.0)
    for many in (262, 270, 278):
        below = sum(share for pieces, share in law.items() if pieces <= many)
        assert below == pytest.approx(stats.binom.cdf(many, 300, 0.9), abs=0.012)
    wide = Survival(0.5, 4.0)
    law = Evening(20_000, (wide,), (60_000,), 0.0).finished
    assert 300 < len(law) <= 401
    assert 30_000 - 300 < mean(law) < 30_000 + 450
    exact = Evening(150, (survival,), (200,), 0.0).finished
    assert exact[180] == pytest.approx(stats.binom.pmf(180, 200, 0.9), rel=1e-9)


def test_limits_by_stage() -> None:
    """Stages without a limit hold nobody up; an earlier limit binds what comes later too."""
    assert probability_within(5, BELIEVED, [None] * 6) == 1.0
    first = probability_within(5, BELIEVED, [7, *[None] * 5])
    assert first == pytest.approx(probability_within(5, BELIEVED, [7, *[99] * 5]), abs=1e-12)
    assert probability_within(5, BELIEVED, [None] * 5 + [5]) > first


def test_nothing_is_begun_for_what_is_there() -> None:
    """No starts, no work, and what is wanted is sure."""
    none = nothing(BELIEVED)
    assert (none.starts, none.probability, none.spare) == (0, 1.0, 0.0)
    assert [mean(law) for law in none.worked] == [0.0] * len(BOOK)


@pytest.mark.parametrize(
    ("good", "survival", "confidence", "says"),
    [
        (10, Survival(0.05, 0.4), 0.95, "No sensible number of starts gives 10 good pieces with 95 %"),
        (0, Survival(0.9, 10), 0.9, "0 good pieces"),
        (5, Survival(0.9, 10), 1.0, "confidence of 1 "),
        (5, Survival(0.0, 10), 0.9, "success of 0 "),
    ],
)
def test_refusals(good: int, survival: Survival, confidence: float, says: str) -> None:
    """What nobody could start enough for is refused in a sentence with a remedy."""
    with pytest.raises(BadInput, match=says) as refusal:
        evening(good, (survival, Survival(0.95, 30)), confidence)
    assert refusal.value.hint


@pytest.mark.outside
@pytest.mark.parametrize(
    ("good", "share", "worth", "most"), [(3, 0.8, 20.0, 400), (5, 0.9, 60.0, 300), (2, 0.5, 4.0, 900)]
)
def test_a_limit_far_out_leaves_nothing_out(good: int, share: float, worth: float, most: int) -> None:
    """So many are enough where as many of them survive: scipy.stats.betabinom, to its last digits, though what lies
    between is of outcomes less likely than one in ten million each."""
    survival = Survival(share, worth)
    enough = sum(float(stats.betabinom.pmf(many, most, *survival.beta)) for many in range(good))
    found = probability_within(good, (survival,), (most,))
    assert 1 - found == pytest.approx(enough, rel=1e-3, abs=1e-12)
