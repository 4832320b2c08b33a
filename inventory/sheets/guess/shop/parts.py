"""Parts in our tabs: kits, tubes, blanks, supplies, tools."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction

from inventory.catalogue.usual.geometry import BLANK_LENGTH, BLANK_WIDTH, tube_length, tube_outside
from inventory.catalogue.usual.materials import usual_material
from inventory.catalogue.usual.supplies import usual_cells
from inventory.measures import read_drill, read_length
from inventory.measures.numbers import show_number
from inventory.sheets.guess.guesses import Said, Thing, worst
from inventory.sheets.guess.shop import usual
from inventory.sheets.guess.shop.lines import PART_TABS, ShopTabs

Every = Mapping[str, Said | None]
"""What is said of every part, by column."""


def part_name(thing: Thing) -> Said:
    """What a part is called in our book."""
    if thing.value("kind") != "kit":
        return thing.said["name"]
    family, plating = thing.said["family"], thing.said["plating"]
    grade = worst((family.grade, plating.grade))
    name = f"{family.value} kit {plating.value}"
    return Said(
        _clean(name),
        grade,
        "; ".join(filter(None, (family.why, plating.why))),
        (*family.cells, *plating.cells),
    )


def _clean(name: str) -> str:
    return " ".join(name.split())[:120]


def put_part(shop: ShopTabs, thing: Thing) -> None:
    name, kind = part_name(thing), thing.value("kind")
    level = thing.said.get("level")
    every = _columns(reorder_level=level, drawer=thing.said.get("where"), note=thing.said.get("note"))
    other = next(
        (one for one in set(PART_TABS.values()) if one != PART_TABS[kind] and shop.has(one, name.value)), ""
    )
    if other:  # one name for two kinds of thing: a word more keeps them apart
        thing.said["name"] = name = Said(
            f"{name.value} ({kind})", "guessed", f"there is one in {other} too", name.cells
        )
    if kind == "kit":
        plating = thing.said["plating"]
        shop.put("platings", plating.value, plating=plating)
        shop.put(
            "kits", name.value, part=name, family=thing.said["family"], plating=plating,
            tubes_inside=Said("yes", "guessed", usual.WHY), **every,
        )  # fmt: skip
    elif kind == "tube":
        _tube(shop, thing, name, every)
    elif kind == "blank":
        _blank(shop, thing, name, every)
    elif kind == "tool":
        type_ = thing.said.get("type")
        size = thing.said.get("drill")
        if type_ and type_.value == "drill" and size is None:
            type_ = Said("sundry", "guessed", "a drill whose size is not said", type_.cells)
        shop.put("tools", name.value, part=name, type=type_, size=size, **every)
    else:
        _supply(shop, thing, name, every)


def _columns(**cells: Said | None) -> Every:
    return cells


def _tube(shop: ShopTabs, thing: Thing, name: Said, every: Every) -> None:
    drill = thing.said.get("drill")
    if drill is None and thing.value("width"):
        width = thing.said["width"]
        whole = Fraction(round(Fraction(re.sub(r"[^0-9.]", "", width.value) or 7) * 2), 2)
        size = width.value if re.fullmatch(r"\d+ mm", width.value) else f"{show_number(whole)} mm"
        drill = Said(size, "guessed", f"by its width {width.value}", width.cells)
    drill = drill or Said("7 mm", "guessed", usual.WHY)
    measured = thing.said.get("width")
    whole_number = measured is not None and re.fullmatch(r"\d+ mm", measured.value)
    outside = Said(tube_outside(drill.value), "guessed", usual.WHY)
    if measured and not whole_number and read_length(measured.value).mm < read_drill(drill.value).mm:
        outside = measured  # else it is named by its drill
    length = thing.said.get("length") or Said(tube_length(drill.value), "guessed", usual.WHY)
    shop.put(
        "tubes",
        name.value,
        part=name,
        outside_diameter=outside,
        length=length,
        drill=drill,
        **every,
    )


def _blank(shop: ShopTabs, thing: Thing, name: Said, every: Every) -> None:
    material, sort = thing.said["material"], thing.value("sort")
    known = usual_material(material.value, sort)
    losses = {f"lost_at_{stage}": Said(share, "guessed", usual.WHY) for stage, share in known.losses.items()}
    shop.put(
        "materials",
        material.value,
        material=material,
        allowance=Said(known.allowance, "guessed", usual.WHY),
        caution=Said(known.caution, "guessed", usual.WHY),
        listed_species=Said(known.listed_species, "guessed", usual.WHY),
        **losses,
    )
    natural = sort in ("antler", "horn") and not thing.value("width")
    shape = Said("natural" if natural else "square", "guessed", usual.WHY)
    width = thing.said.get("width") or (None if natural else Said(BLANK_WIDTH, "guessed", usual.WHY))
    length = thing.said.get("length") or (None if natural else Said(BLANK_LENGTH, "guessed", usual.WHY))
    shop.put(
        "blanks", name.value, part=name, material=material, shape=shape, width=width, length=length,
        **every,
    )  # fmt: skip


def _supply(shop: ShopTabs, thing: Thing, name: Said, every: Every) -> None:
    type_ = thing.said.get("type") or Said("sundry", "guessed", "no word tells its type")
    unit, net = _unit(thing, name.value, type_.value)
    if shop.has(
        "supplies", name.value
    ):  # its unit is said already, and a content in another would be refused
        net = None
    cells = usual_cells(name.value)
    more = cells if (type_.value, unit.value) == (cells.get("type"), cells.get("unit")) else {}
    usual_ones = {
        heading.replace(" ", "_"): Said(text, "guessed", usual.WHY)
        for heading, text in more.items()
        if heading not in ("type", "unit")
    }
    shop.put(
        "supplies", name.value, part=name, type=type_, unit=unit, net=net, **every,
        **usual_ones,
    )  # fmt: skip


_MEASURED = {"ml": "ml", "cl": "ml", "l": "ml", "fl oz": "ml", "g": "g", "kg": "g", "oz": "g"}


CONTAINERS = frozenset({"bottle", "tin", "can", "jar", "tube", "syringe", "box", "pack"})


def _unit(thing: Thing, name: str, type_: str) -> tuple[Said, Said | None]:
    """The unit a supply is counted in, and what one container holds."""
    net, counted = thing.said.get("net"), thing.value("unit")
    if net is not None:
        return Said(_MEASURED.get(net.value.split(" ", 1)[1], "ml"), "read", "", net.cells), net
    if counted in _MEASURED:
        return Said(_MEASURED[counted], "read", "", thing.said["quantity"].cells), None
    if thing.value("kind") != "supply" or (counted and counted not in CONTAINERS):
        return Said(counted or "piece", "read" if counted else "guessed", "" if counted else usual.WHY), None
    unit, content = usual.contents_of(name, type_)
    if counted and not content:
        unit, content = "ml", "100 ml"
    return Said(unit, "guessed", usual.WHY), Said(content, "guessed", usual.WHY) if content else None
