"""What an answer rests on that is only usual, and what the shop's own sessions have taught instead."""

from __future__ import annotations

from dataclasses import replace

import pytest

from inventory.catalogue import fold
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.usual_values import usual_values
from inventory.ledger.learned import LearnedFigures, LearnedLoss
from jobs import goods
from jobs.shop import plenty, request, shop

WOOD = goods.catalogue().part(goods.OLIVE).detail.material  # type: ignore[union-attr]  # a blank
BOTH, OWN = ("allowance", "losses"), ("allowance",)


@pytest.mark.parametrize(
    ("learned", "usual"),
    [
        ((), BOTH),
        ((LearnedLoss(WOOD.upper(), "turn", 30_000, 10, 1),), OWN),
        ((LearnedLoss(WOOD, "turn", 30_000, 0, 0),), BOTH),
        ((LearnedLoss("antler", "turn", 30_000, 10, 1),), BOTH),
        ((LearnedLoss(WOOD, "drill", 30_000, 10, 1),), BOTH),
    ],
    ids=["nothing learned", "ten turned", "none turned yet", "of another material", "of another stage"],
)
def test_a_loss_that_sessions_taught_is_usual_no_more(
    learned: tuple[LearnedLoss, ...], usual: tuple[str, ...]
) -> None:
    """Of that material, once a piece of it came so far."""
    known = goods.catalogue()
    wood = replace(known.material(WOOD), usual=("allowance", "lost at turn"))
    here = shop(plenty(), replace(known, materials={**known.materials, fold(WOOD): wood}))
    there = replace(here, learned=LearnedFigures((), learned))
    told = usual_values(there, [check(here, request(1))])
    assert [one.what for one in told if one.of == WOOD] == [usual]
