"""Laws of whole amounts: sums by numpy's convolution, and what is rounded is rounded to the safe side."""

from __future__ import annotations

import numpy as np
import pytest

from inventory.making.distributions import FINEST, both, mean, suffices, use_of
from inventory.making.losses.reaching import probability_at_most, quantile


@pytest.mark.outside
def test_the_sum_of_two_amounts_is_their_convolution() -> None:
    """Of whole units, however many: numpy.convolve, nothing rounded."""
    one = np.arange(1.0, 301.0) / np.arange(1.0, 301.0).sum()
    other = np.full(300, 1 / 300)
    found = both(
        {1000 * at: float(share) for at, share in enumerate(one)},
        {1000 * at: float(share) for at, share in enumerate(other)},
    )
    assert len(found) == 599 > FINEST
    assert [found[1000 * at] for at in range(599)] == pytest.approx(np.convolve(one, other), abs=1e-15)


def test_what_falls_on_too_many_steps_is_rounded_up_by_less_than_one() -> None:
    """Two hundred amounts of 7 and of 11 thousandths a step: told in four hundred, never too little."""
    one, other = ({step * at: 1 / 200 for at in range(200)} for step in (7, 11))
    found = both(one, other)
    exact = mean(one) + mean(other)
    step = -(-18 * 199 // FINEST)
    assert len(found) <= FINEST + 1
    assert {amount % step for amount in found} == {0}
    assert exact + 0.3 * step < mean(found) < exact + 0.6 * step
    assert sum(found.values()) == pytest.approx(1.0)
    small = both({0: 0.5, 7: 0.5}, {0: 0.5, 11: 0.5})
    assert small == {0: 0.25, 7: 0.25, 11: 0.25, 18: 0.25}


def test_trifles_are_left_out_unless_there_is_nothing_else() -> None:
    """A ten-millionth of a millionth of a chance is none beside others; alone it is all there is."""
    assert both({0: 1.0, 5: 1e-14}, {0: 1.0}) == {0: 1.0}
    assert both({5: 1e-14}, {0: 1.0}) == {5: 1e-14}


def test_what_is_there_suffices_to_the_last_thousandth() -> None:
    """Of three amounts as likely with 100 a session: 300 is enough for two of them, 299 for one."""
    use = use_of({1: 0.25, 2: 0.25, 3: 0.25}, lambda pieces: 100 * pieces)
    assert use == {100: 0.25, 200: 0.25, 300: 0.25}
    assert [suffices(use, 100, there) for there in (199, 200, 299, 300, 400)] == pytest.approx(
        [0, 1 / 3, 1 / 3, 2 / 3, 1]
    )
    assert use_of({1: 0.5, 2: 0.5}, lambda _: 7) == {7: 1.0}


def test_a_law_has_no_more_than_it_tells() -> None:
    """From three pieces on, five parts in ten and four: none below, nine tenths in all, and the last that is known."""
    law = (3, (0.5, 0.4))
    assert [probability_at_most(law, pieces) for pieces in (-5, 1, 2, 3, 4, 99)] == [0, 0, 0, 0.5, 0.9, 0.9]
    assert [quantile(law, level) for level in (0.2, 0.5, 0.6, 0.9, 0.95)] == [3, 3, 4, 4, 4]
