"""One row of stock made into a thing: its name taken apart, how many, what was paid, where from, where it lies."""

from __future__ import annotations

import re
from dataclasses import replace

from inventory.measures.numbers import show_number
from inventory.sheets.guess.cells import Cell
from inventory.sheets.guess.guesses import YOUR_ANSWER, Grade, Thing, worst
from inventory.sheets.guess.rows.beside import Beside, beside_name
from inventory.sheets.guess.rows.counts import put_quantity
from inventory.sheets.guess.rows.headings import Role
from inventory.sheets.guess.rows.kinds import expected_kind, put_kind, put_names, put_plating
from inventory.sheets.guess.rows.row import DRILLED, NOTHING, ReadRow, keep_as_note
from inventory.sheets.guess.texts.amounts import amount_in, read_amount
from inventory.sheets.guess.texts.days import day_of
from inventory.sheets.guess.texts.named import Named
from inventory.sheets.guess.texts.naming import taken_apart
from inventory.sheets.guess.texts.prices import Price, coin_in, read_price
from inventory.sheets.guess.texts.sizes import drill_in
from inventory.sheets.guess.texts.words import signs


def thing_of(row: ReadRow, *, name: str = "", name_cells: tuple[Cell, ...] = ()) -> Thing:
    """The thing a row of stock speaks of. name: where it stands elsewhere than in the row."""
    whats = name_cells or tuple(row.by_role.get("what", ()))
    text = name or " ".join(cell.text for cell in whats)
    counted = not (row.by_role.get("quantity") or row.by_role.get("packs"))
    beside = Beside(text)
    if counted and not set(row.by_role) - {"what", "number"}:
        beside = beside_name(text)
        text = beside.name
    named = taken_apart(text, counted=counted, kind=expected_kind(row))
    thing = Thing(row.anchor)
    plated = row.cell("plating")
    put_kind(row, thing, named, whats, plated)
    if thing.value("kind") == NOTHING:
        return thing
    put_plating(row, thing, named, whats, plated)
    put_names(thing, named, whats, row)
    _sizes(row, thing, named, whats)
    put_quantity(row, thing, named, whats)
    _paid(row, thing)
    thing.put("where", beside.place, "read", "", *whats)
    if beside.price is not None and beside.price.value is not None:
        _put_price(row, thing, whats[0], beside.price, Role("paid"))
    _texts(row, thing)
    _no_surer_than_their_columns(row, thing)
    return thing


def _no_surer_than_their_columns(row: ReadRow, thing: Thing) -> None:
    """What stands in a column whose meaning was guessed is itself guessed, and marked so."""
    for what, said in thing.said.items():
        roles = (row.roles[cell.column] for cell in said.cells if cell.column in row.roles)
        doubtful = next((role for role in roles if role.grade != "read" and role.what not in _BY_WORDS), None)
        if said.grade != "read" or said.why == YOUR_ANSWER or what in ("note", "coin"):
            continue
        if doubtful and not all(_says_itself(what, cell) for cell in said.cells):
            thing.said[what] = replace(said, grade="guessed", why=doubtful.why)


def _says_itself(what: str, cell: Cell) -> bool:
    """Whether a cell needs no heading to be understood: a sum with its coin, a drill with its unit, 18 pcs."""
    if what in ("paid", "per", "in all"):
        return bool(coin_in(cell.text))
    if what == "drill":
        return bool(re.fullmatch(r"[0-9.,]+ ?mm|[0-9]+/[0-9]+ ?(?:\"|in|inch)?", cell.text.strip()))
    amount = amount_in(cell.text) if what in ("quantity", "unit") and isinstance(cell.raw, str) else None
    return amount is not None and bool(amount.unit)


_BY_WORDS = frozenset({"what", "plating", "kind"})
"""Columns that are known by the words in them, so that their cells say themselves what they are."""


def _sizes(row: ReadRow, thing: Thing, named: Named, whats: tuple[Cell, ...]) -> None:
    kind = thing.said["kind"]
    for what in ("drill", "net", "width", "length"):
        if what != "drill" or kind.value in DRILLED:
            grade: Grade = "guessed" if what == "drill" and kind.grade != "read" else "read"
            thing.put(what, getattr(named, what), grade, kind.why * (grade != "read"), *whats)
    if named.pack:
        thing.put("pack", str(named.pack), "read", "", *whats)
    for cell in row.by_role.get("drill", ()):
        _drill(row, thing, cell)
    for cell in row.by_role.get("size", ()):
        _size(row, thing, cell)
    for cell in row.by_role.get("pack", ()):
        amount = read_amount(cell)
        if amount and amount.value and amount.value.denominator == 1:
            thing.put("pack", str(amount.value), "read", "", cell)
        else:
            keep_as_note(row, thing, cell, f"pack {cell.text}", understood=False)


_ONE_DRILL = re.compile(r"[\d.,/ ]+(?:mm|\"|″|in|inch|Zoll)?|[A-Z#]\d*|(?:letter )?[A-Z]", re.IGNORECASE)


def _drill(row: ReadRow, thing: Thing, cell: Cell) -> None:
    drill, sure = drill_in(cell.text), _ONE_DRILL.fullmatch(cell.text.strip())
    if drill:
        thing.put(
            "drill", drill, "read" if sure else "guessed", "" if sure else f"out of “{cell.text}”", cell
        )
    if not drill or not sure:
        keep_as_note(row, thing, cell, f"drill: {cell.text}", understood=bool(drill))


def _size(row: ReadRow, thing: Thing, cell: Cell) -> None:
    inner = taken_apart(cell.text)
    for what in ("net", "width", "length"):
        thing.put(what, getattr(inner, what), "read", "", cell)
    if inner.drill and thing.value("kind") in ("tube", "kit", "tool"):
        thing.put("drill", inner.drill, "guessed", "a size taken as its drill", cell)
    elif not inner.net and not inner.width:
        keep_as_note(row, thing, cell, f"size {cell.text}", understood=True)


def _paid(row: ReadRow, thing: Thing) -> None:
    for cell in row.by_role.get("paid", ()):
        role = row.roles[cell.column]
        price = read_price(cell)
        if cell.column in row.spread and price is not None:
            if (price.per or role.per) in ("each", "pack"):
                price = replace(
                    price,
                    grade=worst((price.grade, "guessed")),
                    why=price.why or "one price for several rows",
                )
            else:
                price = Price(price.value, price.coin, "several", "asked", "one sum for several rows")
        if price is None:
            row.unread.append((cell, "no sum of money"))
            thing.add("note", f"paid: {cell.text}", cell)
        elif price.value is not None or price.grade == "asked":
            _put_price(row, thing, cell, price, role)
        elif price.why:
            thing.add("note", "price not known", cell)


def _put_price(row: ReadRow, thing: Thing, cell: Cell, price: Price, role: Role) -> None:
    per = price.per or role.per
    if thing.value("per") in ("each", "pack") and per != "each":  # of two prices the finer one counts
        thing.put("in all", price.text, price.grade, price.why, cell)
        return
    value, grade, why = price.text, price.grade, price.why
    if grade == "asked":
        name = thing.value("name") or f"{thing.value('family')} {thing.value('plating')}".strip()
        guess = "" if per == "several" else value
        said = row.asking.ask(
            f"paid|{cell.ref}", f"What was paid for {name}? {why.capitalize()}.", guess, cell, accepts="a sum"
        )
        value, grade, why = said.value, said.grade, said.why
        per = "" if per == "several" else per
    if price.rest:
        thing.add("note", price.rest, cell)
    thing.put("paid", value, grade, why, cell)
    thing.put("coin", price.coin or role.coin, "read", "", cell)
    if per:
        packed = per == "each" and not price.per and thing.value("pack") not in ("", "1")
        sure: Grade = "guessed" if packed or not (price.per or role.grade == "read") else "read"
        thing.put("per", per, sure, f"or each pack of {thing.value('pack')}" if packed else "", cell)
    else:
        thing.said.pop("per", None)


def _texts(row: ReadRow, thing: Thing) -> None:
    for cell in row.by_role.get("supplier", ()):
        if not signs("unknown").whole(cell.text) and re.search(r"[^\W\d_]", cell.text):
            thing.put("supplier", cell.text[:100].strip(" .,;"), "read", "", cell)
    for what in ("where", "code"):
        for cell in row.by_role.get(what, ()):
            thing.put(what, cell.text, "read", "", cell)
    above = {what: said for what, said in row.context.said.items() if what in ("supplier", "where")}
    thing.said = above | thing.said
    for what in ("note", "state", "customer", "due", "wood", "asked"):
        for cell in row.by_role.get(what, ()):
            thing.add("note", cell.text, cell)
    for cell in row.by_role.get("received", ()):
        _received(row, thing, cell)
    for cell in row.by_role.get("level", ()):
        _level(thing, cell)


def _level(thing: Thing, cell: Cell) -> None:
    amount = read_amount(cell)
    if amount and amount.value is not None and amount.grade == "read":
        thing.put("level", show_number(amount.value), "read", "", cell)
    else:
        thing.add("note", f"minimum {cell.text}", cell)


def _received(row: ReadRow, thing: Thing, cell: Cell) -> None:
    day = day_of(cell.raw, cell.text, row.today)
    if day and day.day and day.grade == "read" and day.day <= row.today:
        thing.put("received", day.day.isoformat(), day.grade, day.why, cell)
    else:
        thing.add("note", f"date {cell.text}", cell)
