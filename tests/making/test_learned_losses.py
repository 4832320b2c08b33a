"""Losses learned by material and stage: published updates, library quantiles, and what must hold for any shop."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats
from searching import examples

from inventory.errors import BadInput
from inventory.making.losses.factor import beta_update, factor_points, given_factor
from inventory.making.losses.learned import learn_losses
from inventory.making.losses.priors import STRENGTH, first_worth

BOOK = {("oak", "drill"): 0.04, ("burl", "drill"): 0.12, ("oak", "turn"): 0.02}
BY_THE_BOOK = 1e7  # a shop's factor this firmly 1 is none


@pytest.mark.outside
@pytest.mark.parametrize(
    ("prior", "strength", "reached", "lost", "alpha", "beta"),
    [
        (0.45, 100.0, 50, 30, 75.0, 75.0),  # ch. 3, a poll: Beta(45, 55), 30 of 50
        (1 / 11, 11.0, 40, 26, 27.0, 24.0),  # ch. 3, an experiment: Beta(1, 10), 26 of 40
        (0.5, 28.0, 20, 9, 23.0, 25.0),  # ch. 4, a test of films: Beta(14, 14), 9 of 20
    ],
)
def test_published_beta_updates(
    prior: float, strength: float, reached: int, lost: int, alpha: float, beta: float
) -> None:
    """Bayes Rules!, ch. 3: Beta(α, β) with y of n → Beta(α + y, β + n − y) (from memory)."""
    updated = beta_update([prior], strength, reached, lost)
    assert [one for each in updated for one in each] == pytest.approx([alpha, beta])


@pytest.mark.outside
def test_published_gamma_update() -> None:
    """Bayes Rules!, ch. 5 (read): Gamma(10, 2) with 6, 2, 2, 1 → Gamma(21, 6): mean 3.5, deviation √21/6.

    Four materials that lose 5 each by the book (a million pieces each at 5 in a million, all of one strength)
    have a Poisson count about 5·f, and f ~ Gamma(10, 10) is the published prior over 5.
    """
    counts = [(1_000_000, lost) for lost in (6, 2, 2, 1)]
    factor, probabilities = map(np.array, factor_points(counts, [5e-6] * 4, 1e9, 10.0))
    assert 5 * float(factor @ probabilities) == pytest.approx(3.5, rel=1e-3)
    spread = math.sqrt(float(probabilities @ (5 * factor - 3.5) ** 2))
    assert spread == pytest.approx(math.sqrt(21) / 6, rel=1e-3)


@pytest.mark.outside
@pytest.mark.parametrize(("reached", "lost"), [(0, 0), (30, 0), (30, 3), (400, 60), (5, 5)])
def test_by_the_book_it_is_one_beta(reached: int, lost: int) -> None:
    """Without a factor of the shop's own, mean and interval are those of scipy.stats.beta."""
    loss = learn_losses(
        {("oak", "drill"): (reached, lost)}, {("oak", "drill"): 0.1}, factor_shape=BY_THE_BOOK
    )["oak", "drill"]
    library = stats.beta(0.1 * STRENGTH + lost, 0.9 * STRENGTH + reached - lost)
    assert loss.mean == pytest.approx(library.mean(), rel=2e-3)
    assert [loss.low, loss.high] == pytest.approx(library.ppf([0.05, 0.95]), rel=5e-3)
    assert loss.worth == pytest.approx(STRENGTH + reached, rel=5e-3)


@pytest.mark.cross_check
def test_one_material_by_plain_integration() -> None:
    """Mean of one material's loss by integrating over factor and loss with scipy.integrate."""
    loss = learn_losses({("oak", "drill"): (40, 6)}, {("oak", "drill"): 0.05})["oak", "drill"]
    hazard = 1 / 0.95 - 1

    def weight(p: float, factor: float, power: int) -> float:
        given = -math.expm1(-hazard * factor)
        density = float(stats.beta.pdf(p, STRENGTH * given, STRENGTH * (1 - given)))
        return p**power * density * p**6 * (1 - p) ** 34 * math.exp(-factor)

    whole, first = (
        integrate.dblquad(weight, 0.0, 30.0, 1e-9, 0.8, args=(power,), epsrel=1e-4, epsabs=0)[0]
        for power in (0, 1)
    )
    assert loss.mean == pytest.approx(first / whole, rel=1e-3)


@pytest.mark.parametrize("prior", [0.0, 0.0005, 0.04, 0.3, 0.7])
@pytest.mark.parametrize("shape", [0.5, 1.0, 4.0])
def test_nothing_counted_leaves_the_book(prior: float, shape: float) -> None:
    """Before any count the expected loss is the book's, whatever the shop's factor may be."""
    loss = learn_losses({}, {("oak", "drill"): prior}, factor_shape=shape)["oak", "drill"]
    assert loss.mean == pytest.approx(prior, rel=2e-3)
    assert loss.low <= loss.mean <= loss.high
    assert loss.factor == pytest.approx(1.0, rel=1e-3)
    assert (loss.prior, loss.reached, loss.lost) == (prior, 0, 0)
    assert loss.worth == pytest.approx(first_worth(prior, factor_shape=shape), rel=5e-3)


@pytest.mark.cross_check
@pytest.mark.parametrize(("prior", "shape"), [(0.02, 1.0), (0.1, 1.0), (0.3, 4.0)])
def test_what_a_first_guess_is_worth(prior: float, shape: float) -> None:
    """Shops drawn from the model as it is written: their losses spread as a Beta of so many pieces does."""
    dice = np.random.default_rng(3)
    factor = dice.gamma(shape, 1 / shape, 200_000)
    given = -np.expm1(-shape * ((1 - prior) ** (-1 / shape) - 1) * factor)
    losses = dice.beta(STRENGTH * given, STRENGTH * (1 - given))
    worth = prior * (1 - prior) / losses.var() - 1
    assert first_worth(prior, factor_shape=shape) == pytest.approx(worth, rel=0.03)


def test_a_factor_multiplies_rare_losses() -> None:
    """q is p₀·f where losses are rare, and never reaches 1."""
    factor = [0.1, 1.0, 3.0, 900.0]
    assert given_factor(1e-5, factor, 1.0)[:3] == pytest.approx([1e-6, 1e-5, 3e-5], rel=1e-4)
    assert max(given_factor(0.5, factor, 1.0)) < 1


def test_thin_materials_profit_from_the_others() -> None:
    """Oak drilled badly a hundred times raises what is expected of burl, but not of turning."""
    learned = learn_losses({("oak", "drill"): (100, 14)}, BOOK)
    oak, burl, turn = (learned[key] for key in BOOK)
    assert 0.10 < oak.mean < 0.14
    assert burl.mean > 0.15
    assert burl.high - burl.low > oak.high - oak.low
    assert turn.mean == pytest.approx(0.02, rel=2e-3)
    assert oak.factor == burl.factor > 1.5
    assert list(learned) == list(BOOK)


def test_many_pieces_speak_for_themselves() -> None:
    """Thousands of pieces leave neither the book nor the others a say."""
    loss = learn_losses({("oak", "drill"): (20_000, 2_400), ("burl", "drill"): (500, 0)}, BOOK)[
        "oak", "drill"
    ]
    assert loss.mean == pytest.approx(0.12, rel=0.005)
    assert loss.high - loss.low == pytest.approx(2 * 1.645 * math.sqrt(0.12 * 0.88 / 20_000), rel=0.03)


def test_a_safe_stage_stays_safe_until_a_piece_is_lost() -> None:
    """A loss of 0 in the book is 0 with an upper end that falls; after a loss it is one."""
    book = {("oak", "drill"): 0.0}
    none, some = (learn_losses({("oak", "drill"): (40, lost)}, book)["oak", "drill"] for lost in (0, 2))
    assert (none.mean, none.low) == (0.0, 0.0)
    assert learn_losses({}, {("oak", "drill"): 1e-300})["oak", "drill"].mean == 0.0
    assert none.high == pytest.approx(1 - 0.05 ** (1 / (STRENGTH + 40)))
    assert 0.01 < some.mean < 0.05
    assert none.worth == STRENGTH + 40
    mended = learn_losses({("oak", "drill"): (40, 2)}, {("oak", "drill"): 0.0005})["oak", "drill"]
    assert some.mean == mended.mean  # the book's figure is taken for one in two thousand then
    assert some.prior == 0.0


def test_one_in_a_million_is_none() -> None:
    """A tenth more than that is a loss, and half a piece's worth of it a first guess."""
    none, some = (learn_losses({}, {("oak", "drill"): loss})["oak", "drill"] for loss in (1e-6, 1.1e-6))
    assert none.mean == 0.0
    assert some.mean == pytest.approx(1.1e-6, rel=2e-3)
    assert (first_worth(1e-6), first_worth(1.1e-6) < STRENGTH) == (STRENGTH, True)
    thin = learn_losses({}, {("oak", "drill"): 0.1}, strength=0.5, factor_shape=0.5)["oak", "drill"]
    assert thin.mean == pytest.approx(0.1, rel=2e-3)


COUNTS = st.integers(0, 300).flatmap(lambda reached: st.tuples(st.just(reached), st.integers(0, reached)))


@given(COUNTS, COUNTS, st.floats(0, 0.9), st.floats(0, 0.9))
@examples(35)
def test_means_lie_in_their_intervals(
    oak: tuple[int, int], burl: tuple[int, int], first: float, second: float
) -> None:
    """0 ≤ low ≤ mean ≤ high ≤ 1 for any counts, as plain numbers, and the order of materials is irrelevant."""
    counts = {("oak", "drill"): oak, ("burl", "drill"): burl}
    book = {("oak", "drill"): first, ("burl", "drill"): second}
    learned = learn_losses(counts, book)
    for loss in learned.values():
        assert 0.0 <= loss.low <= loss.mean <= loss.high <= 1.0
        assert type(loss.mean) is type(loss.low) is type(loss.high) is type(loss.factor) is float
    turned = learn_losses(counts, dict(reversed(book.items())))
    for key, loss in learned.items():
        assert [turned[key].mean, turned[key].high] == pytest.approx([loss.mean, loss.high], rel=1e-6)


@given(st.integers(1, 200), st.floats(0.01, 0.5))
@examples(25)
def test_another_loss_never_lowers_the_estimate(reached: int, prior: float) -> None:
    """One more lost of as many raises the mean, one more good piece lowers it."""
    book = {("oak", "drill"): prior}

    def mean(reached: int, lost: int) -> float:
        return learn_losses({("oak", "drill"): (reached, lost)}, book)["oak", "drill"].mean

    lost = reached // 3
    assert mean(reached, lost) < mean(reached, lost + 1)
    assert mean(reached + 1, lost) < mean(reached, lost)


def test_more_pieces_narrow_the_interval() -> None:
    """At the same share lost the interval narrows with every fourfold count."""

    def width(pieces: int) -> float:
        loss = learn_losses({("oak", "drill"): (pieces, pieces // 20)}, BOOK)["oak", "drill"]
        return loss.high - loss.low

    widths = [width(pieces) for pieces in (0, 20, 80, 320, 1280)]
    assert widths == sorted(widths, reverse=True)
    assert widths[-1] < widths[0] / 5


@pytest.mark.parametrize(
    ("counts", "book", "options", "says"),
    [
        ({("yew", "drill"): (3, 1)}, BOOK, {}, "what yew loses at drill"),
        ({("oak", "drill"): (3, 4)}, BOOK, {}, "4 spoiled of 3"),
        ({("oak", "drill"): (3, -1)}, BOOK, {}, "-1 spoiled of 3"),
        ({}, {("oak", "drill"): 1.0}, {}, "a loss of 1 cannot"),
        ({}, {("oak", "drill"): -0.1}, {}, "a loss of -0.1 cannot"),
        ({}, {("oak", "drill"): math.nan}, {}, "a loss of nan cannot"),
        ({}, BOOK, {"strength": 0.0}, "must be worth something"),
        ({}, BOOK, {"factor_shape": 0.0}, "must be worth something"),
    ],
)
def test_refusals(
    counts: dict[tuple[str, str], tuple[int, int]],
    book: dict[tuple[str, str], float],
    options: dict[str, float],
    says: str,
) -> None:
    """Counts and losses that cannot be are refused in a sentence, with what to do."""
    with pytest.raises(BadInput, match=says) as refusal:
        learn_losses(counts, book, **options)
    assert refusal.value.hint
