"""What has been read so far: entries, the names they gave, where each stands, and everything wrong with them."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from functools import cached_property
from typing import Any, Literal

from inventory.catalogue import (
    Barrel,
    BillLine,
    Catalogue,
    Family,
    Known,
    Material,
    Order,
    Part,
    Pattern,
    Plating,
    Supplier,
    fold,
    over,
)
from inventory.catalogue.blanks_wished import KnownBlanks
from inventory.errors import Place, UnknownName
from inventory.ledger import Count, fingerprint
from inventory.ledger.documents.intake import SheetTab, Unused
from inventory.ledger.markets import Market
from inventory.measures import Currency
from inventory.sheets.files import fold_heading
from inventory.sheets.stock.cells import text_of
from inventory.sheets.stock.columns import Tab
from inventory.sheets.stock.entries.drafts import OfferDraft
from inventory.sheets.stock.tabs import TABS

Named = Literal["part", "plating", "material", "family", "pattern", "supplier", "order"]
AmountKey = tuple[str, str, int | None, Fraction | None, str]

_NEAREST_SOUGHT = 100
"""Different unknown names for which the nearest are sought; a file with more has another mistake."""


@dataclass
class LoadContext:
    """Everything of one load. `names` maps folded names to their spelling, by what they name.

    tabs: how many were begun, that at hand included; two files may have the same name. torn: a tab or a file could not
    be read, so that what seems to be missing may well stand there. stood: the rows of each tab of each file by their
    folded names. unused: cells that are read in vain.
    written: tabs of files whose headings are of an earlier version, as these have them.
    packs_of: the packs a part was offered in before this load, thousandths of its unit.
    makes: what patterns say that a family makes, by folded family; inside_said: kits of which a row says it;
    stood_in: for each thing of which something usual stands in, what: headings, or nothing for the whole thing.
    """

    known: Catalogue
    known_orders: Mapping[str, Order]
    currency: Currency
    today: date
    problems: list[Place] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    digests: list[str] = field(default_factory=list)
    names: dict[Named, dict[str, str]] = field(default_factory=dict)
    there: Mapping[Named, Mapping[str, Any]] = field(default_factory=dict)
    given: dict[tuple[str, ...], Place] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)
    parts: dict[str, Part] = field(default_factory=dict)
    platings: dict[str, Plating] = field(default_factory=dict)
    materials: dict[str, Material] = field(default_factory=dict)
    families: dict[str, Family] = field(default_factory=dict)
    barrels: dict[str, list[Barrel]] = field(default_factory=dict)
    patterns: dict[str, Pattern] = field(default_factory=dict)
    bills: dict[str, list[BillLine]] = field(default_factory=dict)
    suppliers: dict[str, Supplier] = field(default_factory=dict)
    offers: dict[tuple[str, str, int, str], OfferDraft] = field(default_factory=dict)
    counts: list[Count] = field(default_factory=list)
    orders: list[Order] = field(default_factory=list)
    markets: list[Market] = field(default_factory=list)
    amounts: dict[AmountKey, int | str] = field(default_factory=dict)
    counted: dict[tuple[object, ...], tuple[int, Place]] = field(default_factory=dict)
    repeats: list[Place] = field(default_factory=list)
    prices: dict[str, Fraction | str] = field(default_factory=dict)
    sentences: dict[tuple[str, str], str] = field(default_factory=dict)
    stood: dict[tuple[str, str], set[str]] = field(default_factory=dict)
    unused: list[Unused] = field(default_factory=list)
    tabs: int = 0
    torn: bool = False
    makes: dict[str, str] = field(default_factory=dict)
    inside_said: set[str] = field(default_factory=set)
    stood_in: dict[str, list[str]] = field(default_factory=dict)
    packs_of: Callable[[str], Collection[int]] = lambda _: ()
    written: dict[tuple[str, str], Tab] = field(default_factory=dict)

    def __post_init__(self) -> None:
        known = self.known
        self.there = {
            "part": known.parts,
            "plating": known.platings,
            "material": known.materials,
            "family": known.families,
            "pattern": known.patterns,
            "supplier": known.suppliers,
            "order": self.known_orders,
        }
        self.names = {what: _spelled(there) for what, there in self.there.items()}
        self.names["order"] = {}

    def as_written(self, file: str, tab: Tab, raw: Iterable[object]) -> Tab:
        """A tab under the headings a file has, which those refused are told by."""
        found = tab.as_written({fold_heading(text_of(cell)) for cell in raw})
        if found is not tab:
            self.written[file, tab.name] = found
        return found

    def shown(self, place: Place, key: str) -> str:
        """The heading in a file of what the program calls so."""
        tab = self.written.get((place.file, place.tab)) or TABS.get(place.tab)
        return tab.shown(key) if tab else key

    def present(self, what: Named, name: str) -> str:
        """What a thing is called now, where the name is one it had before; else the name as it is written."""
        there = self.there[what]
        old = there.old.get(fold(name)) if isinstance(there, Known) else None
        return name if old is None else str(there[old].name)

    def was_another(self, what: Named, name: str) -> bool:
        """Whether the name was another thing's, which was merged into this one."""
        there = self.there[what]
        return isinstance(there, Known) and fold(name) in there.merged

    @cached_property
    def blanks(self) -> KnownBlanks:
        """What an order's blank may be called, once all parts and materials were read."""
        parts, materials = over(self.known.parts, self.parts), over(self.known.materials, self.materials)
        return KnownBlanks(parts, materials, self.known.no_longer_bought)

    def part(self, name: str) -> Part | None:
        """The part of this name, as this load gives it or as it was known; None where it could not be read."""
        key = fold(name)
        return self.parts.get(key) or self.known.parts.get(key)

    def packs(self, part: str) -> set[int]:
        """The packs this load offers a part in, thousandths."""
        return {pack for _, key, pack, _ in self.offers if key == fold(part)}

    def sheets(self) -> tuple[SheetTab, ...]:
        """The rows of each tab of each file."""
        return tuple(SheetTab(file, tab, frozenset(rows)) for (file, tab), rows in self.stood.items())

    def fingerprint(self) -> str:
        """A digest of all rows, the same in whatever file and order they came; empty where there was none."""
        return fingerprint(*sorted(self.digests)) if self.digests else ""

    def unknown(self, what: Named, name: str) -> str:
        """The sentence for a name nobody has given, with the nearest ones; the same name is only sought once."""
        key = (what, fold(name))
        if key not in self.sentences:
            known = self.names[what].values() if len(self.sentences) < _NEAREST_SOUGHT else ()
            error = UnknownName(what, name, known)
            self.sentences[key] = f"{error.message} {error.hint}".strip() if known else error.message
        return self.sentences[key]


def _spelled(there: Mapping[str, Any]) -> dict[str, str]:
    """The present name of each thing by all its folded names."""
    names = {key: str(one.name) for key, one in there.items()}
    old = there.old if isinstance(there, Known) else {}
    return {**names, **{key: names[present] for key, present in old.items() if present in names}}
