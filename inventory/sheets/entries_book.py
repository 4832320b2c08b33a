"""Rows of counts and orders."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from inventory.catalogue import Blank, Kit, Order, Part, Supply, fold
from inventory.ledger import Count
from inventory.ledger.containers import net_of
from inventory.measures import Length
from inventory.sheets.entries_goods import PLATING_SEPARATORS
from inventory.sheets.rows import Row


def count(row: Row) -> None:
    """What somebody found of one part."""
    name, text, cost_text, lot, received, opened, use_by, smallest, length = row.values
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
    _measured(row, part, quantity, smallest, length)
    if row.bad or quantity is None:
        return
    if smallest is None:
        _note_repeat(row, (part.name, text, cost_text, lot, received, opened, use_by))
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


def _note_repeat(row: Row, says: tuple[object, ...]) -> None:
    gathering = row.gathering
    if says in gathering.counted:
        gathering.repeats.append(row.place())
    gathering.counted.add(says)


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
