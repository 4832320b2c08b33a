"""Rows of counts and orders."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

from inventory.catalogue import Blank, Kit, Order, Part, Supply, fold
from inventory.errors import BadMeasure
from inventory.jobs.counting.paid import ACCEPTED, paid_for
from inventory.jobs.counting.paid import unit_cost as cost_of_one
from inventory.ledger import Count
from inventory.ledger.containers import net_of
from inventory.measures import Length
from inventory.sheets.stock.entries.goods import PLATING_SEPARATORS
from inventory.sheets.stock.rows import Row, sentence


def count(row: Row) -> None:
    """What somebody found of one part."""
    name, text, cost_text, lot, received, opened, use_by, smallest, length, paid, what_for = row.values
    name = row.reference("part", "part", name)
    part = row.gathering.part(name) if name else None
    if received is not None:
        row.in_order(("received on", received), ("use by", use_by))
        row.in_order(("received on", received), ("opened on", opened))
        row.not_ahead("received on", received)
    row.not_ahead("opened on", opened)
    cost = row.unit_price("unit cost", cost_text)
    if part is None:
        return
    quantity = row.amount("quantity", text, part, above_zero=False)
    if paid is not None or what_for is not None:
        cost = _paid(row, part, quantity, cost_text, paid, what_for)
    _measured(row, part, quantity, smallest, length)
    if row.bad or quantity is None:
        return
    what = (fold(part.name), fold(lot or ""), received, opened, use_by)
    if smallest is None and not _once(row, part, what):
        return
    found = Count(
        *(part.name, quantity, cost, lot or "", received, opened, use_by, smallest, length),
        container=net_of(part),
        place=row.place(),
    )
    row.gathering.counts.append(found)


def order(row: Row) -> None:
    """One customer's wish."""
    name, pattern, blank, number, due, plating, platings, customer, refill, extra, price_text = row.values
    key = row.give("order", "order", name)
    pattern = row.reference("pattern", "pattern", pattern)
    blank = _of_kind(row, "blank", blank, Blank, "blanks")
    refill = _of_kind(row, "refill", refill, Supply, "supplies") if refill else None
    accepted = _platings(row, pattern, plating, platings)
    price = row.money("price", price_text, row.gathering.currency)
    if not key or due is None:
        return
    wish = None
    if not row.bad and pattern and blank:
        wish = Order(name, pattern, blank, number, due, accepted, customer or "", refill, extra, price)
    _against_known(row, key, due, wish)
    if wish and not row.bad:
        before = row.gathering.known_orders.get(key)
        row.gathering.orders.append(
            replace(wish, state=before.state) if before and _same(before, wish) else wish
        )


def _paid(
    row: Row, part: Part, quantity: int | None, unit_cost: str | None, paid: str | None, what_for: str | None
) -> Fraction | None:
    """Minor units for one unit of what was paid for a pack, a bottle or all; None after refusing it."""
    if unit_cost is not None:
        row.refuse("paid", "There is a unit cost too. Keep one of the two.", paid or what_for)
    elif what_for is None:
        row.refuse("for", f"For what was {paid} paid? {ACCEPTED}", "")
    elif paid is None:
        row.refuse("paid", f"What was paid for “{what_for}”? Write the sum.", "")
    minor = row.money("paid", paid, row.gathering.currency)
    if row.bad or what_for is None or minor is None or quantity is None:
        return None
    packs = {*row.gathering.packs(part.name), *row.gathering.packs_of(part.name)}
    try:
        return cost_of_one(minor, paid_for(what_for, part, quantity, packs))
    except BadMeasure as error:
        row.refuse("for", sentence(error), what_for)
        return None


def _measured(
    row: Row, part: Part, quantity: int | None, smallest: Length | None, length: Length | None
) -> None:
    if smallest is None and length is None:
        return
    if not isinstance(part.detail, Blank):
        column = "smallest diameter" if smallest is not None else "length"
        row.refuse(column, f"“{part.name}” is a {part.kind}; only blanks are measured one by one.")
    elif smallest is None or length is None:
        column = "smallest diameter" if smallest is None else "length"
        row.refuse(column, f"A measured blank needs its {column} too.", "")
    elif quantity is not None and quantity != 1000:
        problem = "A measured blank is one of its kind: give each its own row with the quantity 1."
        row.refuse("quantity", problem)


def _once(row: Row, part: Part, what: tuple[object, ...]) -> bool:
    """Refuse a part given twice in one tab where nothing tells the rows apart; two tabs may count two drawers."""
    here = row.place()
    tab, first = row.gathering.counted.setdefault(what, (row.gathering.tabs, here))
    if first is here:
        return True
    if tab != row.gathering.tabs:
        row.gathering.repeats.append(here)
        return True
    row.refuse(
        "part",
        f"“{part.name}” is given twice; the first is in {first}. Add them up in one row; or, where they are two lots, "
        "give each its name under “lot”.",
        part.name,
    )
    return False


def _of_kind(row: Row, column: str, name: str | None, kind: type, tab: str) -> str | None:
    spelled = row.reference("part", column, name)
    part = row.gathering.part(spelled) if spelled else None
    if part is not None and not isinstance(part.detail, kind):
        row.refuse(column, f"“{part.name}” is a {part.kind}; it has to be one of the {tab}.", name)
    return spelled


def _platings(row: Row, pattern: str | None, first: str | None, listed: str | None) -> tuple[str, ...]:
    known = row.gathering.names["plating"]
    names = [(column, name) for column, text in (("plating", first), ("platings", listed))
             for name in row.names(column, text, known, PLATING_SEPARATORS)]  # fmt: skip
    spelled = [row.reference("plating", column, name) for column, name in names]
    accepted = tuple(dict.fromkeys(name for name in spelled if name is not None))
    if names or pattern is None:
        return accepted
    return _only_plating(row, pattern)


def _only_plating(row: Row, pattern: str) -> tuple[str, ...]:
    """The plating of the family's kits where there is but one; where there are more, one has to be wished."""
    gathering = row.gathering
    entry = gathering.patterns.get(fold(pattern)) or gathering.known.patterns.get(fold(pattern))
    if entry is None:
        return ()
    parts = {**gathering.known.parts, **gathering.parts}.values()
    found = sorted({part.detail.plating for part in parts
                    if isinstance(part.detail, Kit) and fold(part.detail.family) == fold(entry.family)})  # fmt: skip
    if len(found) > 1:
        row.refuse("platings", f"Which plating? The kits of {entry.family} come in {', '.join(found)}.", "")
    return tuple(found)


def _against_known(row: Row, key: str, due: date, wish: Order | None) -> None:
    before = row.gathering.known_orders.get(key)
    same = before is not None and wish is not None and _same(before, wish)
    if due < row.gathering.today and not same:
        row.refuse("due", f"{due} has passed; today is {row.gathering.today}.", due)
    if before is None or wish is None or same or before.state in ("wish", "released"):
        return
    remedy = (
        "Release it first, then load it anew."
        if before.state == "promised"
        else "Give the new one another name."
    )
    row.refuse(
        "order", f"The order “{before.name}” is already {before.state} and reads differently. {remedy}"
    )


def _same(before: Order, wish: Order) -> bool:
    return replace(before, state="wish") == wish
