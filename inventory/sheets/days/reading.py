"""A filled sheet of ordinary days: a workbook, a CSV file or a folder of them; each line checked on its own."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Final

from inventory.catalogue import Catalogue, Part, fold
from inventory.errors import AskedCell, BadInput, BadSheet, UnknownName
from inventory.ledger import fingerprint
from inventory.ledger.paid import Paid, cost_said
from inventory.measures import Currency, listed, read_date, read_money
from inventory.reports.day_words import amount_of, pieces_called, reason_of
from inventory.reports.days_sheet import (
    DONE,
    SAID,
    WHATS,
    DayLine,
    Done,
    FilledDays,
    SaidLine,
    What,
    happens,
    is_said,
)
from inventory.sheets.days.said import said_line
from inventory.sheets.forms.blanks import HOW_MANY
from inventory.sheets.forms.by_hand import take
from inventory.sheets.forms.cells import check_columns
from inventory.sheets.forms.kinds import stock_kind
from inventory.sheets.forms.returned_form import ReturnedForm
from inventory.sheets.forms.returned_tab import ReturnedRow
from inventory.sheets.forms.unseen import check_unseen
from inventory.sheets.stock.template import LISTS

NEEDED: Final = ("what", "part")
TAKES: Final[dict[What, tuple[str, ...]]] = {
    "add": ("paid", "for", "use by"),
    "took": ("why", "to", "lot"),
    "found": ("lot", "use by"),
    "back": (),
    "sold": ("price", "at"),
    "made": ("how many", "plating", "blank", "spoiled"),
    "paid": ("paid",),
    "spent": ("paid", "at"),
    "change": ("how many", "price", "due", "blank"),
    "rename": ("new name",),
    "hours": (),
}
"""What a line may say beside its part, its number and its day."""
HEADINGS: Final = (
    *(*NEEDED, "how many", "day", "why", "to", "paid", "for", "price", "at", "lot", "use by"),
    *("plating", "blank", "spoiled", "due", "new name"),
)


@dataclass(frozen=True, slots=True)
class DaysKnown:
    """What the lines are held against. packs: those a part is offered in, thousandths, asked for where it matters."""

    catalogue: Catalogue
    coin: Currency
    today: date
    packs: Callable[[str], Collection[int]] = lambda _: ()


def read_days(path: Path, known: DaysKnown, answers: Mapping[AskedCell, str] | None = None) -> FilledDays:
    """What a filled sheet says. answers: to cells that were asked about.

    Raises BadSheet with every cell that cannot be taken, or where it is no such sheet.
    """
    form = ReturnedForm(path, answers=answers)
    mine = [tab for tab in form.tabs if tab.has(*NEEDED) and not stock_kind(tab)]
    if not form.problems and not mine:
        raise BadSheet(
            f"{form.name} is no sheet of ordinary days.",
            hint=f"Its columns are {', '.join(HEADINGS)}; `kitdrawer days --save FILE` writes an empty one.",
        )
    check_unseen(form, mine, HEADINGS)
    strange = [tab for tab in form.tabs if tab not in mine and fold(tab.name) != LISTS]
    form.announced += [
        f"{tab.file}, {tab.name}: no tab of ordinary days; it was left alone." for tab in strange
    ]
    good = [tab for tab in mine if check_columns(form, tab, HEADINGS, NEEDED)]
    new: dict[str, str] = {}
    told = form.announced
    lines = tuple(line for tab in good for row in tab.rows for line in _line(row, known, new, told))
    form.finish()
    if not lines:
        raise BadSheet(
            f"Nothing is filled in {form.name}.", hint="Write a line for each thing that happened."
        )
    said = [tuple(sorted(row.cells.items())) for tab in good for row in tab.rows if row.cells]
    return FilledDays(form.name, lines, fingerprint("days", said), form.told())


def _line(
    row: ReturnedRow, known: DaysKnown, new: dict[str, str], told: list[str]
) -> Iterator[DayLine | SaidLine]:
    """The line of a row; none where nothing is filled in, or after refusing what is.

    new: what things are called until now, by the folded names that lines before gave them; told: what was understood.
    """
    if not any(row.said(heading) for heading in HEADINGS):
        return
    before = len(row.problems)
    what = row.read("what", _what, None)
    for heading in NEEDED:
        if not row.said(heading):
            row.refuse(heading, "The cell is empty.")
    if what is None or not row.said("part"):
        return
    for heading in HEADINGS[4:]:
        if row.said(heading) and heading not in TAKES[what]:
            row.refuse(heading, f"A line of “{what}” has none.")
    if is_said(what):
        line = said_line(row, what, known.coin, known.today, new, told)
        if len(row.problems) == before:
            yield line
        return
    called = new.get(fold(row.said("part")))
    sold = what == "sold"
    part = row.read("part", lambda text: _part(known.catalogue, called or text, sold=sold), None)
    if part is not None and happens(what):
        yield from _done(row, what, part, known, before, told)


def _done(
    row: ReturnedRow, what: Done, part: Part, known: DaysKnown, before: int, told: list[str]
) -> Iterator[DayLine]:
    """The line of what happens to a part."""
    many = take(row, "how many", lambda text: amount_of(part, text), HOW_MANY, told)
    quantity = None if many is None else many.value
    if quantity is None and not row.said("how many") and what not in ("took", "back"):
        quantity = 1000 if what == "sold" else None
        if quantity is None:
            row.refuse("how many", "How many? Write 2, 50 ml, 1 bottle.")
    line = DayLine(
        row.place("part"),
        what,
        part,
        row.read("day", lambda text: _day(text, known.today), known.today),
        quantity,
        _why(row) if what == "took" else "",
        row.text("at" if what == "sold" else "to"),
        row.text("lot"),
        _cost(row, part, quantity, known) if what == "add" else None,
        row.read("price", lambda text: read_money(text, known.coin), None),
        row.read("use by", read_date, None),
    )
    if len(row.problems) == before:
        yield line


def _what(text: str) -> What:
    found = WHATS.get(fold(text))
    if found is None:
        raise BadInput(
            f"“{text}” is nothing a line can be.", hint=f"Write {listed([*DONE, *SAID], most=11)}."
        )
    return found


def _part(known: Catalogue, text: str, *, sold: bool) -> Part:
    """The part of that name, or of what is sold the one finished piece whose name has all these words."""
    try:
        return known.part(text)
    except UnknownName:
        pieces = pieces_called(known, text) if sold else []
        if len(pieces) == 1:
            return pieces[0]
        if not pieces:
            raise
    names = [f"“{one.name}”" for one in pieces]
    raise BadInput(f"“{text}” can be {listed(names)}.", hint=f"Write the whole name, as {names[0]}.")


def _day(text: str, today: date) -> date:
    day = read_date(text)
    if day > today:
        raise BadInput(f"{day} is still to come; today is {today}.", hint=f"Write {today} or a day before.")
    return day


def _why(row: ReturnedRow) -> str:
    """Our word for why it went; refused where nobody said."""
    if not row.said("why"):
        row.refuse("why", "Why did it go? Write gave away, broke, threw out, lent or used up.")
        return ""
    return row.read("why", reason_of, "")


def _cost(row: ReturnedRow, part: Part, quantity: int | None, known: DaysKnown) -> Fraction | None:
    """Minor units a unit of what was paid; None where nothing was said."""
    said = Paid(row.said("paid"), row.said("for"))
    if quantity is None or not (said.paid or said.what_for):
        return None
    heading = "paid" if said.paid else "for"
    return row.read(
        heading, lambda _: cost_said(part, quantity, said, known.packs(part.name), known.coin), None
    )
