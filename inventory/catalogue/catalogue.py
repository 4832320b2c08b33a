"""The catalogue: everything the shop knows by name. Keys are folded names (see `names.fold`)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from inventory.catalogue.families import Family, Material, Pattern, Plating
from inventory.catalogue.names import find, fold
from inventory.catalogue.parts import Kit, Part
from inventory.catalogue.suppliers import Offer, Supplier

Named = Literal["part", "plating", "material", "family", "pattern", "supplier"]
"""What a catalogue knows by name."""


@dataclass(frozen=True, slots=True)
class Catalogue:
    """What things are. Offers are kept by the folded name of their part, each with all its steps.

    retired: what is no longer bought, offered or listed, by kind and folded name; what is there of it may be used.
    codes: present codes of offers by folded supplier and folded code they had before.

    factors: what the shop's own sessions make of a bill's quantities, by folded part name and `per`: the written
    quantity times this is what is really used (1 where nothing was learned).
    """

    parts: Mapping[str, Part] = field(default_factory=dict)
    platings: Mapping[str, Plating] = field(default_factory=dict)
    materials: Mapping[str, Material] = field(default_factory=dict)
    families: Mapping[str, Family] = field(default_factory=dict)
    patterns: Mapping[str, Pattern] = field(default_factory=dict)
    suppliers: Mapping[str, Supplier] = field(default_factory=dict)
    offers: Mapping[str, tuple[Offer, ...]] = field(default_factory=dict)
    factors: Mapping[tuple[str, str], Fraction] = field(default_factory=dict)
    retired: frozenset[tuple[Named, str]] = frozenset()
    codes: Mapping[tuple[str, str], str] = field(default_factory=dict)

    def part(self, name: str) -> Part:
        """The part of this name; UnknownName offers the nearest."""
        return find(self.parts, "part", name)

    def plating(self, name: str) -> Plating:
        """The plating of this name; UnknownName offers the nearest."""
        return find(self.platings, "plating", name)

    def material(self, name: str) -> Material:
        """The material of this name; UnknownName offers the nearest."""
        return find(self.materials, "material", name)

    def family(self, name: str) -> Family:
        """The family of this name; UnknownName offers the nearest."""
        return find(self.families, "family", name)

    def pattern(self, name: str) -> Pattern:
        """The pattern of this name; UnknownName offers the nearest."""
        return find(self.patterns, "pattern", name)

    def factor(self, part: str, per: str) -> Fraction:
        """What a bill's written quantity of a part for one `per` is to be multiplied by."""
        return self.factors.get((fold(part), per), Fraction(1))

    def supplier(self, name: str) -> Supplier:
        """The supplier of this name; UnknownName offers the nearest."""
        return find(self.suppliers, "supplier", name)

    def is_retired(self, what: Named, name: str) -> bool:
        """Whether the thing of this name is retired."""
        return (what, fold(name)) in self.retired

    def no_longer_bought(self, part: Part) -> bool:
        """Whether a part is retired: itself, or the family or plating of a kit."""
        if not self.retired:
            return False
        kit = part.detail
        of_kit = isinstance(kit, Kit) and (
            self.is_retired("family", kit.family) or self.is_retired("plating", kit.plating)
        )
        return of_kit or self.is_retired("part", part.name)

    def still_sold(self, offers: Mapping[str, tuple[Offer, ...]]) -> Mapping[str, tuple[Offer, ...]]:
        """Of offers, by folded part name, those that count: nobody buys what is retired, nor from who is."""
        if not self.retired:
            return offers
        return {
            key: tuple(one for one in several if not self.is_retired("supplier", one.supplier))
            for key, several in offers.items()
            if key not in self.parts or not self.no_longer_bought(self.parts[key])
        }
