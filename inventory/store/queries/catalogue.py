"""The catalogue out of its tables: a few set-wise SELECTs, no object per row besides the catalogue's own."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from sqlalchemy import Connection, Select, select

from inventory.catalogue import (
    Blank,
    Catalogue,
    Kit,
    Material,
    Offer,
    Part,
    Piece,
    Plating,
    PriceStep,
    Supplier,
    Supply,
    Tool,
    Tube,
    fold,
)
from inventory.store.mapping import codecs
from inventory.store.mapping.selecting import rows
from inventory.store.queries.patterns import families, patterns
from inventory.store.schema.core import table

_PART, _KIT, _TUBE, _BLANK = table("part"), table("kit"), table("tube"), table("blank")
_SUPPLY, _TOOL, _FAMILY = table("supply"), table("tool"), table("family")
_PIECE, _PATTERN = table("piece"), table("pattern")
_PLATING, _STAND_IN = table("plating"), table("plating_stand_in")
_MATERIAL, _LOSS = table("material"), table("material_loss")
_SUPPLIER, _OFFER, _STEP = table("supplier"), table("offer"), table("price_step")
_COMMON = (_PART.c.key, _PART.c.name, _PART.c.unit, _PART.c.note, _PART.c.level)


def catalogue(connection: Connection) -> Catalogue:
    """Everything the shop knows by name as the sheets wrote it, except offers (see `offers`)."""
    parts: dict[str, Part] = {}
    for kind in (_kits, _tubes, _blanks, _supplies, _tools, _pieces):
        parts.update(
            (key, Part(name, detail, unit, note, level))
            for key, name, unit, note, level, detail in kind(connection)
        )
    return Catalogue(
        parts=parts,
        platings=_platings(connection),
        materials=_materials(connection),
        families=families(connection),
        patterns=patterns(connection),
        suppliers=_suppliers(connection),
    )


def offers(connection: Connection, parts: Iterable[str] | None) -> Mapping[str, tuple[Offer, ...]]:
    """Offers with all their steps by folded part name; None: of every part."""
    query = (
        select(_PART.c.key, _OFFER.c.id, _SUPPLIER.c.name, _PART.c.name, _OFFER.c.pack, _OFFER.c.code)
        .add_columns(
            _OFFER.c.price_group, _OFFER.c.seen_on, _OFFER.c.at_most, _STEP.c.from_packs, _STEP.c.price
        )
        .select_from(_OFFER.join(_PART).join(_SUPPLIER).join(_STEP))
        .order_by(_OFFER.c.id, _STEP.c.from_packs)
    )
    if parts is not None:
        query = query.where(_PART.c.key.in_({fold(part) for part in parts}))
    steps: dict[int, list[PriceStep]] = defaultdict(list)
    heads: dict[int, tuple[Any, ...]] = {}
    for row in rows(connection, query):
        heads[row[1]] = row
        steps[row[1]].append(PriceStep(row[9], row[10]))
    found: dict[str, list[Offer]] = defaultdict(list)
    for number, (key, _, supplier, part, pack, code, group, seen, most, *_rest) in heads.items():
        found[key].append(Offer(supplier, part, pack, tuple(steps[number]), code, group, seen, most))
    return {key: tuple(several) for key, several in found.items()}


def _of_kind(detail: Any, *columns: Any, also: Any = None) -> Select[Any]:
    source = detail.join(_PART, detail.c.part_id == _PART.c.id)
    for other in also or ():
        source = source.join(other)
    return select(*_COMMON, *columns).select_from(source).order_by(_PART.c.id)


def _kits(connection: Connection) -> Iterator[tuple[Any, ...]]:
    source = (
        _KIT.join(_PART, _KIT.c.part_id == _PART.c.id)
        .join(_FAMILY, _KIT.c.family_id == _FAMILY.c.id)
        .join(_PLATING, _KIT.c.plating_id == _PLATING.c.id)
    )
    query = select(*_COMMON, _FAMILY.c.name, _PLATING.c.name, _KIT.c.tubes_inside).select_from(source)
    for *common, family, plating, inside in rows(connection, query.order_by(_PART.c.id)):
        yield *common, Kit(family, plating, inside)


def _tubes(connection: Connection) -> Iterator[tuple[Any, ...]]:
    query = _of_kind(_TUBE, _TUBE.c.outside, _TUBE.c.length, _TUBE.c.drill)
    for *common, outside, length, drill in rows(connection, query):
        yield *common, Tube(codecs.length(outside), codecs.length(length), codecs.drill(drill))


def _blanks(connection: Connection) -> Iterator[tuple[Any, ...]]:
    query = _of_kind(
        _BLANK, _MATERIAL.c.name, _BLANK.c.shape, _BLANK.c.width, _BLANK.c.length, also=(_MATERIAL,)
    )
    for *common, material, shape, width, length in rows(connection, query):
        yield *common, Blank(material, shape, codecs.maybe_length(width), codecs.maybe_length(length))


def _supplies(connection: Connection) -> Iterator[tuple[Any, ...]]:
    c = _SUPPLY.c
    query = _of_kind(
        _SUPPLY, c.type, c.net, c.tare, c.keeps_sealed, c.keeps_opened, c.hazards, c.density, c.works
    )
    for *common, kind, net, tare, sealed, opened, hazards, density, works in rows(connection, query):
        exact = None if density is None else codecs.fraction(density)
        yield *common, Supply(kind, net, tare, sealed, opened, codecs.words(hazards), exact, works)


def _tools(connection: Connection) -> Iterator[tuple[Any, ...]]:
    for *common, kind, size, life in rows(
        connection, _of_kind(_TOOL, _TOOL.c.type, _TOOL.c.size, _TOOL.c.life)
    ):
        yield *common, Tool(kind, size, life)


def _pieces(connection: Connection) -> Iterator[tuple[Any, ...]]:
    kit, blank, refill, c = _PART.alias(), _PART.alias(), _PART.alias(), _PIECE.c
    query = (
        select(*_COMMON, _PATTERN.c.name, kit.c.name, blank.c.name, refill.c.name, c.extra_diameter)
        .select_from(
            _PIECE.join(_PART, c.part_id == _PART.c.id)
            .join(_PATTERN)
            .join(kit, c.kit_id == kit.c.id)
            .join(blank, c.blank_id == blank.c.id)
            .outerjoin(refill, c.refill_id == refill.c.id)
        )
        .order_by(_PART.c.id)
    )
    for *common, pattern, kit_name, blank_name, swap, extra in rows(connection, query):
        yield *common, Piece(pattern, kit_name, blank_name, swap, codecs.maybe_length(extra))


def _platings(connection: Connection) -> dict[str, Plating]:
    other = _PLATING.alias()
    query = (
        select(_STAND_IN.c.plating_id, other.c.name)
        .join_from(_STAND_IN, other, _STAND_IN.c.stand_in_id == other.c.id)
        .order_by(_STAND_IN.c.plating_id, _STAND_IN.c.position)
    )
    stand_ins: dict[int, list[str]] = defaultdict(list)
    for plating, name in rows(connection, query):
        stand_ins[plating].append(name)
    every = select(_PLATING.c.id, _PLATING.c.key, _PLATING.c.name).order_by(_PLATING.c.id)
    return {key: Plating(name, tuple(stand_ins[number])) for number, key, name in rows(connection, every)}


def _materials(connection: Connection) -> dict[str, Material]:
    losses: dict[int, dict[str, Any]] = defaultdict(dict)
    query = select(_LOSS.c.material_id, _LOSS.c.stage, _LOSS.c.share)
    for material, stage, share in rows(connection, query.order_by(_LOSS.c.material_id, _LOSS.c.position)):
        losses[material][stage] = codecs.fraction(share)
    return {
        key: Material(name, codecs.length(allowance), losses[number], caution, species)
        for number, key, name, allowance, caution, species in rows(
            connection, select(_MATERIAL).order_by(_MATERIAL.c.id)
        )
    }


def _suppliers(connection: Connection) -> dict[str, Supplier]:
    query = select(_SUPPLIER).order_by(_SUPPLIER.c.id)
    return {key: Supplier(*rest) for _, key, *rest in rows(connection, query)}
