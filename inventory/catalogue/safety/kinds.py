"""In one word each: the kinds of danger of a product, and what dust a material makes."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from inventory.catalogue.names import fold
from inventory.catalogue.parts import Part, Supply
from inventory.measures import read_unit
from inventory.measures.tables import rows

WEAK = ("irritants", "harm to waters", "what its data sheet says")
"""Kinds a product is called by only where nothing worse names it."""
ALLERGENS = ("epoxy", "isocyanates")
"""Kinds that say of a product already that it may make allergic."""
DOES = {"sensitises": "may make allergic", "irritates": "irritates", "is poisonous": "is poisonous"}
INERT = ("abrasive", "packaging", "refill", "spare fitting", "sundry")
"""Supplies without a data sheet to speak of, where they are counted and not poured."""


_HURTS = re.compile(
    r"dust|respirator|extraction|poison|toxic|spores|staub|absaug|maske|giftig|poussière|aspiration|masque|toxique",
    re.IGNORECASE,
)


def about_hazards(caution: str) -> bool:
    """Whether a material's own caution speaks of what it does to people, and not only of how it is worked."""
    return bool(_HURTS.search(caution))


@cache
def _by_code() -> dict[str, str]:
    return {code: row["kind"] for row in rows("hazard_kinds") for code in row["codes"].split()}


@cache
def order() -> tuple[str, ...]:
    """The kinds of products, the order in which they are named."""
    return tuple(row["kind"] for row in rows("hazard_kinds"))


def kinds_of(codes: Iterable[str]) -> tuple[str, ...]:
    """The kinds that name a product with these statements; one no table knows is what its data sheet says."""
    every = [one.strip() for code in codes for one in code.split("+")]
    found = {_by_code().get(code, WEAK[-1]) for code in every}
    if not found.isdisjoint(ALLERGENS):
        found.discard("sensitisers")
    strong = found.difference(WEAK)
    return tuple(kind for kind in order() if kind in (strong or found))


def wants_a_data_sheet(part: Part) -> bool:
    """Whether a supply is a substance: poured or weighed, or of a type that is not merely counted."""
    detail = part.detail
    return isinstance(detail, Supply) and (
        read_unit(part.unit).kind in ("weight", "volume") or fold(detail.type) not in INERT
    )


@dataclass(frozen=True, slots=True)
class Dust:
    """What a material's dust is. kinds: `wood`, `antler` …; timber and does: of one reported of (`sensitises`)."""

    kinds: tuple[str, ...]
    heats: bool = False
    fragile: bool = False
    timber: str = ""
    does: str = ""
    source: str = ""

    @property
    def caution(self) -> str:
        """What its dust does to people, as a sheet would say it; empty of a timber that is not reported of."""
        return f"the dust {DOES[self.does]}; extraction and a respirator" if self.does else ""


@cache
def dust_of(material: str) -> Dust:
    """By the words of the material's name; wood where they say nothing else."""
    there = frozenset(re.findall(r"[^\W_]+", material.casefold()))
    said = [row for row in rows("dusts") if _said(there, row["words"])]
    kinds = tuple(dict.fromkeys(row["dust"] for row in said if row["dust"]))
    wood = all(row["wood"] for row in said)
    timber = next((row for row in rows("timbers") if wood and _said(there, row["words"])), None)
    return Dust(
        (*(["wood"] if wood else []), *kinds),
        any(row["heats"] for row in said),
        any(row["fragile"] for row in said),
        *((timber["timber"], timber["does"], timber["source"]) if timber else ()),
    )


def _said(there: frozenset[str], groups: str) -> bool:
    return any(there.issuperset(group.split("+")) for group in groups.split("|"))
