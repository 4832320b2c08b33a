"""Lines of a sheet of ordinary days that say something of an order, a name or the week, or what was made."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from typing import Final

from inventory.catalogue import STAGES, fold
from inventory.errors import AskedCell, BadInput
from inventory.measures import Currency, listed, read_date, read_money
from inventory.measures.text import plain
from inventory.reports.days_sheet import Said, SaidLine
from inventory.sheets.forms.blanks import PIECES
from inventory.sheets.forms.by_hand import take
from inventory.sheets.forms.returned_tab import ReturnedRow

_STAGE: Final = "(?:(?:cut|drill|glu|trim|turn|finish|assembl|pack)[a-z]*)"
_BIT: Final = re.compile(
    rf"({_STAGE}) ?[=: x×] ?([0-9]{{1,4}})|([0-9]{{1,4}}) ?[x×]? ?(?:at |in |when |while )?(?:the )?({_STAGE})"
)
"""`turn=1`, `turning 1`, `1 at turning`."""


def said_line(
    row: ReturnedRow, what: Said, coin: Currency, today: date, new: dict[str, str], told: list[str]
) -> SaidLine:
    """The line of a row. told: what was understood.

    new: what things are called until now, by the folded names given them; it gets this one's.
    """
    if what in ("paid", "spent", "rename", "hours") and row.said("how many"):
        row.refuse("how many", f"A line of “{what}” has none.")
    if what == "spent" and not row.said("paid"):
        row.refuse("paid", "How much? Write the sum.")
    on = row.read("day", read_date, today)
    if what != "spent" and on != today:
        row.refuse("day", f"A line of “{what}” is of the day it is booked, {today}. Leave the day empty.")
    of = row.text("part")
    of = new.get(fold(of), of)
    named = _new_name(row, of, new) if what == "rename" else ""
    least = 0 if what == "made" else 1
    many = take(row, "how many", lambda text: _pieces(text, least), PIECES, told)
    money = "price" if what == "change" else "paid"
    return SaidLine(
        row.place("part"),
        what,
        of,
        None if many is None else many.value,
        row.read(money, lambda text: read_money(text, coin), None),
        row.read("due", read_date, None),
        row.text("blank"),
        row.text("plating"),
        _spoiled_of(row, told),
        named,
        on,
        row.text("at"),
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


def _spoiled_of(row: ReturnedRow, told: list[str]) -> Mapping[str, int]:
    """Pieces by stage; empty where nothing is said, or after noting what has to be asked."""
    text = row.said("spoiled")
    if not text or row.broken("spoiled"):
        return row.read("spoiled", lambda _: {}, {})
    done: dict[str, int] = {}
    for bit in filter(None, re.split("[,;+\n]| and ", text.casefold())):
        found = _BIT.fullmatch(bit.strip())
        stage = found and next((one for one in STAGES if (found[1] or found[4]).startswith(one[:3])), None)
        if not found or not stage:
            row.problems.append(_which_stage(row, text))
            return {}
        done[stage] = done.get(stage, 0) + int(found[2] or found[3])
    plain = "; ".join(f"{stage}={many}" for stage, many in done.items())
    if plain != text.casefold().replace(",", ";").replace(" ", "").replace(";", "; "):
        told.append(f"{row.place('spoiled')}: “{text}” was taken as {plain}.")
    return done


def _which_stage(row: ReturnedRow, text: str) -> AskedCell:
    """The cell as a question: how many were spoiled where. What flies apart does so at the lathe."""
    many = re.search("[0-9]{1,4}", text)
    guess = f"turn={many[0]}" if many else ""
    ask = "How many were spoiled at which stage?"
    stages = listed(STAGES, most=len(STAGES))
    problem = f"“{text}” does not say at which stage. Write {guess or 'turn=1'}; the stages are {stages}."
    place = row.place("spoiled")
    return AskedCell(
        *(place.file, place.tab, place.row, place.column, text, problem),
        of=row.said("part"),
        ask=f"{ask} Write it as {guess or 'turn=1'}.",
        guess=guess,
        why="does not say at which stage.",
    )
