"""Cells of a filled form: counts of pieces, amounts of a part, weights, numbers of lots."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from fractions import Fraction

from inventory.catalogue import Part
from inventory.errors import SLIP, BadMeasure, Place, nearest
from inventory.measures import STEPS, read_amount, read_number
from inventory.measures.text import said
from inventory.sheets.files import fold_heading
from inventory.sheets.forms.returned_form import ReturnedForm
from inventory.sheets.forms.returned_tab import ReturnedRow, ReturnedTab
from inventory.sheets.stock.rows import WHOLE

MOST_PIECES = 10_000
"""Pieces of one row; more is a slip."""
MOST_LOT = 2**63 - 1
"""SQLite integers are −(2^63) to 2^63 − 1."""
LONGEST_NOTE = 2000
_ERROR = re.compile(r"#[A-Z/]{2,}[A-Z0-9/_]*[!?]?|Err:[0-9]{3}")
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}(?: .*)?|[0-9]{2}:[0-9]{2}:[0-9]{2}.*")
_WEIGHT = re.compile(r"[-+]?[0-9 ,.'/-]*?(?:[.,]([0-9]+)|/([0-9]+))? ?([^0-9]*)")


def pieces(text: str) -> int:
    """A whole number of pieces, 0 or more. Raises BadMeasure."""
    check_number(text)
    number = read_number(text)
    if number < 0:
        raise BadMeasure(f"Pieces cannot be negative: {said(text)}.", hint="Write 0 or more.")
    if number.denominator != 1:
        raise BadMeasure(
            f"{said(text)} is no whole number of pieces.", hint="Write a whole number, such as 3."
        )
    if number > MOST_PIECES:
        hint = f"At most {MOST_PIECES:,} are taken in one row. Check the digits."
        raise BadMeasure(f"{said(text)} pieces are more than anyone makes.", hint=hint)
    return int(number)


def number_of(what: str) -> Callable[[str], int]:
    """A reader of numbers this program gave: of a lot, a row of the plan. Raises BadMeasure."""

    def read(text: str) -> int:
        if not re.fullmatch(r"[0-9]{1,19}", text) or not 0 < int(text) <= MOST_LOT:
            raise BadMeasure(
                f"{said(text)} is no {what}.", hint="Leave it as it was, or empty in rows you add."
            )
        return int(text)

    return read


def amount_of(part: Part) -> Callable[[str], int]:
    """A reader of amounts of a part, in thousandths of its unit: bare numbers, other units, containers."""

    def read(text: str) -> int:
        check_number(text)
        return part.read_amount(text, whole=WHOLE.get(part.kind, "Finished pieces"))

    return read


def weight(text: str) -> tuple[int, int]:
    """Thousandths of a gram, and the finest step the scale showed, likewise: 61.3 g is (61300, 100).

    Raises BadMeasure.
    """
    check_number(text)
    steps = read_amount(text, "g")
    found = _WEIGHT.fullmatch(text)
    decimals, parts, unit = found.groups() if found else (None, None, "")
    one = Fraction(read_amount(f"1000 {unit}", "g"), STEPS) if unit.strip() else Fraction(STEPS)
    finest = one / 10 ** len(decimals) if decimals else one / int(parts) if parts else one
    return steps, max(1, round(finest))


def check_number(text: str) -> None:
    """Refuse what a spreadsheet shows or has made of a number."""
    if _ERROR.fullmatch(text):
        raise BadMeasure(f"The cell shows the error {text}.", hint="Correct its formula, or write the value.")
    if _DAY.fullmatch(text):
        hint = "Format the cell as a number, then write it again."
        raise BadMeasure(f"The spreadsheet has turned this into a date or time, {text}.", hint=hint)


def note_of(row: ReturnedRow, heading: str) -> str:
    """Free text, shortened by nobody: refused where it is longer than anyone reads."""
    return free_text(row, heading, row.said(heading))


def free_text(row: ReturnedRow, heading: str, text: str) -> str:
    """The same of a text from any cell of the row."""
    if len(text) > LONGEST_NOTE:
        row.refuse(heading, f"It is {len(text)} characters long; at most {LONGEST_NOTE} are taken.")
        return ""
    return "".join(sign if sign.isprintable() else "�" for sign in text)


def filled_in(row: ReturnedRow, headings: Sequence[str]) -> bool:
    """Whether any of these cells says anything."""
    return any(row.said(name) for name in headings)


def check_columns(
    form: ReturnedForm,
    tab: ReturnedTab,
    known: Sequence[str],
    needed: Sequence[str],
    skip: tuple[str, ...] = (),
) -> bool:
    """Whether the needed columns are there. Refuses misspelt ones, says which filled ones are left alone.

    skip: beginnings of folded headings that are looked at elsewhere.
    """
    fields = {fold_heading(name): name for name in known}
    missing = {fold_heading(name): name for name in needed if not tab.has(name)}
    for title, folded in zip(tab.titles, tab.headings, strict=True):
        if not folded or folded in fields or folded.startswith(skip):
            continue
        near = nearest(title, missing.values(), 1, alike=SLIP, fold=fold_heading)
        if near:
            name = missing.pop(fold_heading(near[0]))
            problem = f"“{title}” is not a heading of this sheet. Did you mean “{name}”?"
            form.problems.append(Place(tab.file, tab.name, None, title, "", problem))
            continue
        if any(row.cells.get(folded) for row in tab.rows):
            form.announced.append(
                f"{tab.file}, {tab.name}: the column “{title[:60]}” is not known and was left alone."
            )
    loose = next((row for row in tab.rows if row.loose), None)
    if loose is not None:
        form.announced.append(
            f"{loose.place()}: cells under no heading were left alone (“{loose.loose[0][:60]}”)."
        )
    form.problems += [
        Place(tab.file, tab.name, None, name, "", f"The column “{name}” is missing.")
        for name in missing.values()
    ]
    return tab.has(*needed)
