"""Rows of counts, orders and markets."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

from inventory.catalogue import Blank, Kit, Order, Part, Supply, fold
from inventory.errors import BadInput, BadMeasure
from inventory.ledger import Count
from inventory.ledger.bottles.containers import net_of
from inventory.ledger.markets import Market, market_key
from inventory.ledger.paid import ACCEPTED, paid_for
from inventory.ledger.paid import unit_cost as cost_of_one
from inventory.measures import STEPS
from inventory.sheets.stock.entries.goods import PLATING_SEPARATORS
from inventory.sheets.stock.rows import StockRow, sentence


def count(row: StockRow) -> None:
    """What somebody found of one part."""
    name = row.reference("part", "part")
    part = row.context.part(name) if name else None
    row.in_order("received on", "use by")
    row.in_order("received on", "opened on")
    row.not_ahead("received on")
    row.not_ahead("opened on")
    cost = row.unit_price("unit cost")
    if part is None:
        return
    quantity = row.amount("quantity", part, above_zero=False)
    if row["paid"] is not None or row["for"] is not None:
        cost = _paid(row, part, quantity)
    _measured(row, part, quantity)
    if row.bad or quantity is None:
        return
    found = row.make(
        Count,
        part=part.name,
        quantity=quantity,
        unit_cost=cost,
        container=net_of(part),
        place=row.place(),
    )
    what = (fold(part.name), fold(found.lot), found.received_on, found.opened_on, found.use_by)
    if found.smallest_diameter is not None or _once(row, part, what):
        row.context.counts.append(found)


def order(row: StockRow) -> None:
    """One customer's request."""
    key = row.give("order", "order")
    pattern = row.reference("pattern", "pattern")
    blank, blanks = _blanks(row)
    refill = _of_kind(row, "refill", Supply, "supplies")
    accepted = _platings(row, pattern)
    price = row.money("price", row.context.currency)
    due = row["due"]
    if not key or due is None:
        return
    request = None
    if not row.bad and pattern and blank:
        request = row.make(
            Order, pattern=pattern, blank=blank, platings=accepted, refill=refill, price=price, blanks=blanks
        )
    _against_known(row, key, due, request)
    if request and not row.bad:
        before = row.context.known_orders.get(key)
        row.context.orders.append(
            replace(request, state=before.state, blank=before.blank)
            if before and _same(before, request)
            else request
        )


def market(row: StockRow) -> None:
    """One day of a market to come."""
    name, day = row["market"], row["day"]
    if row.bad or name is None or day is None:
        return
    if any(fold(one.name) == fold(name) and one.on == day for one in row.context.markets):
        row.refuse("day", f"{name} on {day} stands in the tab twice. Keep one of the rows.", day)
        return
    row.stands(market_key(name, day))
    row.context.markets.append(row.make(Market))


def _paid(row: StockRow, part: Part, quantity: int | None) -> Fraction | None:
    """Minor units for one unit of what was paid for a pack, a bottle or all; None after refusing it."""
    paid, what_for = row["paid"], row["for"]
    if row["unit cost"] is not None:
        row.refuse("paid", "There is a unit cost too. Keep one of the two.", paid or what_for)
    elif what_for is None:
        row.refuse("for", f"For what was {paid} paid? {ACCEPTED}", "")
    elif paid is None:
        row.refuse("paid", f"What was paid for “{what_for}”? Write the sum.", "")
    minor = row.money("paid", row.context.currency)
    if row.bad or what_for is None or minor is None or quantity is None:
        return None
    packs = {*row.context.packs(part.name), *row.context.packs_of(part.name)}
    try:
        return cost_of_one(minor, paid_for(what_for, part, quantity, packs))
    except BadMeasure as error:
        row.refuse("for", sentence(error))
        return None


def _measured(row: StockRow, part: Part, quantity: int | None) -> None:
    smallest, length = row["smallest diameter"], row["length"]
    if smallest is None and length is None:
        return
    if not isinstance(part.detail, Blank):
        column = "smallest diameter" if smallest is not None else "length"
        row.refuse(column, f"“{part.name}” is a {part.kind}; only blanks are measured one by one.")
    elif smallest is None or length is None:
        column = "smallest diameter" if smallest is None else "length"
        row.refuse(column, f"A measured blank needs its {column} too.", "")
    elif quantity is not None and quantity != STEPS:
        problem = "A measured blank is one of its kind: give each its own row with the quantity 1."
        row.refuse("quantity", problem)


def _once(row: StockRow, part: Part, what: tuple[object, ...]) -> bool:
    """Refuse a part given twice in one tab where nothing tells the rows apart; two tabs may count two drawers."""
    here = row.place()
    tab, first = row.context.counted.setdefault(what, (row.context.tabs, here))
    if first is here:
        return True
    if tab != row.context.tabs:
        row.context.repeats.append(here)
        return True
    row.refuse(
        "part",
        f"“{part.name}” is given twice; the first is in {first}. Add them up in one row; or, where they are two lots, "
        "give each its name under “lot”.",
        part.name,
    )
    return False


def _blanks(row: StockRow) -> tuple[str | None, str]:
    """The blank a row wishes, or the first of those that would do and the words for all of them."""
    text, context = row["blank"], row.context
    if text is None or fold(text) in context.names["part"]:
        return _of_kind(row, "blank", Blank, "blanks"), ""
    if (strange := context.blanks.not_understood(text)) is not None:
        return row.spelled("part", "blank", strange), ""
    try:
        wish = context.blanks.wished(text)
    except BadInput as error:
        row.refuse("blank", sentence(error), text)
        return None, ""
    return wish.blanks[0].name, wish.words


def _of_kind(row: StockRow, column: str, kind: type, tab: str) -> str | None:
    spelled = row.reference("part", column)
    part = row.context.part(spelled) if spelled else None
    if part is not None and not isinstance(part.detail, kind):
        row.refuse(column, f"“{part.name}” is a {part.kind}; it has to be one of the {tab}.")
    return spelled


def _platings(row: StockRow, pattern: str | None) -> tuple[str, ...]:
    known = row.context.names["plating"]
    names = [
        (column, name)
        for column in ("plating", "platings")
        for name in row.names(column, known, PLATING_SEPARATORS)
    ]
    spelled = [row.spelled("plating", column, name) for column, name in names]
    accepted = tuple(dict.fromkeys(name for name in spelled if name is not None))
    if names or pattern is None:
        return accepted
    return _only_plating(row, pattern)


def _only_plating(row: StockRow, pattern: str) -> tuple[str, ...]:
    """The plating of the family's kits where there is but one; where there are more, one has to be wished."""
    context = row.context
    entry = context.patterns.get(fold(pattern)) or context.known.patterns.get(fold(pattern))
    if entry is None:
        return ()
    parts = {**context.known.parts, **context.parts}.values()
    found = sorted({part.detail.plating for part in parts
                    if isinstance(part.detail, Kit) and fold(part.detail.family) == fold(entry.family)})  # fmt: skip
    if len(found) > 1:
        row.refuse("platings", f"Which plating? The kits of {entry.family} come in {', '.join(found)}.", "")
    return tuple(found)


def _against_known(row: StockRow, key: str, due: date, request: Order | None) -> None:
    before = row.context.known_orders.get(key)
    same = before is not None and request is not None and _same(before, request)
    if due < row.context.today and not same:
        row.refuse("due", f"{due} has passed; today is {row.context.today}.", due)
    if before is None or request is None or same or before.state in ("wish", "released"):
        return
    remedy = (
        "Change it by `kitdrawer change`, or take its row out of the sheet."
        if before.state == "promised"
        else "Give the new one another name."
    )
    row.refuse(
        "order", f"The order “{before.name}” is already {before.state} and reads differently. {remedy}"
    )


def _same(before: Order, request: Order) -> bool:
    blank = request.blank if before.blanks and before.blanks == request.blanks else before.blank
    return replace(before, state="wish", blank=blank) == request
