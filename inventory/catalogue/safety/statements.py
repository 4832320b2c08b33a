"""The statements of a job, by moment, each once; and the line that names its kinds of danger."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from inventory.catalogue.families import Material
from inventory.catalogue.hazards import NONE, hazard_sentence
from inventory.catalogue.names import fold
from inventory.catalogue.parts import Part, Supply
from inventory.catalogue.safety.kinds import about_hazards, dust_of, kinds_of, order, wants_a_data_sheet
from inventory.measures import listed
from inventory.measures.tables import rows

MOMENTS = {
    "cut": "Cut, drill",
    "turn": "Turn",
    "finish": "Sand, finish",
    "glue": "Glue",
    "flammables": "Flammables",
    "after": "After finishing",
    "selling": "Selling",
}
"""When a statement is to be heard, in the order of the work."""
NOT_ON_FILE = "no hazards on file: read its data sheet"
GOVERNS = (
    "The product's own safety data sheet, the machine's manual, local rules and licensed practice govern."
)
USUAL = "Usual codes of such a product: read its own data sheet."
REGULATION = "Regulation (EC) No 1272/2008, annex III"
WET = ("finish", "solvent")


@dataclass(frozen=True, slots=True)
class Statement:
    """One sentence at its moment. of: the products or the material it is about, none where it is about the work.

    short: what a line beside a price has room for.
    """

    moment: str
    says: str
    source: str
    of: tuple[str, ...] = ()
    short: str = ""


@dataclass(frozen=True, slots=True)
class Doing:
    """A job as far as it can hurt. stages: those gone through; makes: `stopper` …; selling: a price is spoken of."""

    supplies: tuple[Part, ...] = ()
    materials: tuple[Material, ...] = ()
    stages: frozenset[str] = frozenset()
    makes: frozenset[str] = frozenset()
    selling: bool = False


@dataclass(frozen=True, slots=True)
class Safety:
    """kinds: of danger, for one line; statements: in the order of the work; unknown: supplies nobody has data of."""

    kinds: tuple[str, ...] = ()
    statements: tuple[Statement, ...] = ()
    unknown: tuple[str, ...] = ()

    @property
    def selling(self) -> str:
        """What selling asks, in one sentence; empty where no price is spoken of."""
        said = "; ".join(one.short for one in self.at("selling"))
        return f"{said[:1].upper()}{said[1:]}." if said else ""

    @property
    def sentences(self) -> tuple[str, ...]:
        """Every statement in a row, the standing one last."""
        return (*(one.says for one in self.statements), GOVERNS) if self.statements else ()

    def at(self, *moments: str) -> tuple[Statement, ...]:
        """The statements of some moments."""
        return tuple(one for one in self.statements if one.moment in moments)


def safety_of(doing: Doing) -> Safety:
    """Everything to be said of a job."""
    every = [part for part in doing.supplies if wants_a_data_sheet(part) or _codes(part)]
    products = [part for part in every if not _free_of_hazards(part)]
    known = [part for part in products if _codes(part)]
    unknown = tuple(part.name for part in products if not _codes(part))
    said = [*_products(known), *_materials(doing), *_protected(doing), *standing(_facts(doing, every))]
    if unknown:
        said.append(Statement("glue", f"{listed(unknown)}: {NOT_ON_FILE}.", "the book", unknown))
    order_of = list(MOMENTS)
    said.sort(key=lambda one: order_of.index(one.moment))
    return Safety((*_kinds(doing, known, unknown),), tuple(dict.fromkeys(said)), unknown)


def standing(facts: Iterable[str]) -> tuple[Statement, ...]:
    """The cautions of the table that hold where these are the facts of a job."""
    there = frozenset(facts)
    return tuple(
        Statement(row["moment"], row["says"], row["source"], short=row["short"])
        for row in _cautions()
        if any(there.issuperset(every.split("+")) for every in row["when"].split("|"))
    )


@cache
def _cautions() -> list[dict[str, str]]:
    return rows("cautions")


def _codes(part: Part) -> tuple[str, ...]:
    return part.detail.hazards if isinstance(part.detail, Supply) else ()


def _free_of_hazards(part: Part) -> bool:
    return tuple(map(fold, _codes(part))) == (NONE,)


def _usual(part: Part) -> bool:
    return isinstance(part.detail, Supply) and "hazards" in part.detail.usual


def _type(part: Part) -> str:
    return fold(part.detail.type) if isinstance(part.detail, Supply) else ""


def _facts(doing: Doing, products: Iterable[Part]) -> Iterable[str]:
    yield from doing.stages
    yield from (word for made in doing.makes for word in made.casefold().split())  # a wine stopper is one
    for part in products:
        if not _free_of_hazards(part):
            yield from kinds_of(_codes(part))
        if _type(part) == "adhesive":
            yield "glue"
        if _type(part) in WET:
            yield "wet"
    if doing.stages:
        for material in doing.materials:
            dust = dust_of(material.name)
            yield "dust"
            yield from (f"{'wood' if kind == 'wood' else 'other'} dust" for kind in dust.kinds)
            yield from (name for name in ("heats", "fragile") if getattr(dust, name))
    if doing.selling:
        yield from ("selling", "fittings")


def _products(known: Iterable[Part]) -> Iterable[Statement]:
    """The official statements, products with the same ones together."""
    same: dict[tuple[str, tuple[str, ...], bool], list[str]] = {}
    for part in known:
        flammable = "flammables" in kinds_of(_codes(part))
        moment = "glue" if _type(part) == "adhesive" else "flammables" if flammable else "finish"
        same.setdefault((moment, _codes(part), _usual(part)), []).append(part.name)
    for (moment, codes, usual), names in same.items():
        said = hazard_sentence(", ".join(names), codes) + (f" {USUAL}" if usual else "")
        yield Statement(moment, said, REGULATION, tuple(names))


def _materials(doing: Doing) -> Iterable[Statement]:
    """Materials whose dust does more than any; the shop's own word of one goes before the table's."""
    same: dict[tuple[str, str], list[str]] = {}
    for material in doing.materials if doing.stages else ():
        dust, usual = dust_of(material.name), "caution" in material.usual
        if about_hazards(material.caution) and not (usual and dust.does):
            source = "usual, common practice" if usual else "the shop's own sheet"
            same.setdefault((material.caution.rstrip("."), source), []).append(material.name)
        elif dust.does:
            source = f"measures/tables/timbers.csv: {dust.source}"
            same.setdefault((dust.caution, source), []).append(material.name)
    for (caution, source), names in same.items():
        yield Statement("finish", f"{listed(names)}: {caution}.", source, tuple(names))


def _protected(doing: Doing) -> Iterable[Statement]:
    """Species that the lists name, with what crossing a border needs."""
    for material in doing.materials if doing.selling else ():
        if material.listed_species:
            said = f"{material.name} is a protected species ({material.listed_species.rstrip('.')})"
            for one in standing(["protected"]):
                short = f"{material.name}: {one.short}"
                yield Statement(one.moment, f"{said}: {one.says}", one.source, (material.name,), short)


def _kinds(doing: Doing, known: Iterable[Part], unknown: tuple[str, ...]) -> Iterable[str]:
    found = {kind for part in known for kind in kinds_of(_codes(part))}
    yield from (kind for kind in order() if kind in found)
    dusts = [dust_of(material.name) for material in doing.materials] if doing.stages else []
    names = list(dict.fromkeys(kind for dust in dusts for kind in dust.kinds))
    if names:
        sensitising = any(dust.does for dust in dusts)
        yield f"{'sensitising ' if sensitising else ''}{listed(names)} dust"
    if unknown:
        yield f"no hazards on file for {listed(unknown)}"
