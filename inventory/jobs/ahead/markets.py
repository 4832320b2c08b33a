"""The markets the book knows: kept as one setting, so that each change is an entry that can be taken back."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING

from inventory.catalogue import STALL, fold
from inventory.errors import BadInput
from inventory.ledger import Proposal
from inventory.ledger.documents.changes import SettingChanged
from inventory.ledger.markets import Market
from inventory.ledger.shop import Shop
from inventory.measures import show_date
from inventory.planning.demand.markets import MarketDemand, market_demand

if TYPE_CHECKING:
    from inventory.jobs.ahead.levels import DemandPast

KEY = "markets"
"""The setting they are kept under, as JSON: day, name and expected pieces of each."""
MOST = 10_000


def markets_of(settings: Mapping[str, str]) -> tuple[Market, ...]:
    """Those the maker named, past ones too, the earliest first."""
    return tuple(
        Market(name, date.fromisoformat(day), expected and _plain(expected))
        for day, name, expected in json.loads(settings.get(KEY) or "[]")
    )


def _plain(pieces: float) -> float:
    """A whole number as one, so that it reads as it was typed."""
    return int(pieces) if pieces == int(pieces) else pieces


def with_market(shop: Shop, market: Market) -> Proposal:
    """A market more, or another figure for one that is known. Raises BadInput."""
    if not market.name.strip():
        raise BadInput(
            "A market needs a name.",
            hint='Say it: kitdrawer market "harbour market" 2026-12-12',
        )
    if market.expected is not None and not 0 <= market.expected <= MOST:
        raise BadInput(f"A market cannot be expected to sell {market.expected:g}.", hint=f"Give 0 to {MOST}.")
    others = [one for one in markets_of(shop.settings) if not _same(one, market)]
    said = "" if market.expected is None else f", {market.expected:g} pieces expected"
    return _proposal(shop, [*others, market], f"Market: {market.name} on {show_date(market.on)}{said}")


def without_market(shop: Shop, market: Market) -> Proposal:
    """One market less. Raises BadInput where there is none such."""
    known = markets_of(shop.settings)
    left = [one for one in known if not _same(one, market)]
    if len(left) == len(known):
        raise BadInput(
            f"There is no {market.name} on {show_date(market.on)}.", hint="See them: kitdrawer market"
        )
    return _proposal(shop, left, f"No market: {market.name} on {show_date(market.on)}")


def prepared(shop: Shop) -> int:
    """Pieces in sessions that are planned for a stall: their parts are set aside, so they count once."""
    return sum(
        one.count for one in shop.book.orders.values() if one.customer == STALL and one.state == "promised"
    )


def to_come(shop: Shop, past: DemandPast) -> tuple[MarketDemand, ...]:
    """Markets from today on, with what they are expected to sell beside what is prepared."""
    return market_demand(past.markets, past.asked, shop.today, prepared(shop))


def _same(one: Market, other: Market) -> bool:
    return one.on == other.on and fold(one.name) == fold(other.name)


def _proposal(shop: Shop, markets: Sequence[Market], title: str) -> Proposal:
    return Proposal(
        "markets", title, shop.today, changes=(_setting(markets),), expected_version=shop.book.version
    )


def _setting(markets: Sequence[Market]) -> SettingChanged:
    rows = sorted((one.on.isoformat(), one.name, one.expected and _plain(one.expected)) for one in markets)
    return SettingChanged(KEY, json.dumps(rows, ensure_ascii=False) if rows else None)


def said_by_sheets(known: Sequence[Market], said: Sequence[Market]) -> tuple[SettingChanged, ...]:
    """What a sheet changes of them: a day it names is as it says, the others stay; nothing where it says the same."""
    others = [one for one in known if not any(_same(one, other) for other in said)]
    changed = _setting([*others, *said])
    return () if changed == _setting(known) else (changed,)
