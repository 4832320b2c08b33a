"""Orders in rows with headings."""

from __future__ import annotations

from datetime import date

from inventory.sheets.guess.cells import Cell, Grid
from inventory.sheets.guess.guesses import Grade, GuessedOrder, Kept, Understanding
from inventory.sheets.guess.orders.lines import put_state
from inventory.sheets.guess.orders.needs import finish_order
from inventory.sheets.guess.orders.pieces import Words, split_words, take_pieces
from inventory.sheets.guess.rows.headings import Block, total_row
from inventory.sheets.guess.texts.amounts import read_amount
from inventory.sheets.guess.texts.days import day_of
from inventory.sheets.guess.texts.platings import plating_of
from inventory.sheets.guess.texts.prices import read_price
from inventory.sheets.guess.texts.words import plainly, signs

_YES_OR_NO = {
    **dict.fromkeys(("yes", "y", "x", "ja", "oui", "ok", "✓", "✔"), "paid"),
    **dict.fromkeys(("no", "n", "nein", "non", "-", "open"), "unpaid"),
}


def order_of_row(grid: Grid, block: Block, number: int, found: Understanding, today: date) -> None:
    """One order out of a row with headings."""
    cells = list(grid.rows[number].values())
    if total_row(cells):
        found.kept += [Kept(cell, "total") for cell in cells]
        return
    if over := next((cell for cell in cells if signs("done").whole(cell.text)), None):
        why = f"it says “{over.text}”: an order that is over"
        found.kept += [Kept(cell, "note", why) for cell in cells]
        return
    by_role: dict[str, list[Cell]] = {}
    for at in [*block.roles, *(at for at in grid.rows[number] if at not in block.roles)]:
        cell = grid.cell(number, at)
        if cell:
            by_role.setdefault(block.roles[at].what if at in block.roles else "note", []).append(cell)
    if not by_role.get("what"):
        words = max(len(cell.text.split()) for cell in cells)
        found.kept += [Kept(cell, "note" if words > 2 else "not understood") for cell in cells]
        return
    if len(by_role["what"]) > 1 and "customer" not in by_role:  # a name, then what it wants
        by_role["customer"] = [by_role["what"].pop(0)]
    order = GuessedOrder(by_role["what"][0])
    for cell in by_role.get("due", []):
        _due_cell(order, cell, found, today)
    _wanted(order, by_role, found)
    _row_fields(order, by_role)
    finish_order(order, cells, found)
    found.orders.append(order)


def _wanted(order: GuessedOrder, by_role: dict[str, list[Cell]], found: Understanding) -> None:
    """What is to be made, of what."""
    for cell in (*by_role["what"], *by_role.get("wood", [])):
        words = Words(split_words(cell.text))
        take_pieces(order, words, [cell], found)
        if (rest := words.left()) and cell in by_role["what"]:
            order.add("note", rest, cell)
        elif rest and "wood" not in order.said:
            order.put("wood", cell.text, "read", "", cell)


def _due_cell(order: GuessedOrder, cell: Cell, found: Understanding, today: date) -> None:
    day = day_of(cell.raw, cell.text, today)
    order.put("due text", cell.text, "read", "", cell)
    if day and day.day:
        order.put("due", day.day.isoformat(), day.grade, day.why, cell)
    elif day is None:
        found.kept.append(Kept(cell, "not understood", "no day"))


def _row_fields(order: GuessedOrder, by_role: dict[str, list[Cell]]) -> None:
    for cell in by_role.get("quantity", []):
        amount = read_amount(cell)
        if amount and amount.value is not None and amount.value.denominator == 1:
            order.put("count", str(amount.value), amount.grade, amount.why, cell)
    for cell in by_role.get("plating", []):
        if plated := plating_of(cell.text):
            grade: Grade = "guessed" if plated.grade == "asked" else plated.grade
            order.put("plating", plated.plating, grade, plated.why, cell)
    for cell in by_role.get("customer", []):
        order.put("customer", cell.text, "read", "", cell)
    for what in ("asked", "paid", "state"):
        for cell in by_role.get(what, []):
            _price_or_state(order, cell, what)
    for what in _NOTED:
        for cell in by_role.get(what, []):
            order.add("note", cell.text, cell)


def _price_or_state(order: GuessedOrder, cell: Cell, what: str) -> None:
    price = read_price(cell) if what != "state" else None
    if price and price.value is not None:
        order.put("asked", price.text, "read" if what == "asked" else "guessed", "", cell)
        order.put("coin", price.coin, "read", "", cell)
    else:
        _paid_or_not(order, cell)
        order.add("note", cell.text, cell)


_NOTED = (
    "note",
    "where",
    "supplier",
    "drill",
    "code",
    "kind",
    "size",
    "received",
    "level",
    "pack",
    "packs",
    "unit",
)


def _paid_or_not(order: GuessedOrder, cell: Cell) -> None:
    """Whether an order is paid: in words, or a yes or no under such a heading."""
    put_state(order, cell.text, [cell])
    answer = _YES_OR_NO.get(plainly(cell.text).strip(" ."), "")
    if answer and "state" not in order.said:
        order.put("state", answer, "guessed", f"“{cell.text}” taken as {answer}", cell)
