"""Rows of families, barrels, patterns and bills."""

from __future__ import annotations

from inventory.catalogue import ROLES, Barrel, BillLine, Family, Pattern, Tool, Tube, fold
from inventory.catalogue.usual.geometry import usual_barrels
from inventory.errors import nearest
from inventory.measures import STEPS
from inventory.sheets.stock.load_context import Named
from inventory.sheets.stock.rows import StockRow

NO_TUBE = "none"


def family(row: StockRow) -> None:
    """One family; its barrels come in their own tab."""
    key = row.give("family", "family")
    known = row.context.names["part"]
    bushings, pilots = (
        tuple(known.get(fold(tool), tool) for tool in row.names(column, known))
        for column in ("bushings", "trimmer pilot")
    )
    if key and not row.bad:
        refill = row.known("part", "refill")
        row.context.families[key] = row.make(Family, refill=refill, bushings=bushings, trimmer_pilots=pilots)


def barrel(row: StockRow) -> None:
    """One barrel of a family; without a tube it says so, and how long it is."""
    owner = _owner(row, "family")
    if owner is None:
        return
    context, key = row.context, fold(owner)
    row.give("family", "barrel", key)
    barrels = context.barrels.setdefault(key, [])
    tube, length = row.known("part", "tube"), row["length"]
    if tube is not None and fold(tube) == NO_TUBE:
        tube = None
        if length is None:
            row.refuse("length", "A barrel without a tube needs its length.", "")
    elif length is not None:
        row.refuse("length", "This barrel's length is its tube's; leave the cell empty.", str(length))
    _usual_ends(row, tube)
    if row.bad:
        context.broken.add(key)
        return
    barrels.append(row.make(Barrel, tube=tube))


def _usual_ends(row: StockRow, tube: str | None) -> None:
    """The finished diameters of a barrel of which neither is said."""
    part = row.context.part(tube) if tube else None
    drill = row["drill"] or (part.detail.drill if part and isinstance(part.detail, Tube) else None)
    if drill is not None and row["finished a"] is None and row["finished b"] is None:
        finished = usual_barrels("pen", drill.designation)[0].finished
        row.fill("finished a", finished)
        row.fill("finished b", finished)


def pattern(row: StockRow) -> None:
    """One pattern; its bill comes in its own tab, or is the usual one."""
    key = row.give("pattern", "pattern")
    if row["makes"] and row["family"]:
        row.context.makes.setdefault(fold(row["family"]), row["makes"])
    if key and not row.bad:
        row.context.patterns[key] = row.make(Pattern, family=row.known("family", "family"))


def bill(row: StockRow) -> None:
    """One line of a bill; what it names is seen when everything is read."""
    owner = _owner(row, "pattern")
    if owner is None:
        return
    context, key, part = row.context, fold(owner), row["part"]
    lines = context.bills.setdefault(key, [])
    quantity = _quantity(row, part)
    if part and row["stage"] and row["per"]:
        row.give("pattern", "part", key, row["stage"], row["per"])
    if row.bad or quantity is None:
        context.broken.update((key, fold(part or "")))
        return
    context.given[("bills", key, str(len(lines)))] = row.place()
    lines.append(row.make(BillLine, part=_spelled(row, part), quantity=quantity))


def _owner(row: StockRow, what: Named) -> str | None:
    """The family or pattern a row belongs to; those it may have meant are not blamed for lacking the row."""
    owner, name = row.reference(what, what), row[what]
    if name is not None and owner is None:
        row.context.broken.update(map(fold, nearest(name, row.context.names[what].values())))
    return owner


def _quantity(row: StockRow, name: str | None) -> int | None:
    if name is None:
        return None
    part, key, names = row.context.part(name), fold(name), row.context.names
    if part is None and key in names["part"]:
        return None  # the part's own row could not be read, so neither can amounts of it
    if part is None and key not in ROLES and key not in names["pattern"]:
        return STEPS  # nobody's name, which is told when everything is read; in what unit is anyone's guess
    if part is None or isinstance(part.detail, Tool):
        return row.steps("quantity", "piece")  # a share of a tool's wear, a role, a whole pattern
    return row.amount("quantity", part)


def _spelled(row: StockRow, name: str) -> str:
    key, names = fold(name), row.context.names
    if key in ROLES:
        return key
    return names["part"].get(key) or names["pattern"].get(key) or name
