"""Whether a catalogue agrees with itself: names leading nowhere, impossible barrels, bills that run in circles."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from inventory.catalogue.catalogue import Catalogue
from inventory.catalogue.checks.bills import bills
from inventory.catalogue.checks.goods import barrels, families, materials, parts, platings
from inventory.catalogue.checks.trouble import Trouble

CHECKS: tuple[Callable[[Catalogue], Iterable[Trouble]], ...] = (
    platings,
    materials,
    parts,
    families,
    barrels,
    bills,
)


def troubles(catalogue: Catalogue) -> tuple[Trouble, ...]:
    """Everything in which the catalogue disagrees with itself; empty where it is sound."""
    return tuple(trouble for check in CHECKS for trouble in check(catalogue))
