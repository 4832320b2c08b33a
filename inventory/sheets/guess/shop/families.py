"""Families, their barrels and plain patterns with what is usual."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from inventory.catalogue.usual.finishes import GLUING, UsualLine, finish_for, schedule
from inventory.catalogue.usual.geometry import UsualBarrel, tube_outside, usual_barrels, usual_drill
from inventory.catalogue.usual.supplies import usual_cells, usual_supply
from inventory.sheets.guess.guesses import Said, Thing
from inventory.sheets.guess.shop import usual
from inventory.sheets.guess.shop.lines import ShopTabs, TabLine
from inventory.sheets.guess.texts.sizes import drill_in
from inventory.sheets.guess.texts.words import plainly, tokens


@dataclass(slots=True)
class Stock:
    """What is on the shelf, as families ask for it: the kits of each, the refills by each word of theirs, the tools."""

    kits: dict[str, list[Thing]] = field(default_factory=dict)
    refills: dict[str, tuple[int, Thing]] = field(default_factory=dict)
    tools: list[Thing] = field(default_factory=list)


def stock_of(things: Iterable[Thing]) -> Stock:
    """The things by what families ask."""
    stock = Stock()
    for thing in things:
        if thing.value("kind") == "kit":
            stock.kits.setdefault(thing.value("family"), []).append(thing)
        elif thing.value("kind") == "refill":
            for word in tokens(plainly(thing.value("name"))):
                stock.refills.setdefault(word, (len(stock.refills), thing))
        elif thing.value("kind") == "tool":
            stock.tools.append(thing)
    return stock


def put_family(shop: ShopTabs, family: Said, stock: Stock) -> None:
    """The family of some kits, with its barrels."""
    if shop.has("families", family.value):
        return
    own = stock.kits[family.value]
    makes = next((one.said["makes"] for one in own if one.value("makes")), Said("pen", "guessed", usual.WHY))
    drill = next((one.said["drill"] for one in own if one.value("drill")), None)
    drill = drill or Said(usual_drill(makes.value), "guessed", usual.WHY)
    refill = _refill(family.value, makes.value, stock.refills)
    bushings = _tool_for(family.value, "bushings", stock.tools)
    shop.put("families", family.value, family=family, makes=makes, refill=refill, bushings=bushings)
    for barrel in usual_barrels(makes.value, drill.value):
        tube = _tube_for(shop, barrel, drill) if barrel.tube else Said("none", "guessed", usual.WHY)
        finished = Said(barrel.finished, "guessed", usual.WHY)
        shop.put(
            "barrels", f"{family.value}|{barrel.name}", family=family, barrel=Said(barrel.name, "guessed", usual.WHY),
            tube=tube, drill=None if barrel.tube else drill, finished_a=finished, finished_b=finished,
            length=None if barrel.tube else Said(barrel.length, "guessed", usual.WHY),
        )  # fmt: skip


def _tube_for(shop: ShopTabs, barrel: UsualBarrel, drill: Said) -> Said:
    """The tube of a barrel: the one on the shelf of this drill and length, else a usual one."""
    for line in shop.lines.get("tubes", []):
        said = line.cells
        if _same_drill(said["drill"].value, drill.value) and _same_length(said["length"], barrel.length):
            return Said(said["part"].value, "guessed", "a tube of this drill", said["part"].cells)
    name = f"tube {drill.value.removesuffix(' mm')} x {barrel.length.removesuffix(' mm')}"
    shop.put(
        "tubes", name, part=Said(name, "guessed", usual.WHY), drill=drill,
        outside_diameter=Said(tube_outside(drill.value), "guessed", usual.WHY),
        length=Said(barrel.length, "guessed", usual.WHY),
    )  # fmt: skip
    return Said(name, "guessed", usual.WHY)


def _same_drill(one: str, other: str) -> bool:
    return drill_in(one) == drill_in(other)


def _same_length(said: Said, usual_length: str) -> bool:
    return said.value == usual_length or (said.why == usual.WHY and usual_length == "53 mm")


def _refill(family: str, makes: str, refills: Mapping[str, tuple[int, Thing]]) -> Said | None:
    """The refill a kit takes: the first whose name shares a word with the kit's, if any does."""
    wanted = set(tokens(plainly(family))) | (
        {"lead", "leads", "bleistiftminen"} if makes == "pencil" else set()
    )
    sharing = [refills[word] for word in wanted if word in refills]
    if not sharing:
        return None
    name = min(sharing, key=lambda one: one[0])[1].said["name"]
    return Said(name.value, "guessed", "its name shares a word", name.cells)


def _tool_for(family: str, type_: str, things: list[Thing]) -> Said | None:
    wanted = tokens(plainly(family))[:1]
    for thing in things:
        name = thing.said.get("name")
        if thing.value("type") == type_ and name and wanted and wanted[0] in tokens(plainly(name.value)):
            return Said(name.value, "guessed", "its name names the kit", name.cells)
    return None


def put_tools_of_kits(shop: ShopTabs, things: list[Thing]) -> None:
    """Where drills are counted at all, one for each kit is taken to be there: who has the kits has drilled for them."""
    if not any(
        thing.value("kind") == "tool" and thing.value("quantity") not in ("", "0") for thing in things
    ):
        return
    have = {
        drill_in(line.cells["size"].value) for line in shop.lines.get("tools", []) if "size" in line.cells
    }
    drills = {
        line.cells["drill"].value: line.cells["drill"]
        for tab in ("tubes", "barrels")
        for line in shop.lines.get(tab, [])
        if "drill" in line.cells
    }
    for size, said in drills.items():
        if drill_in(size) in have:
            continue
        why = "not in your sheet, but you have kits for it"
        name = Said(f"drill {size}", "guessed", why, said.cells)
        shop.put(
            "tools",
            name.value,
            part=name,
            type=Said("drill", "guessed", why),
            size=Said(size, "guessed", why),
        )
        shop.put("counts", name.value, part=name, quantity=Said("1", "guessed", why))


def pattern_name(shop: ShopTabs, family: str) -> str:
    """What a piece of a family is called: its family and what it makes, unless the name says so already."""
    makes = shop.by_name[("families", plainly(family))].cells["makes"].value
    return family if set(makes.split()) <= set(plainly(family).split()) else f"{family} {makes}"


def put_patterns(shop: ShopTabs) -> None:
    """A plain pattern for each family, its bill of what every such piece takes and of what the shop has."""
    tubed = {
        one.cells["family"].value
        for one in shop.lines.get("barrels", [])
        if one.cells["tube"].value != "none"
    }
    kept = _kept(shop)
    for line in shop.lines.get("families", []):
        family = line.cells["family"]
        name = Said(pattern_name(shop, family.value), "guessed", usual.WHY, family.cells)
        shop.put("patterns", name.value, pattern=name, family=family)
        tubes = family.value in tubed
        _bill(shop, name, "cut", "the blank", "1", "piece")
        if tubes:
            _bill(shop, name, "glue", "the tubes", "1", "barrel")
        for one in (*(schedule(GLUING) if tubes else ()), *schedule(finish_for(kept))):
            _poured(shop, name, one, kept)
        _bill(shop, name, "assemble", "the kit", "1", "piece")
        if "refill" in line.cells:
            _bill(shop, name, "assemble", "the refill", "1", "piece")


def _bill(shop: ShopTabs, pattern: Said, stage: str, part: str, quantity: str, per: str) -> None:
    marked = {
        what: Said(text, "guessed", usual.WHY)
        for what, text in {"stage": stage, "part": part, "quantity": quantity, "per": per}.items()
    }
    shop.put("bills", f"{pattern.value}|{stage}|{part}|{per}", pattern=pattern, **marked)


def _poured(shop: ShopTabs, pattern: Said, line: UsualLine, kept: Mapping[str, str]) -> None:
    if part := kept.get(line.supply):
        _bill(shop, pattern, line.stage, part, line.quantity, line.per)


def _kept(shop: ShopTabs) -> dict[str, str]:
    """The first supply the shop has of each that schedules ask for, in their unit."""
    kept: dict[str, str] = {}
    lines: Iterable[TabLine] = shop.lines.get("supplies", [])
    for line in lines:
        name = line.cells["part"].value
        cells = usual_cells(name)
        if (line.cells["type"].value, line.cells["unit"].value) == (cells.get("type"), cells.get("unit")):
            kept.setdefault(usual_supply(name), name)
    return kept
