"""Sheets that come back filled are strangers too: whatever they are, each command refuses or reads them."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from hostile.books import Book, pack
from openpyxl import load_workbook
from sheets.on_pages import place

from .conftest import Kitdrawer

COMMANDS = (("placed",), ("arrived",), ("weekend", "book"), ("count", "book"))


def cut_off(path: Path) -> None:
    """Half of it."""
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])


def bomb(path: Path) -> None:
    """A part more that unfolds to 200 times what it takes."""
    with zipfile.ZipFile(path, "a", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/worksheets/sheet99.xml", b" " * (40 << 20))


def entities(path: Path) -> None:
    """Laughs in the first tab."""
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    name = "xl/worksheets/sheet1.xml"
    parts[name] = b'<!DOCTYPE z [<!ENTITY a "ha">]>' + parts[name]
    pack(path, parts)


def of_something_else(path: Path) -> None:
    """Sound, and no sheet of ours."""
    pack(path, Book({"Sheet1": [["name", "age"], ["=1+1", 3]]}).parts())


def of_the_stock(path: Path) -> None:
    """Sound and ours, and not for this command."""
    pack(path, Book({"counts": [["part", "quantity"], ["walnut blank", 3]]}).parts())


REFUSED: dict[Callable[[Path], None], str] = {
    cut_off: "damaged or cut off",
    bomb: "unfolds to far more",
    entities: "XML entities",
    of_something_else: "",
    of_the_stock: "",
}


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_what_means_harm_is_refused(kitdrawer: Kitdrawer, store: Path, command: tuple[str, ...]) -> None:
    """With the reason, whatever the sheet was before; nothing is booked."""
    before = store.read_bytes()
    for spoil, words in REFUSED.items():
        path = store.parent / f"{spoil.__name__}.xlsx"
        pack(path, Book({"counts": [["part", "counted"], ["walnut blank", 3]]}).parts())
        spoil(path)
        answer = kitdrawer(*command, str(path), "--yes")
        assert answer.code == 1, (spoil, answer)
        said = " ".join(answer.err.split())
        assert words in said
        assert said.endswith(".")
        assert "Traceback" not in said
    assert store.read_bytes() == before


def test_macros_hidden_tabs_and_formulas_of_a_count(kitdrawer: Kitdrawer, store: Path) -> None:
    """Macros are left alone, a hidden tab is read and said, a formula without a result is refused at its cell."""
    path = store.parent / "count.xlsx"
    assert kitdrawer("count", "sheet", "--text", "walnut blank", "--save", str(path)).code == 0
    book = load_workbook(path)
    sheet, row, found = place(book, "counts", 2)
    sheet.cell(row, found["counted"], "=1+1")
    book.save(path)
    error = kitdrawer("count", "book", str(path), "--yes", "--json").json["error"]
    assert [(one["row"], one["column"]) for one in error["where"]] == [(row, "counted")]
    sheet.cell(row, found["counted"], 1)
    book.create_sheet("thoughts")
    sheet.sheet_state = "hidden"
    book.active = book.sheetnames.index("thoughts")
    book.save(path)
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr("xl/vbaProject.bin", b"x")
    told = kitdrawer("count", "book", str(path), "--json").json
    assert any("tab is hidden" in one for one in told["announced"])
    assert any("macros" in one for one in told["announced"])
