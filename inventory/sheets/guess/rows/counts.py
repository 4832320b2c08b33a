"""How many, of one row of stock: counted, in packs, not said, or to be asked."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from inventory.measures.numbers import show_number
from inventory.sheets.guess.cells import Cell
from inventory.sheets.guess.guesses import Grade, Thing, worst
from inventory.sheets.guess.rows.headings import NO_HEADING
from inventory.sheets.guess.rows.row import A_COUNT, POURED, WHOLE, ReadRow, keep_as_note
from inventory.sheets.guess.texts.amounts import Amount, amount_in, counted_unit, read_amount, unit_of
from inventory.sheets.guess.texts.named import Named
from inventory.sheets.guess.texts.words import plainly

MOST = 100_000
"""Of anything on one shelf; more is a slip."""


def put_quantity(row: ReadRow, thing: Thing, named: Named, whats: tuple[Cell, ...]) -> None:
    cells = row.by_role.get("quantity") or row.by_role.get("packs", [])
    cell = cells[0] if cells else None
    amount = read_amount(cell) if cell else named.amount
    source = (cell,) if cell else whats
    for more in cells[1:]:
        keep_as_note(row, thing, more, more.text, understood=True)
        if amount is not None and (other := read_amount(more)) and other.value is not None:
            why = f"another count stands beside it: {more.text}"
            amount = replace(amount, grade=worst((amount.grade, "guessed")), why=amount.why or why)
    if cell is not None and amount is not None and row.roles[cell.column].why.endswith(NO_HEADING):
        why = row.roles[cell.column].why
        amount = replace(amount, grade=worst((amount.grade, "guessed")), why=amount.why or why)
    if cell is not None and cell.column in row.spread:
        amount = Amount(None, "", "asked", "one count for several rows")
    if amount is None and cell is not None:
        amount = Amount(None, "", "asked", f"“{cell.text}” is no number")
    thing.add("note", named.aside, *whats) if named.aside else None
    if amount is None:
        return _uncounted(row, thing, whats)
    unit = amount.unit or ("pack" if cell is not None and row.roles[cell.column].what == "packs" else "")
    if unit_cell := row.cell("unit"):
        unit = unit or unit_of(plainly(unit_cell.text))[0]
    if not unit and (inside := re.search(r"\(([^()]{3,})\)\s*$", thing.value("name"))):
        unit = unit_of(plainly(inside[1]))[0] if thing.value("kind") == "supply" else ""
    _put_quantity(row, thing, amount, unit, source)
    _put_pack(thing, amount, source)
    if amount.rest:
        thing.add("note", _words_of(cell.text if cell else amount.rest, amount.rest), *source)
    return None


def _put_pack(thing: Thing, amount: Amount, source: tuple[Cell, ...]) -> None:
    """What a pack holds where its count says so, 2 packs of 10: a price per pack is for that."""
    if amount.pack > 1 and not thing.value("pack"):
        thing.put("pack", str(amount.pack), "guessed", amount.why, *source)


def _words_of(text: str, rest: str) -> str:
    at = plainly(text).find(rest)
    return text.strip() if at < 0 else rest.strip("() ;,")


def _put_quantity(row: ReadRow, thing: Thing, amount: Amount, unit: str, source: tuple[Cell, ...]) -> None:
    value, grade, why = amount.value, amount.grade, amount.why
    kind, name = thing.value("kind"), thing.value("name") or thing.value("family")
    fraction = value is not None and value.denominator != 1
    if fraction and kind in WHOLE and unit not in ("pack", "box"):
        grade, why = "asked", f"{name} come whole"
    packed = unit in ("pack", "box", "pair") and kind in WHOLE | {"tool"}
    if packed and value is not None and grade != "asked":
        value, grade, why = _packs(row, thing, amount, unit, source, grade)
        thing.put("quantity", show_number(value), grade, why, *source)
        return
    if kind in WHOLE and not counted_unit(unit) and unit not in ("tube", "sheet", "strip"):
        grade, why = worst((grade, "guessed")), why or f"counted in {unit}"
    if not unit and thing.value("pack") not in ("", "1") and grade == "read" and kind in WHOLE:
        grade, why = "asked", f"Pieces, or packs of {thing.value('pack')}: write 20 or 2 packs"
    if value is not None and not unit and (value * 1000).denominator != 1:
        value, grade, why = Fraction(round(value * 1000), 1000), "asked", "Finer than a thousandth"
    if value is not None and value > MOST:
        value, grade, why = None, "asked", "More than anyone keeps"
    if grade == "asked":
        guess = (
            ""
            if value is None
            else show_number(Fraction(int(value)) if fraction and kind in WHOLE else value)
        )
        said = row.asking.ask(
            f"count|{source[0].ref}", f"How many {name} {thing.value('plating')}".strip() + f"? {why.capitalize()}.",
            guess, *source, accepts=A_COUNT,
        )  # fmt: skip
        answered = amount_in(said.value)
        value, grade, why = answered.value if answered else None, said.grade, said.why
        unit = answered.unit or unit if answered else unit
    if value is None:
        return
    if not unit and kind == "supply" and thing.value("type") in POURED:
        unit, grade, why = "bottle", worst((grade, "guessed")), why or "counted in bottles"
    thing.put("quantity", show_number(value), grade, why, *source)
    thing.put("unit", "" if kind in WHOLE or counted_unit(unit) else unit, grade, why, *source)


def _packs(
    row: ReadRow, thing: Thing, amount: Amount, unit: str, source: tuple[Cell, ...], grade: Grade
) -> tuple[Fraction, Grade, str]:
    """Packs of things that are counted one by one: how many are in one, as the name says or as it is asked."""
    each = 2 if unit == "pair" else int(thing.value("pack") or amount.pack or 0)
    value = amount.value or Fraction(0)
    if each:
        return value * each, worst((grade, "guessed")), f"{show_number(value)} × {each}"
    name = thing.value("name") or thing.value("family")
    said = row.asking.ask(
        f"pack|{plainly(name)}", f"How many are in one {unit} of {name}?", "10", *source, accepts="a number"
    )
    each = int(said.value) if said.value.isdecimal() else 10
    thing.put("pack", str(each), said.grade, said.why, *source)
    return value * each, worst((grade, said.grade)), said.why


def _uncounted(row: ReadRow, thing: Thing, whats: tuple[Cell, ...]) -> None:
    """No count is said: what all such rows get is asked once."""
    about = "Some rows have no count. Leave their count open, or are there none?"
    said = row.asking.ask("no count", about, "leave open", row.anchor, choices=("leave open", "none"))
    if said.value == "none":
        thing.put("quantity", "0", said.grade, said.why, *whats)
