"""Finished pieces on the shelf: what they are called, and which of them serve a request."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from inventory.catalogue import Catalogue, Part, Piece, fold
from inventory.jobs.orders.requests import ResolvedRequest
from inventory.ledger.availability import free
from inventory.ledger.claims import claims_of
from inventory.ledger.shop import Shop
from inventory.measures import Length

THICKER, FORMERLY = " thicker", " fatter"
"""How the name of a piece with a thicker barrel ends, and ended in books of earlier versions: there it stays."""


def piece_part(
    catalogue: Catalogue, pattern: str, kit: str, blank: str, refill: str | None, extra: Length | None
) -> Part:
    """The part that stands for finished pieces made so. Its name tells them apart: pattern, kit, blank, the rest."""
    told = catalogue.pattern(pattern)
    own = catalogue.family(told.family).refill
    swapped = refill if refill and fold(refill) != fold(own or "") else None
    swapped = swapped and catalogue.part(swapped).name
    detail = Piece(told.name, catalogue.part(kit).name, catalogue.part(blank).name, swapped, extra)
    name = piece_called(detail)
    before = (
        catalogue.parts.get(fold(name.removesuffix(THICKER) + FORMERLY)) if name.endswith(THICKER) else None
    )
    return before or Part(name, detail)


def piece_called(made: Piece) -> str:
    """The name of finished pieces: what they were made from."""
    bits = [made.pattern, f"of {made.kit}", made.blank, *([made.refill] if made.refill else [])]
    return ", ".join([*bits, *([f"{made.extra_diameter}{THICKER}"] if made.extra_diameter else [])])


def fitting(catalogue: Catalogue, resolved: ResolvedRequest, kits: Iterable[Part]) -> tuple[Part, ...]:
    """The finished pieces that are what a request asks for, made from one of these kits."""
    own = {fold(kit.name) for kit in kits}
    request = resolved.request
    swap = fold(request.refill) if request.refill else ""
    swap = "" if swap == fold(resolved.family.refill or "") else swap
    return tuple(
        part
        for part in catalogue.parts.values()
        if isinstance(part.detail, Piece)
        and fold(part.detail.pattern) == fold(resolved.pattern.name)
        and fold(part.detail.kit) in own
        and fold(part.detail.blank) == fold(resolved.blank.name)
        and fold(part.detail.refill or "") == swap
        and _mm(part.detail.extra_diameter) == _mm(request.extra_diameter)
    )


def _mm(length: Length | None) -> Fraction:
    return length.mm if length else Fraction(0)


def ready(shop: Shop, resolved: ResolvedRequest, kits: Iterable[Part]) -> tuple[tuple[Part, int], ...]:
    """Free finished pieces that serve the request, no more than it asks for."""
    left, done = resolved.request.count, []
    for part in fitting(shop.catalogue, resolved, kits):
        there = min(free(shop.book, part, shop.today) // 1000, left)
        if there:
            done.append((part, there))
            left -= there
    return tuple(done)


def made_for(shop: Shop, order: str) -> int:
    """Finished pieces set aside for an order."""
    return sum(
        claim.quantity // 1000
        for claim in claims_of(shop.book, order)
        if claim.account == "claim" and shop.catalogue.part(claim.part).kind == "piece"
    )
