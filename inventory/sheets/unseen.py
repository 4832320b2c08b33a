"""What the rows of a workbook do not say of themselves: which of them are hidden, which cells are merged."""

from __future__ import annotations

import posixpath
import zipfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from inventory.errors import Place
from inventory.sheets.columns import fold_heading
from inventory.sheets.filled import FilledRow, FilledTab
from inventory.sheets.sources import MOST_ROWS, WORKBOOKS

MOST_BYTES = 64 << 20
"""A worksheet that unfolds to more is no form that went out to be filled."""


@dataclass(frozen=True, slots=True)
class Merged:
    """Merged cells: rows from 1, columns from 0, both ends belong to it."""

    name: str
    rows: tuple[int, int]
    columns: tuple[int, int]


@dataclass(slots=True)
class Unseen:
    """Hidden rows and merged cells of one tab."""

    hidden: set[int] = field(default_factory=set)
    merged: list[Merged] = field(default_factory=list)


def unseen(path: Path) -> dict[str, Unseen]:
    """By tab; nothing for files of other kinds and for what cannot be made out. Read the rows first: they are
    guarded against files that mean harm."""
    from xml.etree.ElementTree import ParseError  # only the class of the error

    if path.suffix.casefold() not in WORKBOOKS:
        return {}
    try:
        with zipfile.ZipFile(path) as archive:
            return {name: _look(archive, part) for name, part in _parts(archive)}
    except (zipfile.BadZipFile, KeyError, ParseError, OSError, ValueError, StopIteration, RuntimeError):
        return {}


def _parts(archive: zipfile.ZipFile) -> Iterator[tuple[str, str]]:
    """Every tab with its part of the archive (ECMA-376 part 1, 12.3.23 and part 2, 9.3)."""
    main = next(at for _, at, kind in _relations(archive, "_rels/.rels", "") if kind == "officeDocument")
    folder, name = posixpath.split(main)
    rels = {one: at for one, at, _ in _relations(archive, f"{folder}/_rels/{name}.rels".lstrip("/"), folder)}
    for element in _elements(archive, main):
        if _kind(element.tag) == "sheet":
            one = next(value for key, value in element.attrib.items() if _kind(key) == "id")
            if "worksheets/" in rels[one]:
                yield element.attrib["name"], rels[one]


def _relations(archive: zipfile.ZipFile, part: str, folder: str) -> Iterator[tuple[str, str, str]]:
    for element in _elements(archive, part):
        if _kind(element.tag) == "Relationship":
            at = posixpath.normpath(posixpath.join("/", folder, element.attrib["Target"])).lstrip("/")
            yield element.attrib["Id"], at, element.attrib["Type"].rpartition("/")[2]


def _look(archive: zipfile.ZipFile, part: str) -> Unseen:
    from openpyxl.utils.cell import range_boundaries

    found = Unseen()
    for element in _elements(archive, part):
        kind = _kind(element.tag)
        if kind == "row" and element.get("hidden") in ("1", "true"):
            found.hidden.add(int(element.attrib["r"]))
        elif kind == "mergeCell":
            name = element.attrib["ref"]
            left, top, right, bottom = range_boundaries(name)
            # whole rows or columns leave one end open: A:C, 3:4
            rows, columns = (top or 1, bottom or MOST_ROWS), ((left or 1) - 1, (right or 1) - 1)
            found.merged.append(Merged(name, rows, columns))
    return found


def _elements(archive: zipfile.ZipFile, part: str) -> Iterator[Any]:
    from defusedxml.ElementTree import iterparse

    if archive.getinfo(part).file_size > MOST_BYTES:
        raise ValueError(part)
    with archive.open(part) as stream:
        for _, element in iterparse(stream):
            yield element
            if _kind(element.tag) in ("row", "c"):
                element.clear()


def _kind(tag: str) -> str:
    return tag.rpartition("}")[2]


def check_unseen(path: Path, tabs: Sequence[FilledTab], fields: Sequence[str], announced: list[str]) -> None:
    """Say which filled rows are hidden, and refuse merged cells of which nobody can tell what they are said of.

    fields: headings that matter. A merge over two rows, or over two such columns, leaves it open which one is meant.
    """
    files: dict[str, dict[str, Unseen]] = {}
    for tab in tabs:
        if tab.file not in files:
            files[tab.file] = unseen(path / Path(tab.file).name if path.is_dir() else path)
        if tab.hidden:
            announced.append(f"{tab.file}, {tab.name}: the tab is hidden; it was read like the others.")
        found = files[tab.file].get(tab.name)
        if found is None:
            continue
        _announce(tab, found, announced)
        _refuse(tab, found, {fold_heading(name) for name in fields})


def _announce(tab: FilledTab, found: Unseen, announced: list[str]) -> None:
    rows = [row.number for row in tab.rows if row.number in found.hidden]
    if rows:
        which = f"row {rows[0]} is" if len(rows) == 1 else f"rows {', '.join(map(str, rows[:12]))} are"
        more = f" and {len(rows) - 12} more" if len(rows) > 12 else ""
        announced.append(f"{tab.file}, {tab.name}: {which} hidden{more}; they were read like the others.")


def _refuse(tab: FilledTab, found: Unseen, fields: set[str]) -> None:
    rows = {row.number: row for row in tab.rows}
    for merge in sorted(found.merged, key=lambda merge: (merge.rows, merge.columns)):
        row = rows.get(merge.rows[0])
        if row is not None:
            _refuse_one(tab, row, merge, fields)


def _refuse_one(tab: FilledTab, row: FilledRow, merge: Merged, fields: set[str]) -> None:
    first, last = merge.columns
    under = [at for at in range(first, min(last + 1, len(tab.headings))) if tab.headings[at] in fields]
    said = row.cells.get(tab.headings[first], "") if first < len(tab.headings) else ""
    many = merge.rows[1] > merge.rows[0]
    if said and under and (many or len(under) > 1):
        problem = (
            f"The cells {merge.name} are merged, so it is open which {'row' if many else 'column'} “{said[:40]}” is"
            " said of. Take the merge apart and write each value into its own cell."
        )
        heading = tab.titles[under[0]]
        row.problems.append(Place(tab.file, tab.name, row.number, heading, said[:120], problem))
