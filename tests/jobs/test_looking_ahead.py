"""What goes now and what waits: the figures the programme is given."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.jobs.ahead.looking import MAKING, missed

DAYS = st.lists(st.integers(0, 60), min_size=1, max_size=9)


@pytest.mark.cross_check
@given(DAYS, DAYS, st.floats(1, 60))
def test_what_comes_too_late_is_what_trying_every_pair_says(
    notice: list[int], late: list[int], window: float
) -> None:
    """Asked for at seven times of the window, on each notice, with each parcel as late as it was."""
    tries = [
        wait < window - window * at / 8 + more + MAKING
        for wait in notice
        for more in late
        for at in range(1, 8)
    ]
    assert missed(sorted(notice), late, window) == pytest.approx(sum(tries) / len(tries))
