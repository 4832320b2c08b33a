"""Rows of families, barrels, patterns and bills."""

from __future__ import annotations

from inventory.catalogue import ROLES, Barrel, BillLine, Family, Pattern, Tool, fold
from inventory.errors import nearest
from inventory.measures import STEPS
from inventory.sheets.stock.load_context import Named
from inventory.sheets.stock.rows import Row

NO_TUBE = "none"


def family(row: Row) -> None:
    """One family; its barrels come in their own tab."""
    name, makes, refill, bushings_text, pilots_text, note = row.values
    key = row.give("family", "family", name)
    known = row.gathering.names["part"]
    bushings = row.names("bushings", bushings_text, known)
    pilots = row.names("trimmer pilot", pilots_text, known)
    if key and not row.bad:
        bushings, pilots = (
            tuple(known.get(fold(tool), tool) for tool in named) for named in (bushings, pilots)
        )
        refill = known.get(fold(refill), refill) if refill else None
        row.gathering.families[key] = Family(name, makes, refill, bushings, pilots, note or "")


def barrel(row: Row) -> None:
    """One barrel of a family; without a tube it says so, and how long it is."""
    family_name, name, tube, drill, finished_a, finished_b, length = row.values
    owner = _owner(row, "family", family_name)
    if owner is None:
        return
    gathering, key = row.gathering, fold(owner)
    row.give("family", "barrel", name, key)
    barrels = gathering.barrels.setdefault(key, [])
    if tube is not None and fold(tube) == NO_TUBE:
        tube = None
        if length is None:
            row.refuse("length", "A barrel without a tube needs its length.", "")
    elif length is not None:
        row.refuse("length", "This barrel's length is its tube's; leave the cell empty.", str(length))
    if row.bad:
        gathering.broken.add(key)
        return
    tube = gathering.names["part"].get(fold(tube), tube) if tube else None
    barrels.append(Barrel(name, tube, drill, finished_a, finished_b, length))


def pattern(row: Row) -> None:
    """One pattern; its bill comes in its own tab."""
    name, family_name, minutes, note = row.values
    key = row.give("pattern", "pattern", name)
    if key and not row.bad:
        family_name = row.gathering.names["family"].get(fold(family_name), family_name)
        row.gathering.patterns[key] = Pattern(name, family_name, note or "", minutes)


def bill(row: Row) -> None:
    """One line of a bill; what it names is seen when everything is read."""
    pattern_name, stage, part_name, quantity_text, per = row.values
    owner = _owner(row, "pattern", pattern_name)
    if owner is None:
        return
    gathering, key = row.gathering, fold(owner)
    lines = gathering.bills.setdefault(key, [])
    quantity = _quantity(row, part_name, quantity_text)
    if part_name and stage and per:
        row.give("pattern", "part", part_name, key, stage, per)
    if row.bad or quantity is None:
        gathering.broken.update((key, fold(part_name or "")))
        return
    gathering.given[("bills", key, str(len(lines)))] = row.place()
    lines.append(BillLine(stage, _spelled(row, part_name), quantity, per))


def _owner(row: Row, what: Named, name: str | None) -> str | None:
    """The family or pattern a row belongs to; those it may have meant are not blamed for lacking the row."""
    owner = row.reference(what, what, name)
    if name is not None and owner is None:
        row.gathering.broken.update(map(fold, nearest(name, row.gathering.names[what].values())))
    return owner


def _quantity(row: Row, name: str | None, text: str | None) -> int | None:
    if name is None:
        return None
    part, key, names = row.gathering.part(name), fold(name), row.gathering.names
    if part is None and key in names["part"]:
        return None  # the part's own row could not be read, so neither can amounts of it
    if part is None and key not in ROLES and key not in names["pattern"]:
        return STEPS  # nobody's name, which is told when everything is read; in what unit is anyone's guess
    if part is None or isinstance(part.detail, Tool):
        return row.steps("quantity", text, "piece")  # a share of a tool's wear, a role, a whole pattern
    return row.amount("quantity", text, part)


def _spelled(row: Row, name: str) -> str:
    key, names = fold(name), row.gathering.names
    if key in ROLES:
        return key
    return names["part"].get(key) or names["pattern"].get(key) or name
