"""Which blanks to cut into what: the most of the wanted pieces, then the least loss."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from inventory.making.blanks.model import BlankStock, CutPlan, Wanted, check


def cutting_plan(
    stock: Sequence[BlankStock],
    wanted: Sequence[Wanted],
    kerf: Fraction,
    *,
    most: int | None = None,
    time_limit: float = 10.0,
) -> CutPlan:
    """Cut as many of the wanted pieces as possible; then from blanks by length cut into the least length, from one-offs
    lose the least bulk (that of the blanks cut less that of their pieces).

    most: one-offs that may be cut, if not all. Exact unless `time_limit` seconds run out or the problem is too large:
    then the best plan found is given, and not called proven. Errors: `BadInput` for what cannot be, and where one-offs
    can be cut in more than 50,000 ways.
    """
    check(stock, wanted, kerf)
    if any(one.diameter is not None for one in stock):  # each way loads for who has such blanks
        from inventory.making.blanks.one_offs import plan_one_offs

        return plan_one_offs(stock, wanted, kerf, most, time_limit)
    from inventory.making.blanks.by_length import plan_by_length

    return plan_by_length(stock, wanted, kerf, time_limit)
