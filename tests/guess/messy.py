"""Messy sheets as compact text, made into workbooks and CSV files; and the truth beside each, written by hand.

A file of `tests/guess/sheets` or `tests/guess/held_out`:

    about: one line on its hand and habits
    file: xlsx                        or: csv cp1252 ;
    tab: Stock
    What | Colour | How many          a row of cells; . is a blank row
    Dunlin kit | chrome | 12          plain numbers are numbers, '12 is text, =F a formula without its result,
                                      D2026-12-19 a date, TRUE a truth value, <br> a line break
    merge: A4:A6
    truth:
    Stock!2 kit; family=Dunlin; plating=chrome; quantity=12
    Stock!7 total                     total, note, title, heading, sub-heading or nothing: no stock and no order
    Orders!1 wish; family=Dunlin; count=2; due=2026-12-24

A truth of `?` cannot be known from the sheet: it has to be asked. `a/b` takes either. Fields that are not named are not
in the sheet: a reading that fills them is wrong. Headings and blank rows need no truth.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, NamedTuple

from openpyxl import Workbook

from inventory.sheets.guess.cells import Grid, read_grids
from inventory.sheets.guess.guesses import Said, Thing, Understanding
from inventory.sheets.guess.understanding import understand

HERE = Path(__file__).parent
TODAY = date(2026, 11, 28)
STOCK = (
    "kind",
    "family",
    "plating",
    "material",
    "quantity",
    "unit",
    "paid",
    "per",
    "supplier",
    "drill",
    "where",
)
WISH = ("family", "count", "wood", "plating", "due", "customer", "state", "asked")
NOTHING = frozenset({"total", "note", "title", "heading", "sub-heading", "nothing"})


@dataclass(slots=True)
class Messy:
    """One sheet: its tabs as rows of cells as written, its merges, how it is to be filed, and its truth by place."""

    name: str
    about: str = ""
    file: str = "xlsx"
    tabs: dict[str, list[list[str]]] = field(default_factory=dict)
    merges: dict[str, list[str]] = field(default_factory=dict)
    truth: dict[str, dict[str, str]] = field(default_factory=dict)


def sheets(folder: str) -> list[Path]:
    """The messy sheets of a folder, in order."""
    return sorted((HERE / folder).glob("*.txt"))


def parse(path: Path) -> Messy:
    """A messy sheet as it is written down."""
    messy, tab, truth = Messy(path.stem), "", False
    for line in path.read_text(encoding="utf-8").splitlines():
        word, _, rest = line.partition(": ")
        if truth and line.strip():
            place, says = line.split(" ", 1)
            messy.truth[place] = _says(says)
        elif line == "truth:":
            truth = True
        elif word in ("about", "file") and not tab:
            setattr(messy, word, rest)
        elif word == "tab":
            tab, messy.tabs[rest], messy.merges[rest] = rest, [], []
        elif word == "merge":
            messy.merges[tab].append(rest)
        elif tab and line.strip():
            messy.tabs[tab].append([] if line == "." else [cell.strip() for cell in line.split("|")])
    return messy


def _says(text: str) -> dict[str, str]:
    first, *fields = [piece.strip() for piece in text.split(";")]
    return {"kind": first, **dict(piece.split("=", 1) for piece in fields if piece)}


def build(messy: Messy, folder: Path) -> Path:
    """The file of a messy sheet."""
    kind, *more = messy.file.split()
    path = folder / f"{messy.name}.{kind}"
    if kind == "csv":
        encoding, separator = more
        with path.open("w", encoding=encoding, newline="") as file:
            writer = csv.writer(file, delimiter=separator)
            for row in next(iter(messy.tabs.values())):
                writer.writerow([cell.removeprefix("'").replace("<br>", "\n") for cell in row])
        return path
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    for tab, rows in messy.tabs.items():
        sheet = workbook.create_sheet(tab)
        for number, row in enumerate(rows, start=1):
            for column, cell in enumerate(row, start=1):
                sheet.cell(number, column).value = _value(cell)
        for merge in messy.merges[tab]:
            sheet.merge_cells(merge)
    workbook.save(path)
    return path


def _value(cell: str) -> Any:
    if cell in ("TRUE", "FALSE"):
        return cell == "TRUE"
    if cell == "=F":
        return "=1+1"
    if re.fullmatch(r"D\d{4}-\d\d-\d\d", cell):
        return datetime.fromisoformat(cell[1:])
    if re.fullmatch(r"-?\d+", cell):
        return int(cell)
    if re.fullmatch(r"-?\d+\.\d+", cell):
        return float(cell)
    return cell.removeprefix("'").replace("<br>", "\n") or None


class Read(NamedTuple):
    """A messy sheet, the cells of its file, and what the guesser makes of them, nobody having answered anything."""

    messy: Messy
    grids: Sequence[Grid]
    found: Understanding


@cache
def read(path: Path) -> Read:
    """Built and read once, for all that is asked of it."""
    messy = parse(path)
    with TemporaryDirectory() as folder:
        grids = read_grids([build(messy, Path(folder))])
    return Read(messy, grids, understand(grids, {}, TODAY))


@dataclass(slots=True)
class Score:
    """cells, understood (shares of them), asked (questions); right, shaded_wrong, wrong (fields), and what is wrong."""

    name: str
    cells: int = 0
    understood: int = 0
    asked: int = 0
    fields: int = 0
    marked: int = 0
    marked_wrong: int = 0
    wrong: list[str] = field(default_factory=list)
    missed: list[str] = field(default_factory=list)

    def __add__(self, other: Score) -> Score:
        pairs = [(one, getattr(self, one) + getattr(other, one)) for one in _SUMMED]
        return Score(self.name, **dict(pairs))


_SUMMED = ("cells", "understood", "asked", "fields", "marked", "marked_wrong", "wrong", "missed")


def scored(path: Path) -> Score:
    """The guesses of a messy sheet held against its truth."""
    return score(read(path).messy, read(path).found)


def score(messy: Messy, found: Understanding) -> Score:
    """The guesses held against the truth, field by field."""
    result = Score(messy.name, found.cells, found.understood, len(found.questions))
    made: dict[str, Thing] = {}
    for one in [*found.things, *found.orders]:
        exact = one.anchor.ref
        made[exact if exact in messy.truth else f"{one.anchor.tab}!{one.anchor.row}"] = one
    open_rows = {
        f"{kept.cell.tab}!{kept.cell.row}"
        for kept in found.kept
        if kept.what in ("not understood", "heading not known")
    } | {f"{cell.tab}!{cell.row}" for cell in (*found.asking.asked_cells, *found.asking.waiting)}
    for place, says in messy.truth.items():
        thing = made.get(place)
        row = re.sub(r"![A-Z]+", "!", place)
        if says["kind"] in NOTHING:
            if thing is not None:
                result.wrong.append(f"{place}: no stock ({says['kind']}), taken as {_short(thing)}")
        elif thing is None:
            told = f"{place}: nothing made of it"
            (result.missed if row in open_rows else result.wrong).append(told)
        else:
            _compare(result, place, says, thing, row in open_rows)
    result.wrong += [
        f"{place}: not in the truth, taken as {_short(left)}"
        for place, left in made.items()
        if place not in messy.truth
    ]
    return result


def _compare(result: Score, place: str, says: dict[str, str], thing: Thing, row_is_open: bool) -> None:
    order = says["kind"] == "wish"
    for what in WISH if order else STOCK:
        truth, said = says.get(what, ""), thing.said.get(what)
        if what in ("paid", "asked", "quantity") and said and truth not in ("", "?"):
            truth = _same_number(truth, said.value)
        if not truth and said is None:
            continue
        result.fields += 1
        marked = said is not None and said.grade != "read"
        result.marked += marked
        if said is None:
            if truth != "?" and not truth.endswith("/"):
                (result.missed if row_is_open else result.wrong).append(f"{place}: {what} {truth} missed")
        elif (
            said.value.casefold() not in truth.casefold().split("/")
            and said.value.casefold() != truth.casefold()
        ):
            told = f"{place}: {what} “{said.value}”, truly “{truth}”"
            if marked:
                result.marked_wrong += "?" not in truth
            else:
                result.wrong.append(told)


def _same_number(truth: str, said: str) -> str:
    def same(one: str) -> bool:
        try:
            return float(one) == float(said)
        except ValueError:
            return False

    return said if any(map(same, truth.split("/"))) else truth


def _short(thing: Thing) -> str:
    def shown(said: Said | None) -> str:
        return said.value if said else "—"

    return " ".join(shown(thing.said.get(what)) for what in ("kind", "family", "name", "quantity"))


HEADS = ("cells", "understood", "asked", "fields", "marked", "missed", "wrong", "wrong, marked")


def table(scores: list[Score]) -> list[str]:
    """The table of a set of sheets: each and in all."""
    total = Score("in all")
    for one in scores:
        total = total + one
    return [
        "sheet".ljust(24) + "".join(head.rjust(len(head) + 2) for head in HEADS),
        *map(_line, [*scores, total]),
    ]


def _line(one: Score) -> str:
    share = f"{100 * one.understood / max(one.cells, 1):.1f} %"
    numbers = (
        one.cells,
        share,
        one.asked,
        one.fields,
        one.marked,
        len(one.missed),
        len(one.wrong),
        one.marked_wrong,
    )
    cells = [str(number).rjust(len(head) + 2) for head, number in zip(HEADS, numbers, strict=True)]
    return one.name.ljust(24) + "".join(cells)
