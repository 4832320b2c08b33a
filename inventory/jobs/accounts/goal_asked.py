"""How many pieces of each pattern are expected to be asked for until a day, where the book shows enough of it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from math import ceil

from inventory.jobs.ahead.history import tells_enough
from inventory.jobs.ahead.levels import HORIZON, DemandPast
from inventory.jobs.ahead.markets import to_come
from inventory.jobs.ahead.recipes import kinds_of
from inventory.ledger.shop import Shop
from inventory.planning.demand.expected import expected


def asked_until(shop: Shop, past: DemandPast, by: date) -> Mapping[str, int] | None:
    """By folded pattern, by the week and at markets, rounded up; None where too little was seen to tell."""
    if not tells_enough(past.asked, shop.today):
        return None
    looked = expected(past.asked, kinds_of(shop, past.asked), shop.today, HORIZON)
    season = sum(looked.season(shop.today, ceil((by - shop.today).days / 7)))
    whole = sum(one.pieces for one in looked.patterns) or 1.0
    markets = sum(one.pieces for one in to_come(shop, past) if one.on <= by)
    return {
        one.pattern: ceil(one.pieces * season + markets * one.pieces / whole - 1e-9)
        for one in looked.patterns
    }
