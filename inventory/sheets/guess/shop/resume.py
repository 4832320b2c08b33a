"""Going on with a `shop.xlsx`: the sheet it was made from, the answers given, and what was changed by hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from inventory.errors import Place
from inventory.sheets.files import NO_VALUE, Merge, RowValues, Source, SourceError, fold_heading
from inventory.sheets.guess.cells import Cell, Grid, merge_in
from inventory.sheets.guess.guesses import Said
from inventory.sheets.guess.shop.book import ASKED, CELLS, MINE, QUESTIONS
from inventory.sheets.guess.shop.lines import ShopTabs, TabLine, written
from inventory.sheets.sources import WORKBOOKS, open_sources
from inventory.sheets.stock.cells import text_of
from inventory.sheets.stock.columns import Tab
from inventory.sheets.stock.tabs import TABS
from inventory.sheets.xlsx.grid import column_number

YOURS = "your own word"


@dataclass(slots=True)
class Begun:
    """What a `shop.xlsx` holds. taken: the answers its tabs were made with; answers: it has; tabs: as they are."""

    grids: list[Grid] = field(default_factory=list)
    taken: dict[str, str] = field(default_factory=dict)
    answers: dict[str, str] = field(default_factory=dict)
    tabs: dict[str, list[dict[str, str]]] = field(default_factory=dict)


def begun_in(paths: Sequence[Path]) -> Begun | None:
    """What was begun in this one file, or None where it is no `shop.xlsx` of ours."""
    if len(paths) != 1 or paths[0].suffix.casefold() not in WORKBOOKS:
        return None
    ignored: list[Place] = []
    with ExitStack() as stack:
        sources = open_sources(paths, stack, ignored.append, lambda _: None)
        by_name = {source.tab: source for source in sources}
        if QUESTIONS not in by_name or MINE not in by_name:
            return None
        try:
            return _begun(by_name)
        except (
            SourceError,
            ValueError,
            KeyError,
        ):  # changed beyond reading: it is looked at like any other sheet
            return None


def _begun(by_name: Mapping[str, Source]) -> Begun:
    found = Begun()
    for row in _rows(by_name[QUESTIONS], ASKED):
        if row["key"]:
            found.answers[row["key"]] = row["your answer"]
            found.taken[row["key"]] = row["taken in"]
    found.answers = {key: answer for key, answer in found.answers.items() if answer}
    found.taken = {key: answer for key, answer in found.taken.items() if answer}
    found.grids = _grids(by_name[MINE])
    for tab in TABS.values():
        if tab.name in by_name:
            rows = _rows(by_name[tab.name], [one.key for one in tab.columns], tab)
            found.tabs[tab.name] = [row for row in rows if any(row.values())]
    return found


def _rows(source: Source, wanted: Sequence[str], tab: Tab | None = None) -> list[dict[str, str]]:
    """The rows of a tab by the headings wanted, as text; a heading that is not there is empty.

    tab: those wanted are the keys of its columns, which may stand there by any heading they ever had.
    """
    called = {name: ((one := tab.column(name)).heading, *one.once) if tab else (name,) for name in wanted}
    places: dict[str, int] = {}
    rows = []
    for raw in source.rows():
        if not places:
            places = {fold_heading(text_of(cell)): at for at, cell in enumerate(raw) if cell is not None}
            continue
        stands = {
            name: next((places[at] for one in names if (at := fold_heading(one)) in places), -1)
            for name, names in called.items()
        }
        rows.append({name: _at(raw, place) for name, place in stands.items()})
    return rows


def _at(raw: RowValues, place: int) -> str:
    return text_of(raw[place]) if 0 <= place < len(raw) and raw[place] is not None else ""


def _grids(source: Source) -> list[Grid]:
    grids: dict[tuple[str, str], Grid] = {}
    merges: list[tuple[Grid, str]] = []
    for row in _rows(source, CELLS):
        grid = grids.setdefault((row["file"], row["tab"]), Grid(row["file"], row["tab"]))
        if row["sort"] == "merged":
            merges.append((grid, row["cell"]))
        elif row["cell"]:
            column = column_number(row["cell"].rstrip("0123456789"))
            number = int(row["cell"].lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"))
            raw, said = _raw(row["what it says"], row["sort"]), row["what it says"]
            grid.rows.setdefault(number, {})[column] = Cell(row["tab"], number, column, raw, said)
    for grid, name in merges:
        first, _, last = name.partition(":")
        rows = (_number(first), _number(last))
        merge_in(grid, Merge(name, rows, (_column(first), _column(last))))
    return list(grids.values())


def _number(place: str) -> int:
    return int(place.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"))


def _column(place: str) -> int:
    return column_number(place.rstrip("0123456789"))


def _raw(text: str, sort: str) -> object:
    if sort == "formula":
        return NO_VALUE
    if sort == "truth":
        return text == "yes"
    if sort == "date":
        return datetime.fromisoformat(text)
    if sort == "number":
        return _numeral(text)
    return text


def _numeral(text: str) -> object:
    try:
        return float(text) if "." in text else int(text)
    except ValueError:
        return text


def keep_changes(shop: ShopTabs, before: ShopTabs, tabs: Mapping[str, Sequence[Mapping[str, str]]]) -> int:
    """Put into `shop` what was changed by hand since `before` was written; the number of cells and rows changed.

    Rows are known again by what names them. A row that was not in `before` is kept as it is; one that is no longer in
    the file is left out.
    """
    changed = 0
    for tab, rows in tabs.items():
        old = {_name(tab, _texts(line, tab)): line for line in before.lines.get(tab, [])}
        new = {_name(tab, _texts(line, tab)): line for line in shop.lines.get(tab, [])}
        seen = set()
        for row in rows:
            name = _name(tab, row)
            seen.add(name)
            if name not in old:
                changed += 1
                shop.lines.setdefault(tab, []).append(
                    TabLine({column: Said(text, "read", YOURS) for column, text in row.items() if text})
                )
                continue
            changed += _cells(new.get(name), _texts(old[name], tab), row)
        gone = {id(new[name]) for name in old if name not in seen and name in new}
        changed += len(gone)
        if gone:
            shop.lines[tab] = [line for line in shop.lines[tab] if id(line) not in gone]
    return changed


def _cells(line: TabLine | None, old: Mapping[str, str], row: Mapping[str, str]) -> int:
    changed = 0
    for column, text in row.items():
        if text != old.get(column, "") and line is not None:
            changed += 1
            if text:
                line.cells[column] = Said(text, "read", YOURS)
            else:
                line.cells.pop(column, None)
    return changed


def _texts(line: TabLine, tab: str) -> dict[str, str]:
    return {column: text_of(written(said, tab, column)) for column, said in line.cells.items()}


_NAMED_BY = {
    "offers": ("supplier", "part", "pack", "from packs"), "barrels": ("family", "barrel"), "counts": ("part", "lot"),
    "bills": ("pattern", "stage", "part", "per"),
}  # fmt: skip


def _name(tab: str, row: Mapping[str, str]) -> tuple[str, ...]:
    return tuple(
        row.get(column, "").casefold() for column in _NAMED_BY.get(tab, (TABS[tab].columns[0].heading,))
    )


def untaken(source: Source) -> list[tuple[int, str]]:
    """Answers in a tab of questions that its workbook's other tabs were not made with: row and answer."""
    return [
        (number, row["your answer"])
        for number, row in enumerate(_rows(source, ASKED), start=2)
        if row["your answer"] and row["your answer"] != row["taken in"]
    ]


def still_open(source: Source) -> int:
    """How many questions of a tab have no answer."""
    return sum(not row["your answer"] for row in _rows(source, ASKED) if row["about"])
