"""Markets: days that are known, with what is expected to be sold on each, from what was typed and its own past.

A market's sales are gamma-Poisson: a mean m believed beforehand, worth `WORTH` days, and the days y₁ … y_n it had give
(WORTH·m + Σ y) / (WORTH + n) (Johnson, Ott and Dogucu, Bayes Rules!, ch. 5, from memory). Days differ: the shape of the
law of one is `SHAPE` (an assumption: nine days in ten lie between a third and twice of what is expected).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from inventory.catalogue import fold
from inventory.ledger.asked import AskedFor
from inventory.ledger.markets import Market

WORTH = 2.0
SHAPE = 4.0
AHEAD = 2
"""Weeks before a market in which its pieces are made (an assumption)."""


@dataclass(frozen=True, slots=True)
class MarketDemand:
    """What a market to come is expected to sell, less what is prepared. days: of its past, that it was learned from."""

    name: str
    on: date
    pieces: float
    days: int


def market_demand(
    markets: Sequence[Market], asked: Iterable[AskedFor], today: date, prepared: float
) -> tuple[MarketDemand, ...]:
    """Markets from today on, the earliest first. prepared: pieces already under way for a stall, for the first of them.

    A market of which nothing is known, typed or past, is left out.
    """
    past: dict[str, dict[date, int]] = defaultdict(lambda: defaultdict(int))
    for one in asked:
        if one.market:
            past[fold(one.at)][one.on] += one.pieces
    done = []
    for market in sorted(markets, key=lambda one: (one.on, one.name)):
        days = list(past[fold(market.name)].values())
        if market.on < today or (market.expected is None and not days):
            continue
        worth = WORTH if market.expected is not None else 0.0
        pieces = (worth * (market.expected or 0.0) + sum(days)) / (worth + len(days))
        left = max(pieces - prepared, 0.0)
        prepared = max(prepared - pieces, 0.0)
        done.append(MarketDemand(market.name, market.on, left, len(days)))
    return tuple(done)


def made_in(market: date, first: date) -> int:
    """The week, counted from 0, in which its parts are wanted."""
    return max((market - first).days // 7 - AHEAD, 0)
