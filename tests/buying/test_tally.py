"""The running price of a list: what a change would cost is what the changed list costs, suppliers left for good too."""

from __future__ import annotations

import random

from inventory.buying.heuristics.tally import BROKEN, ListTally

from .test_dated_enumeration import cost
from .test_tight_leaves import spaces


def test_the_price_after_a_change_is_that_of_the_changed_list() -> None:
    """Any packs more or fewer of up to two offers; as the terms say wherever the list brings what is wanted."""
    draw = random.Random(4)
    emptied = 0
    for one in spaces():
        numbers = range(len(one.problem.packs))
        for _ in range(20):
            bought = {n: many for n in numbers if (many := draw.randrange(4))}
            changes = {
                n: draw.randint(-bought.get(n, 0), 3) for n in draw.sample(numbers, min(2, len(numbers)))
            }
            after = {n: many for n in numbers if (many := bought.get(n, 0) + changes.get(n, 0))}
            tally = ListTally(one.problem, bought)
            said = tally.after(changes)
            price = one.problem.price(after)
            assert said == price if price is not None else said >= BROKEN
            total = cost(one.shop, {one.problem.packs[n].offer.key: many for n, many in after.items()})
            assert total is None or said == total * one.problem.atom
            tally.apply(changes)
            assert (tally.price, tally.bought) == (said, after)
            sellers = {one.problem.packs[n].supplier for n in bought}
            emptied += len(sellers - {one.problem.packs[n].supplier for n in after})
    assert emptied > 5
