"""The basket against a whole-number model written apart, on nasty lists (scripts/soak/nasty_baskets.py: 20,000)."""

from __future__ import annotations

import json

import pytest

from .basket_cases import FAMILIES, family
from .comparing import compared
from .truth import KEPT
from .whole_model import cheapest, served

STATES = (3, 30, 77, 82, 113, 116, 166, 168, 215, 216, 394, 429, *range(500, 518))
"""Lists that once were dearer, refused, unproven or bounded too high, and some more."""

REFUTED, OUT_OF_REACH = 7687, 9531
"""Of this list HiGHS with presolve calls optimal what costs more than a list that keeps every term; in the
other an offer out of reach takes the others of its group with it."""


@pytest.mark.outside
@pytest.mark.parametrize(
    "state",
    [*STATES, REFUTED, OUT_OF_REACH, *(pytest.param(n, marks=pytest.mark.soak) for n in range(600, 900))],
)
def test_no_list_is_cheaper_and_every_one_is_proven(state: int) -> None:
    """Source: the terms as a whole-number model, solved by HiGHS (scipy.optimize.milp)."""
    one = compared(state)
    assert not one.fault
    assert one.proven


@pytest.mark.outside
@pytest.mark.soak
@pytest.mark.parametrize("key", json.loads(KEPT.read_text()))
def test_the_kept_lists_are_the_cheapest(key: str) -> None:
    """Source: as above."""
    name, lines, sellers, state = key.split("/")
    answer = cheapest(served(family(int(lines), int(state), int(sellers), FAMILIES[name])))
    assert answer.certain
    assert str(answer.total) == json.loads(KEPT.read_text())[key]["total"]
