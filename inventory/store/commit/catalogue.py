"""A catalogue into its tables: what is named is added or replaced, everything else is left as it is.

Bill lines of a pattern, barrels of a family and steps of an offer are replaced as a whole.
"""

from __future__ import annotations

from typing import Any

from sqlalchemy import Connection, exists, select

from inventory.catalogue import Catalogue, Part, fold
from inventory.errors import Refused
from inventory.store.commit.patterns import put_families, put_patterns
from inventory.store.commit.suppliers import put_offers, put_suppliers
from inventory.store.mapping import codecs
from inventory.store.mapping.bulk import Values, drop, put
from inventory.store.mapping.names import Names
from inventory.store.schema.core import table

_PART, _TOTAL, _LINE = table("part"), table("part_balance"), table("movement")
_DETAIL = {
    "kit": table("kit"),
    "tube": table("tube"),
    "blank": table("blank"),
    "supply": table("supply"),
    "tool": table("tool"),
    "piece": table("piece"),
}
_STAND_IN, _LOSS = table("plating_stand_in"), table("material_loss")


def merge(connection: Connection, incoming: Catalogue, names: Names) -> None:
    """Add or replace everything `incoming` names. Raises UnknownName or Refused; the caller rolls back."""
    _put_platings(connection, incoming, names)
    _put_materials(connection, incoming, names)
    _put_parts(connection, incoming, names)
    put_families(connection, incoming, names)
    _put_details(connection, incoming, names)
    put_patterns(connection, incoming, names)
    put_suppliers(connection, incoming, names)
    put_offers(connection, incoming, names)


def _put_platings(connection: Connection, incoming: Catalogue, names: Names) -> None:
    if not incoming.platings:
        return
    platings = {fold(one.name): one for one in incoming.platings.values()}
    names.plating.put(connection, {key: {"name": one.name} for key, one in platings.items()})
    drop(connection, _STAND_IN, "plating_id", (names.plating.of(key) for key in platings))
    stand_ins = [
        {"plating_id": names.plating.of(key), "position": position, "stand_in_id": names.plating.of(other)}
        for key, one in platings.items()
        for position, other in enumerate(one.stand_ins)
    ]
    put(connection, _STAND_IN, stand_ins)


def _put_materials(connection: Connection, incoming: Catalogue, names: Names) -> None:
    if not incoming.materials:
        return
    materials = {fold(one.name): one for one in incoming.materials.values()}
    rows = {
        key: {
            "name": one.name,
            "allowance": one.allowance.written,
            "caution": one.caution,
            "listed_species": one.listed_species,
        }
        for key, one in materials.items()
    }
    names.material.put(connection, rows)
    drop(connection, _LOSS, "material_id", (names.material.of(key) for key in materials))
    losses = [
        {"material_id": names.material.of(key), "position": position, "stage": stage, "share": str(share)}
        for key, one in materials.items()
        for position, (stage, share) in enumerate(one.losses.items())
    ]
    put(connection, _LOSS, losses)


def _put_parts(connection: Connection, incoming: Catalogue, names: Names) -> None:
    if not incoming.parts:
        return
    parts = {fold(one.name): one for one in incoming.parts.values()}
    _refuse_other_units(connection, parts)
    new = [key for key in parts if key not in names.part.known]
    rows = {
        key: {"name": one.name, "kind": one.kind, "unit": one.unit, "note": one.note, "level": one.level}
        for key, one in parts.items()
    }
    names.part.put(connection, rows)
    put(connection, _TOTAL, [_zeros(names.part.of(key)) for key in new])


def _zeros(part: int) -> Values:
    totals = dict.fromkeys(("on_hand", "claimed", "due_in", "due_claimed", "to_buy"), 0)
    return {"part_id": part, **totals, "to_count": False}


def _refuse_other_units(connection: Connection, parts: dict[str, Part]) -> None:
    booked = exists(select(_LINE.c.id).where(_LINE.c.part_id == _PART.c.id))
    for key, name, unit in connection.execute(select(_PART.c.key, _PART.c.name, _PART.c.unit).where(booked)):
        if key in parts and parts[key].unit != unit:
            raise Refused(
                f"“{name}” is counted in {unit} in the book; the sheet says {parts[key].unit}.",
                hint="A part keeps its unit once something is booked: give the other unit another name.",
            )


def _put_details(connection: Connection, incoming: Catalogue, names: Names) -> None:
    numbers = [names.part.of(part.name) for part in incoming.parts.values()]
    for detail in _DETAIL.values():  # all of them: a part may have moved from one tab to another
        drop(connection, detail, "part_id", numbers)
    rows: dict[str, dict[int, Values]] = {kind: {} for kind in _DETAIL}
    for part in incoming.parts.values():
        number = names.part.of(part.name)
        rows[part.kind][number] = {"part_id": number, **_detail(part.detail, names)}
    for kind, detail in _DETAIL.items():
        put(connection, detail, list(rows[kind].values()))


def _detail(of: Any, names: Names) -> Values:
    match type(of).__name__:
        case "Kit":
            return {
                "family_id": names.family.of(of.family),
                "plating_id": names.plating.of(of.plating),
                "tubes_inside": of.tubes_inside,
            }
        case "Tube":
            return {"outside": of.outside.written, "length": of.length.written, "drill": of.drill.designation}
        case "Blank":
            return {
                "material_id": names.material.of(of.material),
                "shape": of.shape,
                "width": codecs.written(of.width),
                "length": codecs.written(of.length),
            }
        case "Supply":
            plain = {
                name: getattr(of, name)
                for name in ("type", "net", "tare", "keeps_sealed", "keeps_opened", "works")
            }
            density = None if of.density is None else str(of.density)
            return {**plain, "hazards": codecs.listed(of.hazards), "density": density}
        case "Piece":
            return {
                "pattern_id": names.pattern.of(of.pattern),
                "kit_id": names.part.of(of.kit),
                "blank_id": names.part.of(of.blank),
                "refill_id": names.part.maybe(of.refill),
                "extra_diameter": codecs.written(of.extra_diameter),
            }
        case _:
            return {"type": of.type, "size": of.size, "life": of.life}
