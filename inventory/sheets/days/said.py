"""Lines of a sheet of ordinary days that say something of an order, a name or the week, or what was made."""

from __future__ import annotations

from datetime import date

from inventory.catalogue import STAGES, fold
from inventory.errors import BadInput
from inventory.measures import Currency, listed, read_date, read_money
from inventory.measures.text import plain
from inventory.reports.days_sheet import Said, SaidLine
from inventory.sheets.forms.returned_tab import ReturnedRow


def said_line(row: ReturnedRow, what: Said, coin: Currency, today: date, new: dict[str, str]) -> SaidLine:
    """The line of a row. new: what things are called until now, by the folded names given them; it gets this one's."""
    if what in ("paid", "rename", "hours") and row.said("how many"):
        row.refuse("how many", f"A line of “{what}” has none.")
    if row.read("day", read_date, today) != today:
        row.refuse("day", f"A line of “{what}” is of the day it is booked, {today}. Leave the day empty.")
    of = row.text("part")
    of = new.get(fold(of), of)
    named = _new_name(row, of, new) if what == "rename" else ""
    money = "paid" if what == "paid" else "price"
    return SaidLine(
        row.place("part"),
        what,
        of,
        row.read("how many", lambda text: _pieces(text, least=0 if what == "made" else 1), None),
        row.read(money, lambda text: read_money(text, coin), None),
        row.read("due", read_date, None),
        row.text("blank"),
        row.text("plating"),
        row.read("spoiled", _spoiled, {}),
        named,
    )


def _new_name(row: ReturnedRow, of: str, new: dict[str, str]) -> str:
    """What it is to be called; refused where nobody said, or where a line before gave that name or renamed it."""
    if not row.said("new name"):
        row.refuse("new name", "What is it to be called? Write the new name.")
        return ""
    named = row.read("new name", lambda text: plain(text, "name"), "")
    if fold(named) in new or fold(of) in map(fold, new.values()):
        row.refuse("new name", "A line before it renames the same, or gives the same name. Keep one of them.")
    new[fold(named)] = of
    return named


def _pieces(text: str, least: int) -> int:
    if not text.isdecimal() or not least <= int(text) <= 10_000:
        raise BadInput(f"“{text}” is no number of pieces.", hint=f"Write a whole number from {least} on.")
    return int(text)


def _spoiled(text: str) -> dict[str, int]:
    """`turn=1; drill=2` as pieces by stage."""
    done = {}
    for bit in text.replace(",", ";").split(";"):
        stage, _, many = (part.strip().casefold() for part in bit.partition("="))
        if stage not in STAGES or not many.isdecimal() or len(many) > 4:
            hint = f"Write turn=1; the stages are {listed(STAGES, most=len(STAGES))}."
            raise BadInput(f"“{bit.strip()}” is no loss.", hint=hint)
        done[stage] = int(many)
    return done
