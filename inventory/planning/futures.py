"""Many possible courses of the coming weeks: what is asked for in each, drawn from what is expected.

A pattern's rate of orders is gamma about its mean; given it, orders of each kind and size come independently as Poisson
numbers (a Poisson stream falls apart into independent ones). Good and bad times, lognormal, are those of all patterns
and last `TIME` weeks. So one course draws the rates once, then for every kind, size and week a number of orders. Drawn
by the generator whose stream is fixed for good (numpy's `RandomState`, its compatibility guarantee), so that a seed
gives the same courses everywhere.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from inventory.planning.demand.expected import Expected, Kind
from inventory.planning.demand.markets import SHAPE, MarketDemand, made_in
from inventory.planning.rehearsal.scene import TIME

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from inventory.planning.forecasting.arrays import Floats

LEAST_SHARE = 1e-3
"""Kinds less likely than that are left out of a course, their share given to the others."""


@dataclass(frozen=True, slots=True)
class Courses:
    """pieces: (kinds, weeks, courses), of the pattern and kind of that row."""

    kinds: tuple[tuple[str, Kind], ...]
    pieces: NDArray[np.int32]


def courses(expected: Expected, first: date, weeks: int, many: int, seed: int) -> Courses:
    """So many courses of so many weeks from a day on."""
    import numpy as np

    dice = np.random.RandomState(seed)
    season = np.array(expected.season(first, weeks))
    swings = dice.normal(size=(-(-weeks // TIME), many)) * expected.swing - expected.swing**2 / 2
    common = np.exp(np.repeat(swings, TIME, axis=0)[:weeks])
    names: list[tuple[str, Kind]] = []
    rows: list[NDArray[np.int32]] = []
    for one in expected.patterns:
        if not one.orders:
            continue
        rates = dice.gamma(one.shape, 1 / one.shape, size=many)
        a_week: Floats = one.orders * season[:, None] * common * rates
        for kind, share in _likely(one.kinds).items():
            pieces = np.zeros((weeks, many), dtype=np.int32)
            for size, part in one.sizes.items():
                pieces += (size * dice.poisson(a_week * (share * part))).astype(np.int32)
            names.append((one.pattern, kind))
            rows.append(pieces)
    for market in expected.markets:
        if made_in(market.on, first) < weeks:
            _sold_at(market, expected, made_in(market.on, first), (names, rows), dice)
    empty = np.zeros((0, weeks, many), dtype=np.int32)
    return Courses(tuple(names), np.stack(rows) if rows else empty)


def _sold_at(
    market: MarketDemand,
    expected: Expected,
    week: int,
    drawn: tuple[list[tuple[str, Kind]], list[NDArray[np.int32]]],
    dice: np.random.RandomState,
) -> None:
    """Add to the courses what a market sells, in the week its pieces are made; of each kind as of all that is sold."""
    import numpy as np

    names, rows = drawn
    if not rows:
        return
    many = rows[0].shape[1]
    mean = market.pieces * dice.gamma(SHAPE, 1 / SHAPE, size=many)
    shares = expected.shares()
    whole = sum(shares[name] for name in names)
    for name, pieces in zip(names, rows, strict=True):
        pieces[week] += np.asarray(dice.poisson(mean * (shares[name] / whole)), dtype=np.int32)


def _likely(kinds: Mapping[Kind, float]) -> dict[Kind, float]:
    some = {kind: share for kind, share in kinds.items() if share >= LEAST_SHARE}
    whole = sum(some.values())
    return {kind: share / whole for kind, share in some.items()}
