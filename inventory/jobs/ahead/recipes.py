"""What can be made of what, and what a good piece of it takes of each part, the starts that are lost among it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import timedelta

from inventory.catalogue import Blank, Kit, Part, Pattern, fold
from inventory.errors import Refused
from inventory.jobs.orders.needs import Requirements, expected_bill, outline, requirements
from inventory.jobs.orders.requests import OrderRequest, ResolvedRequest, resolve
from inventory.ledger.asked import AskedFor
from inventory.ledger.shop import Shop
from inventory.making.distributions import mean
from inventory.planning.demand.expected import Kind, kind_of

BATCH = 4
"""Good pieces of a usual batch, over which what is taken once an evening is shared (an assumption)."""
MOST = 3
"""Platings and blanks a pattern nobody asked for yet is taken to be wanted in, those most of which is there."""


def kinds_of(shop: Shop, asked: Iterable[AskedFor]) -> dict[str, Sequence[Kind]]:
    """By folded pattern the kinds it was asked for in; of others those its kits and blanks on hand give."""
    seen: dict[str, dict[Kind, None]] = {}
    for one in asked:
        seen.setdefault(fold(one.pattern), {})[kind_of(one)] = None
    done: dict[str, Sequence[Kind]] = {}
    for key, pattern in shop.catalogue.patterns.items():
        kinds = tuple(seen[key]) if key in seen else tuple(_could(shop, pattern))
        if kinds:
            done[key] = kinds
    return done


def _could(shop: Shop, pattern: Pattern) -> Iterable[Kind]:
    if not pattern.bill:
        return
    parts = shop.catalogue.parts

    def most_first(keys: Iterable[str]) -> list[str]:
        there = [key for key in keys if shop.book.balance(key).on_hand > 0]
        return sorted(there, key=lambda key: (-shop.book.balance(key).on_hand, key))[:MOST]

    family = fold(pattern.family)
    kits = {
        key: part.detail
        for key, part in parts.items()
        if isinstance(part.detail, Kit) and fold(part.detail.family) == family
    }
    blanks = [key for key, part in parts.items() if isinstance(part.detail, Blank)]
    for kit in most_first(kits):
        for blank in most_first(blanks):
            yield fold(kits[kit].plating), blank, None


def per_piece(shop: Shop, kinds: Iterable[tuple[str, Kind]]) -> dict[tuple[str, Kind], Mapping[str, float]]:
    """Units of each part, by folded name, a good piece is expected to take; what cannot be made is left out."""
    done: dict[tuple[str, Kind], Mapping[str, float]] = {}
    for pattern, kind in kinds:
        try:
            done[pattern, kind] = _one(shop, pattern, kind)
        except Refused:
            continue
    return done


def _one(shop: Shop, pattern: str, kind: Kind) -> Mapping[str, float]:
    plan = outline(shop, *_batch(shop, pattern, kind), 0.5)
    # a batch begun for four does not give four on average
    good = 1000 * mean(plan.evening.finished)
    return {fold(part): many / good for part, many in expected_bill(plan).items()}


def plan_of(shop: Shop, pattern: str, kind: Kind) -> Requirements:
    """What a usual batch of a kind needs. Raises Refused where it cannot be made."""
    return requirements(shop, *_batch(shop, pattern, kind), 0.5)


def _batch(shop: Shop, pattern: str, kind: Kind) -> tuple[ResolvedRequest, str, Sequence[Part]]:
    plating, blank, refill = kind
    request = OrderRequest(pattern, (plating,), blank, BATCH, shop.today + timedelta(days=1), refill)
    resolved = resolve(shop.catalogue, request, shop.today)
    name, kits = resolved.kits[0]
    return resolved, name, kits
