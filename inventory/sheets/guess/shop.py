"""The understanding written in our own tabs: every cell with how sure it is and where it comes from."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction

from inventory.measures import currency, show_money
from inventory.measures.numbers import show_number
from inventory.sheets.guess import usual
from inventory.sheets.guess.guesses import Said, Thing, Understanding, Wish, worst
from inventory.sheets.guess.naming import drill_in
from inventory.sheets.guess.words import plainly, tokens

PART_TABS = {
    "tube": "tubes", "kit": "kits", "blank": "blanks", "tool": "tools", "supply": "supplies",
    "refill": "supplies", "packaging": "supplies", "spare": "supplies",
}  # fmt: skip
USUAL = Said("", "guessed", usual.WHY)


@dataclass(slots=True)
class Line:
    """One row of one of our tabs. cells: what is written under each heading, with how sure it is and from where."""

    cells: dict[str, Said] = field(default_factory=dict)

    @property
    def source(self) -> str:
        """The places in the stranger's sheet that it comes from."""
        places = dict.fromkeys(cell.ref for said in self.cells.values() for cell in said.cells)
        return _short(list(places)) or usual.WHY

    @property
    def why(self) -> str:
        """What was guessed in it, column by column."""
        told = dict.fromkeys(
            f"{heading}: {said.why}"
            for heading, said in self.cells.items()
            if said.why and said.grade != "read"
        )
        return "; ".join(told)


def _short(places: list[str]) -> str:
    tabs: dict[str, list[str]] = {}
    for place in places:
        tab, _, cell = place.rpartition("!")
        tabs.setdefault(tab, []).append(cell)
    return "; ".join(
        f"{tab}!{', '.join(cells[:8])}{' …' if len(cells) > 8 else ''}" for tab, cells in tabs.items()
    )


@dataclass(slots=True)
class Shop:
    """Rows by tab, and what could not be written into any."""

    lines: dict[str, list[Line]] = field(default_factory=dict)
    left_out: list[str] = field(default_factory=list)
    by_name: dict[tuple[str, str], Line] = field(default_factory=dict)

    def put(self, tab: str, name: str, **cells: Said | None) -> Line:
        """A row of a tab under its name; of one that is there already only empty cells are filled."""
        line = self.by_name.get((tab, plainly(name)))
        if line is None:
            line = self.by_name[(tab, plainly(name))] = Line()
            self.lines.setdefault(tab, []).append(line)
        for heading, said in cells.items():
            column = heading.replace("_", " ")
            if said is not None and said.value and column not in line.cells:
                line.cells[column] = said
        return line

    def has(self, tab: str, name: str) -> bool:
        """Whether a tab has a row of this name."""
        return (tab, plainly(name)) in self.by_name


def shop_of(found: Understanding) -> Shop:
    """Our tabs, filled as far as the sheet says it, the rest with what is usual; nothing else is left empty."""
    shop = Shop()
    things = [thing for thing in found.things if thing.value("kind") in PART_TABS]
    for thing in things:
        _part(shop, thing)
    for thing in things:
        if thing.value("kind") == "kit":
            _family(shop, thing, things)
    _tools_of_kits(shop, things)
    for thing in things:
        _bought(shop, thing, found.coin)
        _counted(shop, thing, found.coin)
    for number, wish in enumerate(found.wishes, start=1):
        _wished(shop, wish, number)
    _patterns(shop)
    return shop


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


def _part(shop: Shop, thing: Thing) -> None:
    name, kind = part_name(thing), thing.value("kind")
    note = _note(thing)
    level = thing.said.get("level")
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
            tubes_inside=Said("yes", "guessed", usual.WHY), reorder_level=level, note=note,
        )  # fmt: skip
    elif kind == "tube":
        _tube(shop, thing, name, level, note)
    elif kind == "blank":
        _blank(shop, thing, name, level, note)
    elif kind == "tool":
        type_ = thing.said.get("type")
        size = thing.said.get("drill")
        if type_ and type_.value == "drill" and size is None:
            type_ = Said("sundry", "guessed", "a drill whose size is not said", type_.cells)
        shop.put("tools", name.value, part=name, type=type_, size=size, reorder_level=level, note=note)
    else:
        _supply(shop, thing, name, level, note)


def _note(thing: Thing) -> Said | None:
    where, note = thing.said.get("where"), thing.said.get("note")
    texts = [f"lies in {where.value}"] if where else []
    texts += [note.value] if note else []
    cells = (*(where.cells if where else ()), *(note.cells if note else ()))
    return Said("; ".join(texts)[:2000], "read", "", cells) if texts else None


def _tube(shop: Shop, thing: Thing, name: Said, level: Said | None, note: Said | None) -> None:
    drill = thing.said.get("drill")
    if drill is None and thing.value("width"):
        width = thing.said["width"]
        whole = Fraction(round(Fraction(re.sub(r"[^0-9.]", "", width.value) or 7) * 2), 2)
        size = width.value if re.fullmatch(r"\d+ mm", width.value) else f"{show_number(whole)} mm"
        drill = Said(size, "guessed", f"by its width {width.value}", width.cells)
    drill = drill or Said("7 mm", "guessed", usual.WHY)
    measured = thing.said.get("width")
    whole_number = measured is not None and re.fullmatch(r"\d+ mm", measured.value)
    outside = Said(usual.tube_outside(drill.value), "guessed", usual.WHY)
    if measured and not whole_number:
        outside = measured
    length = thing.said.get("length") or Said("53 mm", "guessed", usual.WHY)
    shop.put(
        "tubes",
        name.value,
        part=name,
        outside_diameter=outside,
        length=length,
        drill=drill,
        reorder_level=level,
        note=note,
    )


def _blank(shop: Shop, thing: Thing, name: Said, level: Said | None, note: Said | None) -> None:
    material, sort = thing.said["material"], thing.value("sort")
    allowance, lost = usual.material_of(sort)
    losses = {heading.replace(" ", "_"): Said(share, "guessed", usual.WHY) for heading, share in lost.items()}
    shop.put(
        "materials",
        material.value,
        material=material,
        allowance=Said(allowance, "guessed", usual.WHY),
        **losses,
    )
    natural = sort in ("antler", "horn") and not thing.value("width")
    shape = Said("natural" if natural else "square", "guessed", usual.WHY)
    width = thing.said.get("width") or (None if natural else Said(usual.BLANK_WIDTH, "guessed", usual.WHY))
    length = thing.said.get("length") or (None if natural else Said(usual.BLANK_LENGTH, "guessed", usual.WHY))
    shop.put(
        "blanks", name.value, part=name, material=material, shape=shape, width=width, length=length,
        reorder_level=level, note=note,
    )  # fmt: skip


def _supply(shop: Shop, thing: Thing, name: Said, level: Said | None, note: Said | None) -> None:
    type_ = thing.said.get("type") or Said("sundry", "guessed", "no word tells its type")
    unit, net = _unit(thing, name.value, type_.value)
    shop.put(
        "supplies", name.value, part=name, type=type_, unit=unit, net=net, reorder_level=level, note=note
    )


_MEASURED = {"ml": "ml", "cl": "ml", "l": "ml", "fl oz": "ml", "g": "g", "kg": "g", "oz": "g"}
_CONTAINERS = frozenset({"bottle", "tin", "can", "jar", "tube", "syringe", "box", "pack"})


def _unit(thing: Thing, name: str, type_: str) -> tuple[Said, Said | None]:
    """The unit a supply is counted in, and what one container holds."""
    net, counted = thing.said.get("net"), thing.value("unit")
    if net is not None:
        return Said(_MEASURED.get(net.value.split(" ", 1)[1], "ml"), "read", "", net.cells), net
    if counted in _MEASURED:
        return Said(_MEASURED[counted], "read", "", thing.said["quantity"].cells), None
    if thing.value("kind") != "supply" or (counted and counted not in _CONTAINERS):
        return Said(counted or "piece", "read" if counted else "guessed", "" if counted else usual.WHY), None
    unit, content = usual.contents_of(name, type_)
    if counted and not content:
        unit, content = "ml", "100 ml"
    return Said(unit, "guessed", usual.WHY), Said(content, "guessed", usual.WHY) if content else None


def _family(shop: Shop, thing: Thing, things: list[Thing]) -> None:
    family = thing.said["family"]
    if shop.has("families", family.value):
        return
    own = [one for one in things if one.value("kind") == "kit" and one.value("family") == family.value]
    makes = next((one.said["makes"] for one in own if one.value("makes")), Said("pen", "guessed", usual.WHY))
    drill = next((one.said["drill"] for one in own if one.value("drill")), None)
    drill = drill or Said(usual.drill_of(makes.value), "guessed", usual.WHY)
    refill = _refill(family.value, makes.value, things)
    bushings = _tool_for(family.value, "bushings", things)
    shop.put("families", family.value, family=family, makes=makes, refill=refill, bushings=bushings)
    for barrel in usual.barrels_of(makes.value, drill.value):
        tube = _tube_for(shop, barrel, drill) if barrel.tube else Said("none", "guessed", usual.WHY)
        finished = Said(barrel.finished, "guessed", usual.WHY)
        shop.put(
            "barrels", f"{family.value}|{barrel.name}", family=family, barrel=Said(barrel.name, "guessed", usual.WHY),
            tube=tube, drill=None if barrel.tube else drill, finished_a=finished, finished_b=finished,
            length=None if barrel.tube else Said(barrel.length, "guessed", usual.WHY),
        )  # fmt: skip


def _tube_for(shop: Shop, barrel: usual.Barrel, drill: Said) -> Said:
    """The tube of a barrel: the one on the shelf of this drill and length, else a usual one."""
    for line in shop.lines.get("tubes", []):
        said = line.cells
        if _same_drill(said["drill"].value, drill.value) and _same_length(said["length"], barrel.length):
            return Said(said["part"].value, "guessed", "a tube of this drill", said["part"].cells)
    name = f"tube {drill.value.removesuffix(' mm')} x {barrel.length.removesuffix(' mm')}"
    shop.put(
        "tubes", name, part=Said(name, "guessed", usual.WHY), drill=drill,
        outside_diameter=Said(usual.tube_outside(drill.value), "guessed", usual.WHY),
        length=Said(barrel.length, "guessed", usual.WHY),
    )  # fmt: skip
    return Said(name, "guessed", usual.WHY)


def _same_drill(one: str, other: str) -> bool:
    return drill_in(one) == drill_in(other)


def _same_length(said: Said, usual_length: str) -> bool:
    return said.value == usual_length or (said.why == usual.WHY and usual_length == "53 mm")


def _refill(family: str, makes: str, things: list[Thing]) -> Said | None:
    """The refill a kit takes: the first whose name shares a word with the kit's, if any does."""
    wanted = set(tokens(plainly(family))) | (
        {"lead", "leads", "bleistiftminen"} if makes == "pencil" else set()
    )
    for thing in things:
        if thing.value("kind") == "refill" and wanted & set(tokens(plainly(thing.value("name")))):
            name = thing.said["name"]
            return Said(name.value, "guessed", "its name shares a word", name.cells)
    return None


def _tool_for(family: str, type_: str, things: list[Thing]) -> Said | None:
    wanted = tokens(plainly(family))[:1]
    for thing in things:
        name = thing.said.get("name")
        if thing.value("type") == type_ and name and wanted and wanted[0] in tokens(plainly(name.value)):
            return Said(name.value, "guessed", "its name names the kit", name.cells)
    return None


def _tools_of_kits(shop: Shop, things: list[Thing]) -> None:
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


def _bought(shop: Shop, thing: Thing, coin: str) -> None:
    supplier, paid = thing.said.get("supplier"), thing.said.get("paid")
    if supplier is None:
        return
    theirs = thing.value("coin")
    foreign = Said(theirs, "read", "", paid.cells) if paid and theirs and theirs != coin else None
    shop.put(
        "suppliers",
        supplier.value,
        supplier=supplier,
        lead_days=Said(str(usual.LEAD_DAYS), "guessed", usual.WHY),
        currency=foreign,
    )
    line = shop.by_name[("suppliers", plainly(supplier.value))]
    if ("currency" in line.cells) != bool(foreign) or (foreign and line.cells["currency"].value != theirs):
        return  # prices in two coins of one supplier: an offer can only be in one
    pack = _pack(thing)
    price = _coins(paid.value, theirs or coin) if paid else ""
    if paid is None or pack is None or not price or Fraction(paid.value) <= 0:
        return
    name = part_name(thing)
    shop.put(
        "offers", f"{supplier.value}|{name.value}|{pack.value}", supplier=supplier, part=name, pack=pack,
        price=Said(price, worst((paid.grade, pack.grade)), paid.why, paid.cells), supplier_code=thing.said.get("code"),
    )  # fmt: skip


def _coins(text: str, code: str) -> str:
    """A sum as the shop's coin takes it, or nothing where it is finer than its smallest coin."""
    coin = currency(code or "EUR")
    minor = Fraction(text) * coin.scale
    return show_money(int(minor), coin).split(" ")[0] if minor.denominator == 1 else ""


def _pack(thing: Thing) -> Said | None:
    """What one pack of an offer holds, by what the price was for."""
    per = thing.said.get("per")
    if per is None:
        return None
    unit = thing.value("unit")
    if per.value == "each":
        return Said(f"1 {unit}" if unit else "1", per.grade, per.why, per.cells)
    if per.value == "pack" and (thing.value("pack") or unit in _CONTAINERS):
        return Said(thing.value("pack") or f"1 {unit}", per.grade, per.why, per.cells)
    return (
        Said(per.value, per.grade, per.why, per.cells) if per.value.isdecimal() and per.value != "0" else None
    )


def _counted(shop: Shop, thing: Thing, coin: str) -> None:
    quantity = thing.said.get("quantity")
    if quantity is None:
        return
    name, unit = part_name(thing), thing.value("unit")
    amount = Said(f"{quantity.value} {unit}".strip(), quantity.grade, quantity.why, quantity.cells)
    key, lot = name.value, None
    if shop.has("counts", key):
        where = thing.said.get("where")
        text = f"{where.value} " if where else ""
        key = f"{name.value}|{thing.anchor.ref}"
        lot = Said(f"{text}{thing.anchor.ref}", "guessed", "counted in more than one row", (thing.anchor,))
    line = shop.put(
        "counts", key, part=name, quantity=amount, lot=lot, received_on=thing.said.get("received")
    )
    _cost(line, thing, coin)


def _cost(line: Line, thing: Thing, coin: str) -> None:
    """What it cost, in the shop's coin: of one, or what was paid and for how much."""
    paid, per = thing.said.get("paid"), thing.said.get("per")
    if paid is None or per is None or (thing.value("coin") or coin) != coin:
        return
    pack = _pack(thing)
    grade = worst((paid.grade, per.grade))
    if per.value == "all":
        if Fraction(thing.value("quantity")) > 0:
            _put_paid(line, paid, grade, "all", coin)
    elif pack is not None and pack.value == "1":
        line.cells["unit cost"] = Said(paid.value, grade, paid.why or per.why, paid.cells)
    elif pack is not None:
        _put_paid(line, paid, grade, pack.value, coin)


def _put_paid(line: Line, paid: Said, grade: str, what_for: str, coin: str) -> None:
    price = _coins(paid.value, coin)
    if price:
        line.cells["paid"] = Said(price, grade, paid.why, paid.cells)  # type: ignore[arg-type]
        line.cells["for"] = Said(what_for, grade, paid.why, paid.cells)  # type: ignore[arg-type]


def _wished(shop: Shop, wish: Wish, number: int) -> None:
    due, family, wood = wish.said.get("due"), wish.said.get("family"), wish.said.get("wood")
    customer = wish.said.get("customer")
    who = customer.value if customer else f"order {number}"
    missing = [
        what
        for what, said in (("a day", due), ("a kit", family), ("a blank", wood))
        if said is None or not said.value
    ]
    count = wish.said.get("count")
    if (
        missing
        or due is None
        or family is None
        or wood is None
        or count is None
        or not shop.has("families", family.value)
    ):
        lacks = " and ".join(missing) or "a kit of the shop"
        shop.left_out.append(
            f"{wish.anchor.ref}: the order of {who} lacks {lacks}, so it is not among the orders yet."
        )
        return
    blank = _blank_for(shop, wood)
    named = who if not shop.has("orders", who) else f"{who} {number}"
    plating = wish.said.get("plating")
    if plating:
        shop.put("platings", plating.value, plating=plating)
    price = wish.said.get("asked")
    if price and not _coins(price.value, wish.value("coin") or "EUR"):
        price = None
    pattern = Said(pattern_name(shop, family.value), family.grade, family.why, family.cells)
    shop.put(
        "orders", named, order=Said(named, "guessed" if not customer else customer.grade, "", wish.anchor and (wish.anchor,)),
        pattern=pattern, blank=blank, count=count, due=due, plating=plating, customer=customer, price=price,
    )  # fmt: skip


def _blank_for(shop: Shop, wood: Said) -> Said:
    """The blank part of a wish: one on the shelf of this material, else a new one that nobody has counted."""
    for line in shop.lines.get("blanks", []):
        if plainly(line.cells["material"].value) == plainly(wood.value):
            return Said(line.cells["part"].value, wood.grade, wood.why, wood.cells)
    thing = Thing(wood.cells[0])
    name = wood.value if "blank" in plainly(wood.value) else f"{wood.value} blank"
    for what, value in (("kind", "blank"), ("name", name), ("material", wood.value), ("sort", "wood")):
        thing.put(what, value, "guessed", "ordered, but not on the shelf", *wood.cells)
    _part(shop, thing)
    return thing.said["name"]


def pattern_name(shop: Shop, family: str) -> str:
    """What a piece of a family is called: its family and what it makes, unless the name says so already."""
    makes = shop.by_name[("families", plainly(family))].cells["makes"].value
    return family if set(makes.split()) <= set(plainly(family).split()) else f"{family} {makes}"


def _patterns(shop: Shop) -> None:
    """A plain pattern for each family, its bill of what every such piece takes and of what the shop has."""
    for line in shop.lines.get("families", []):
        family = line.cells["family"]
        name = Said(pattern_name(shop, family.value), "guessed", usual.WHY, family.cells)
        shop.put("patterns", name.value, pattern=name, family=family)
        barrels = [one for one in shop.lines["barrels"] if one.cells["family"].value == family.value]
        tubes = any(one.cells["tube"].value != "none" for one in barrels)
        for bill in usual.BILL:
            if (bill.part == "the tubes" and not tubes) or (
                bill.part == "the refill" and "refill" not in line.cells
            ):
                continue
            _bill(shop, name, bill, bill.part)
        for bill in usual.FINISHING:
            part = _poured(shop, bill.part)
            if part and (tubes or "glue" not in bill.per):
                _bill(shop, name, bill, part)


def _bill(shop: Shop, pattern: Said, bill: usual.Line, part: str) -> None:
    marked = {what: Said(getattr(bill, what), "guessed", usual.WHY) for what in ("stage", "quantity", "per")}
    key = f"{pattern.value}|{bill.stage}|{part}|{bill.per}"
    shop.put("bills", key, pattern=pattern, part=Said(part, "guessed", usual.WHY), **marked)


def _poured(shop: Shop, word: str) -> str:
    """The shop's first adhesive in millilitres with this word in its name."""
    lines: Iterable[Line] = shop.lines.get("supplies", [])
    for line in lines:
        said = line.cells
        if (
            said["type"].value == "adhesive"
            and said["unit"].value == "ml"
            and word in tokens(plainly(said["part"].value))
        ):
            return said["part"].value
    return ""
