"""Starts for N good pieces, held against published tables, an independent library and the definition."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from searching import examples

from inventory.errors import BadInput
from inventory.making.evening import evening
from inventory.making.losses.starts import Failures, Survival, check_starts, failures, onward_success

GOOD = st.integers(1, 60)
SUCCESS = st.floats(0.05, 1.0)
CONFIDENCE = st.floats(0.01, 0.999)


def starts_for(good: int, survival: Survival, confidence: float) -> int:
    """Pieces to start where there is one stage to lose them at."""
    return evening(good, (survival,), confidence).starts


@pytest.mark.outside
@pytest.mark.parametrize(
    ("success", "starts"),
    [
        (0.50, [5, 8, 11, 13, 16, 18, 23, 28, 40]),
        (0.75, [3, 5, 6, 8, 9, 11, 14, 17, 25]),
    ],
)
def test_seed_number_table(success: float, starts: list[int]) -> None:
    """Seeds needed for N plants at 95 % (Sedcole, Crop Science 17, 1977; from memory, reproduced)."""
    plants = (1, 2, 3, 4, 5, 6, 8, 10, 15)
    assert [starts_for(n, Survival(success), 0.95) for n in plants] == starts


@pytest.mark.outside
@pytest.mark.parametrize(
    ("order", "size"), [(1, 59), (2, 93), (3, 124), (4, 153), (5, 181), (6, 208)], ids=lambda n: str(n)
)
def test_order_statistic_sizes(order: int, size: int) -> None:
    """Sample sizes for a one-sided 95 %/95 % tolerance limit of order N (Wilks 1941; a table of them read)."""
    assert starts_for(order, Survival(0.05), 0.95) == size


@pytest.mark.outside
@pytest.mark.parametrize(
    ("good", "success", "confidence", "starts"),
    [(10, 0.9, 0.95, 13), (20, 0.85, 0.9, 26), (12, 0.7, 0.95, 22)],
)
def test_workshop_figures(good: int, success: float, confidence: float, starts: int) -> None:
    """Batches of a workshop's size, as the binomial survival function of scipy.stats gives them."""
    assert starts_for(good, Survival(success), confidence) == starts
    assert stats.binom.sf(good - 1, starts, success) >= confidence
    assert stats.binom.sf(good - 1, starts - 1, success) < confidence


@pytest.mark.outside
@given(GOOD, SUCCESS, CONFIDENCE)
@examples(90)
def test_agrees_with_the_library(good: int, success: float, confidence: float) -> None:
    """The starts reach the confidence, one fewer does not, by scipy.stats.binom."""
    starts = starts_for(good, Survival(success), confidence)
    assert stats.binom.sf(good - 1, starts, success) >= confidence - 1e-9
    assert starts == good or stats.binom.sf(good - 1, starts - 1, success) < confidence + 1e-9


@pytest.mark.outside
@pytest.mark.parametrize("success", [0.999, 0.9, 0.4, 0.02], ids=str)
@pytest.mark.parametrize("good", [1, 700, 10_000], ids=str)
def test_large_batches_agree_with_the_library(good: int, success: float) -> None:
    """Up to ten thousand pieces, where p^N alone underflows, by scipy.stats.nbinom."""
    assert starts_for(good, Survival(success), 0.9) == good + stats.nbinom.ppf(0.9, good, success)


@pytest.mark.outside
@pytest.mark.parametrize(("good", "success"), [(1, 0.3), (5, 0.8), (2_000, 0.5)])
def test_failure_odds_are_negative_binomial(good: int, success: float) -> None:
    """Every listed probability is that of scipy.stats.nbinom, and nothing that matters is left out."""
    law = failures(good, Survival(success))
    probabilities = law.nearly_all(1e-9)
    counts = range(law.fewest, law.fewest + len(probabilities))
    expected = [float(stats.nbinom.pmf(k, good, success)) for k in counts]
    assert list(probabilities) == pytest.approx(expected, rel=1e-9, abs=1e-15)
    assert math.fsum(probabilities) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize(
    ("success", "confidence", "starts"), [(0.9, 0.9, 1), (0.9, 0.99, 2), (0.5, 0.875, 3), (0.8, 0.96, 2)]
)
def test_a_confidence_met_exactly_counts_as_met(success: float, confidence: float, starts: int) -> None:
    """1 − (1 − p)^n equal to the confidence is enough, although floats may fall a hair short."""
    assert starts_for(1, Survival(success), confidence) == starts


def test_nothing_lost_needs_no_spare() -> None:
    """At a success of 1 the starts are the pieces wanted, at any confidence."""
    assert [starts_for(n, Survival(1.0), 0.999) for n in (1, 7, 10_000)] == [1, 7, 10_000]


@given(GOOD, SUCCESS, CONFIDENCE)
@examples(50)
def test_more_is_never_less(good: int, success: float, confidence: float) -> None:
    """More pieces, a higher confidence or heavier losses never need fewer starts."""
    starts = starts_for(good, Survival(success), confidence)
    assert starts_for(good + 1, Survival(success), confidence) > starts
    assert starts_for(good, Survival(success), (confidence + 1) / 2) >= starts
    assert starts_for(good, Survival(success * 0.9), confidence) >= starts


@pytest.mark.parametrize(
    ("good", "success", "confidence", "says"),
    [
        (0, 0.9, 0.9, "0 good pieces"),
        (5, 0.0, 0.9, "success of 0 "),
        (5, -0.1, 0.9, "success of -0.1"),
        (5, 1.01, 0.9, "success of 1.01"),
        (5, math.nan, 0.9, "success of nan"),
        (5, 0.9, 0.0, "confidence of 0 "),
        (5, 0.9, 1.0, "confidence of 1 "),
        (5, 0.9, 90, "confidence of 90"),
        (1000, 0.0001, 0.9, "more than 5,000,000 starts"),
    ],
)
def test_refusals(good: int, success: float, confidence: float, says: str) -> None:
    """What makes no sense is refused in a sentence that says what is accepted."""
    with pytest.raises(BadInput, match=says) as refusal:
        starts_for(good, Survival(success), confidence)
    assert refusal.value.hint


@pytest.mark.outside
def test_failures_within_a_bound_are_no_more_than_that() -> None:
    """Of 400 good pieces at even odds, where few failures hardly ever happen: scipy.stats.nbinom."""
    law = failures(400, Survival(0.5))
    assert law.fewest > 100
    within = law.within(law.fewest + 150)
    assert len(within) == 151
    expected = [float(stats.nbinom.pmf(at, 400, 0.5)) for at in range(law.fewest, law.fewest + 151)]
    assert within == pytest.approx(expected, rel=1e-9)
    assert law.within(law.fewest - 2) == []


@pytest.mark.outside
@pytest.mark.parametrize("survival", [Survival(0.5, 4000.0), Survival(0.7)])
def test_failures_up_to_so_many_and_no_further(survival: Survival) -> None:
    """As many probabilities as were asked for, from the fewest failures on; scipy.stats has the same."""
    law = Failures(200, survival)
    assert law.fewest > 0
    most = law.fewest + 4
    share = survival.share
    a, b = (share * survival.worth, (1 - share) * survival.worth) if not survival.exact else (0.0, 0.0)
    library = stats.betanbinom(200, a, b) if a else stats.nbinom(200, share)
    counts = range(law.fewest, most + 1)
    assert law.within(most) == pytest.approx([library.pmf(one) for one in counts], rel=1e-6)
    assert list(law.within(law.fewest - 2)) == []


def test_from_each_stage_on_a_piece_must_survive_all_the_rest() -> None:
    """0.9 · 0.8 · 0.5 from the first of three stages, 0.8 · 0.5 from the second, 0.5 at the last."""
    assert onward_success([Survival(0.9), Survival(0.8), Survival(0.5)]) == pytest.approx((0.36, 0.4, 0.5))


def test_a_share_is_known_exactly_from_ten_million_pieces_on() -> None:
    """And hardly any outcome lies far out from two thousand; 1 is sure, whatever it is worth."""
    assert [Survival(0.9, worth).exact for worth in (1e7, 1.1e7)] == [False, True]
    assert [Survival(0.9, worth).light for worth in (2000.0, 2100.0)] == [False, True]
    assert (Survival(1.0, 5.0).sure, Survival(1.0, 5.0).light, Survival(0.999).sure) == (True, True, False)


def test_five_million_starts_are_the_most() -> None:
    """So many are planned for, one more is not."""
    check_starts(5_000_000, 1.0)
    check_starts(1, 1 / 4_999_999)
    with pytest.raises(BadInput, match="more than 5,000,000 starts"):
        check_starts(5_000_001, 1.0)
