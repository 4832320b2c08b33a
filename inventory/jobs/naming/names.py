"""Which thing somebody means by its name, of whatever kind it is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from inventory.catalogue import Piece, fold
from inventory.errors import BadInput, UnknownName
from inventory.ledger.documents.changes import Thing
from inventory.ledger.shop import Shop
from inventory.measures import listed

THINGS: tuple[Thing, ...] = ("part", "pattern", "family", "plating", "material", "supplier", "order")


MANY = "part, order or other thing"
"""What a name may be of where it may be of anything."""


def things(shop: Shop) -> Mapping[Thing, Mapping[str, Any]]:
    """Everything that has a name, by its kind and folded name."""
    known = shop.catalogue
    return {
        "part": known.parts,
        "pattern": known.patterns,
        "family": known.families,
        "plating": known.platings,
        "material": known.materials,
        "supplier": known.suppliers,
        "order": shop.book.orders,
    }


def thing_called(shop: Shop, name: str, what: str, among: Iterable[Thing] = THINGS) -> tuple[Thing, str]:
    """The thing of this name and its kind. what: the kind that is meant, empty where nobody said.

    Raises UnknownName, BadInput where several things or none of these kinds are meant.
    """
    allowed = tuple(among)
    if what and what not in allowed:
        raise BadInput(f"“{what}” is no kind of thing.", hint=f"Write one of {listed(allowed, most=9)}.")
    every = things(shop)
    found = [kind for kind in allowed if what in ("", kind) and fold(name) in every[kind]]
    if len(found) > 1:
        raise BadInput(
            f"“{name}” is the name of a {listed(found, most=9)}.", hint=f"Say which: --what {found[0]}."
        )
    if not found:
        names = [one.name for kind in allowed if what in ("", kind) for one in every[kind].values()]
        raise UnknownName(what or (MANY if allowed == THINGS else _either(allowed)), name, names)
    return found[0], every[found[0]][fold(name)].name


def _either(kinds: tuple[Thing, ...]) -> str:
    return f"{', '.join(kinds[:-1])} or {kinds[-1]}"


def pieces_of(shop: Shop, what: Thing, name: str) -> list[Piece]:
    """Finished pieces named after a thing."""
    fields = {"part": ("kit", "blank", "refill"), "pattern": ("pattern",)}.get(what, ())
    return [
        part.detail
        for part in shop.catalogue.parts.values()
        if isinstance(part.detail, Piece)
        and any(fold(getattr(part.detail, field) or "") == fold(name) for field in fields)
    ]
