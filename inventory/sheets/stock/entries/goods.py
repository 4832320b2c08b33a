"""Rows of materials, platings and the five tabs of parts, made into catalogue entries."""

from __future__ import annotations

from dataclasses import replace

from inventory.catalogue import Blank, Kit, Material, Part, Plating, Supply, Tool, Tube, fold
from inventory.errors import BadMeasure
from inventory.measures import read_drill, read_length
from inventory.sheets.stock.rows import Row, sentence
from inventory.sheets.stock.tabs import LOSING_STAGES

PLATING_SEPARATORS = ";,/"


def material(row: Row) -> None:
    """One material with its losses by stage."""
    name, allowance, *losses, caution, listed = row.values
    key = row.give("material", "material", name)
    if key and not row.bad:
        lost = {stage: share for stage, share in zip(LOSING_STAGES, losses, strict=True) if share is not None}
        row.gathering.materials[key] = Material(name, allowance, lost, caution or "", listed or "")


def plating(row: Row) -> None:
    """One plating; its stand-ins may come further down, so they wait as written."""
    name, stand_ins = row.values
    key = row.give("plating", "plating", name)
    if key:
        row.gathering.platings[key] = Plating(name, (stand_ins,) if stand_ins else ())


def tube(row: Row) -> None:
    """One tube."""
    name, outside, length, drill, level, note = row.values
    if _part(row, name, "tube") and not row.bad:
        _keep(row, Part(name, Tube(outside, length, drill), note=note or ""), level)


def kit(row: Row) -> None:
    """One kit; whether its family and plating exist is seen when everything is read."""
    name, family, plating_name, inside, level, note = row.values
    if _part(row, name, "kit") and not row.bad:
        known = row.gathering.names
        family = known["family"].get(fold(family), family)
        plating_name = known["plating"].get(fold(plating_name), plating_name)
        _keep(row, Part(name, Kit(family, plating_name, bool(inside)), note=note or ""), level)


def blank(row: Row) -> None:
    """One kind of blank."""
    name, material_name, shape, width, length, level, note = row.values
    if not _part(row, name, "blank") or row.bad:
        return
    if shape != "natural" and (width is None or length is None):
        row.note(f"“{name}” has no {'width' if width is None else 'length'}, so what fits it cannot be told.")
    material_name = row.gathering.names["material"].get(fold(material_name), material_name)
    _keep(row, Part(name, Blank(material_name, shape, width, length), note=note or ""), level)


def supply(row: Row) -> None:
    """One supply; what a container holds is read in its own unit."""
    name, type_, unit, net_text, tare_text, sealed, opened, hazards, density, works, level, note = row.values
    named = _part(row, name, "supply")
    if not unit:
        return
    net = row.steps("net", net_text, unit, None, density)
    tare = row.steps("tare", tare_text, "g")
    if named and not row.bad:
        detail = Supply(type_, net, tare, sealed, opened, hazards or (), density, works)
        _keep(row, Part(name, detail, unit, note or ""), level)


def tool(row: Row) -> None:
    """One tool; a drill's size is a drill, a saw's its kerf."""
    name, type_, size, life, level, note = row.values
    named = _part(row, name, "tool")
    size = _size(row, type_, size)
    if named and not row.bad:
        _keep(row, Part(name, Tool(type_, size or "", life), note=note or ""), level)


def _size(row: Row, type_: str | None, size: str | None) -> str | None:
    if type_ not in ("drill", "saw"):
        return size
    if size is None:
        if type_ == "drill":
            row.refuse("size", "A drill needs its size: 7 mm, 27/64, #7 or letter O.", "")
        return None
    try:
        return str(read_drill(size)) if type_ == "drill" else read_length(size).written
    except BadMeasure as error:
        row.refuse("size", sentence(error), size)
        return None


def _part(row: Row, name: str | None, kind: str) -> bool:
    """Register a part's name; a part of another kind, in this load or known, is refused."""
    if name is None or not row.give("part", "part", name):
        return False
    before = row.gathering.known.parts.get(fold(name))
    if before is not None and before.kind != kind:
        problem = (
            f"“{before.name}” is known as a {before.kind} and cannot become a {kind}. Rename one of them."
        )
        row.refuse("part", problem, name)
    return True


def _keep(row: Row, part: Part, level_text: str | None) -> None:
    level = row.amount("reorder level", level_text, part, above_zero=False)
    row.gathering.parts[fold(part.name)] = replace(part, level=level)
