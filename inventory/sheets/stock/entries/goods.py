"""Rows of materials, platings and the five tabs of parts, made into catalogue entries."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from inventory.catalogue import Blank, Kit, Material, Part, Plating, Supply, Tool, Tube, fold
from inventory.catalogue.parts import KIND_OF
from inventory.catalogue.usual.geometry import (
    BLANK_LENGTH,
    BLANK_WIDTH,
    drill_named,
    tube_length,
    tube_outside,
)
from inventory.catalogue.usual.materials import usual_material
from inventory.catalogue.usual.supplies import usual_cells
from inventory.errors import BadMeasure
from inventory.measures import read_drill, read_length
from inventory.sheets.stock.rows import StockRow, sentence
from inventory.sheets.stock.tabs import LOSING_STAGES, lost_at

PLATING_SEPARATORS = ";,/"


def material(row: StockRow) -> None:
    """One material with its losses by stage."""
    key = row.give("material", "material")
    if key:
        _usual_material(row, row["material"])
    if key and not row.bad:
        said = {stage: row[lost_at(stage)] for stage in LOSING_STAGES}
        losses = {stage: share for stage, share in said.items() if share is not None}
        row.context.materials[key] = row.make(Material, losses=losses)


def plating(row: StockRow) -> None:
    """One plating; its substitutes may come further down, so they wait as written."""
    key = row.give("plating", "plating")
    if key:
        text = row["substitutes"]
        row.context.platings[key] = row.make(Plating, substitutes=(text,) if text else ())


def tube(row: StockRow) -> None:
    """One tube; of one named by its drill the rest is usual."""
    if name := row["part"]:
        row.fill("drill", drill_named(name))
    if row["drill"] is not None:
        row.fill("outside diameter", tube_outside(row["drill"].designation))
        row.fill("length", tube_length(row["drill"].designation))
    row.need("drill", "outside diameter", "length")
    _part(row, Tube)


def kit(row: StockRow) -> None:
    """One kit; whether its family and plating exist is seen when everything is read."""
    if row["tubes inside"] is not None and row["part"]:
        row.context.inside_said.add(fold(row["part"]))
    _part(row, Kit, family=row.known("family", "family"), plating=row.known("plating", "plating"))


def blank(row: StockRow) -> None:
    """One kind of blank."""
    if row["shape"] is None and row["material"] and "shape" not in row.refused:
        _usual_section(row, usual_material(row["material"]).natural)
    width, length = row["width"], row["length"]
    if _part(row, Blank, material=row.known("material", "material")) and (
        row["shape"] != "natural" and (width is None or length is None)
    ):
        what = "width" if width is None else "length"
        row.note(f"“{row['part']}” has no {what}, so what fits it cannot be told.")


def supply(row: StockRow) -> None:
    """One supply; what a container holds is read in its own unit."""
    usual = usual_cells(row["part"] or "")
    if row["type"] in (None, usual.get("type")):  # else the word in its name means something else
        for heading, text in usual.items():
            row.fill(heading, text)
    row.need("type", "unit")
    unit = row["unit"]
    net = row.steps("net", unit, None, row["density"]) if unit else None
    _part(row, Supply, net=net, tare=row.steps("tare", "g") if unit else None)


def _usual_material(row: StockRow, name: str) -> None:
    usual = usual_material(name)
    row.fill("allowance", usual.allowance)
    for stage, share in usual.losses.items():
        row.fill(lost_at(stage), share)
    row.fill("caution", usual.caution)
    row.fill("listed species", usual.listed_species)


def _usual_section(row: StockRow, natural: bool) -> None:
    row.fill("shape", "natural" if natural and row["width"] is None else "square")
    if row["shape"] != "natural":
        row.fill("width", BLANK_WIDTH)
        row.fill("length", BLANK_LENGTH)


def tool(row: StockRow) -> None:
    """One tool; a drill's size is a drill, a saw's its kerf."""
    _part(row, Tool, size=_size(row) or "")


def _size(row: StockRow) -> str | None:
    size: str | None = row["size"]
    type_ = row["type"]
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


def _part(row: StockRow, kind: type, **worked: Any) -> bool:
    """Keep the part a row is of; a part of another kind, in this load or known, is refused."""
    key = row.give("part", "part")
    if not key:
        return False
    before = row.context.known.parts.get(key)
    if before is not None and not isinstance(before.detail, kind):
        was, new = before.kind, KIND_OF[kind]
        problem = f"“{before.name}” is known as a {was} and cannot become a {new}. Rename one of them."
        row.refuse("part", problem)
    if row.bad:
        return False
    part = row.make(Part, detail=row.make(kind, **worked), level=None)  # read in the part's own unit
    row.context.parts[key] = replace(part, level=row.amount("reorder level", part, above_zero=False))
    return True
