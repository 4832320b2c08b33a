"""The scenes that `frozen.py` keeps: a walk through the invented shop, its sheets, and hostile ones."""

from __future__ import annotations

import contextlib
import csv
import io
import os
import re
import shutil
from collections.abc import Iterator, Sequence
from pathlib import Path
from random import Random
from typing import Any

import demo
from environment import ROOT

from inventory.cli.app import make_app
from inventory.cli.edge import run

ORDERS = ("S41", "S42", "S43", "S44", "S45", "S46")
DUNLIN = (
    *("can-take", "Dunlin pen", "--plating", "chrome", "--blank", "walnut blank"),
    *("--count", "5", "--by", "2026-12-20"),
)
LOOKS: tuple[tuple[str, ...], ...] = (
    ("shelf",),
    ("shelf", "--low"),
    ("shelf", "--kind", "kits", "--family", "Dunlin"),
    ("shelf", "--drill", "27/64"),
    ("fits", "Curlew"),
    ("fits", "Dunlin"),
    ("trace", "walnut blank"),
    ("trace", "CA medium"),
    ("orders",),
    *(("can-take", "--order", name) for name in ORDERS),
    DUNLIN,
    ("shopping",),
    ("shopping", "--late"),
    ("shopping", "--budget", "60"),
    ("shopping", "--until", "2027-02-01"),
    ("due-in",),
    ("plan", "--on", "2026-12-05"),
    ("rates",),
    ("losses",),
    ("verify",),
)
"""Commands that only look, asked at every station."""
NARROW, USUAL, WIDE = 40, 80, 120
"""Columns of the terminals every screen is kept for."""
MORE_LOOKS: tuple[tuple[str, ...], ...] = (
    ("entries",),
    ("hours",),
    ("guide",),
    ("columns",),
    ("orders", "S42"),
    ("orders", "--within", "3w"),
    *(("can-take", "--order", "S42", door) for door in ("--all", "--why", "--safety")),
    ("can-take", "--sheet", "sample_stock/orders.csv"),
    ("--help",),
    ("can-take", "--help"),
)
"""Looked at by width only."""
STATIONS = frozenset(
    at
    for at, step in enumerate(demo.WALK)
    if step.words[0] in ("load", "placed") or step.words[:2] in (("promise", "S42"), ("weekend", "book"))
)
"""Steps of the walk after which everything is looked at."""
WRONG: tuple[tuple[str, ...], ...] = (
    ("shelv",),
    ("can-take", "--order", "S99"),
    ("can-take", "Dunlin pen", "--plating", "silver", "--blank", "walnut blank", "--count", "2"),
    ("can-take", "Dunlin pen", "--plating", "chrome", "--blank", "wallnut", "--count", "2", "--by", "soon"),
    ("fits", "Dunlim"),
    ("undo", "99", "--yes"),
    ("load", "nowhere.xlsx", "--yes"),
    ("promise", "S99", "--yes"),
    ("arrived", "tube 7 x 53", "--supplier", "Nobody", "--quantity", "3", "--yes"),
    ("plan", "--on", "yesterday"),
    ("restore", "nowhere.kitdrawer"),
)
"""Commands that are refused."""
FRIENDS = (
    *("promise", "Friends", "-m", "Curlew capped pen", "-p", "chrome", "-b", "walnut blank", "--count", "2"),
    *("--by", "2026-12-19", "--price", "75"),
)
"""A cheap order that takes the last kits of dearer ones."""
BEHIND: tuple[tuple[str, ...], ...] = (
    ("levels",),
    ("levels", "Dunlin kit chrome", "--json"),
    ("levels", "--before", "harbour market"),
    ("levels", "--before", "harbour market", "--json"),
    ("levels", "--keeping"),
    ("levels", "--keeping", "--all"),
    ("market",),
    ("shopping",),
    ("shopping", "--why"),
    ("rehearse", "--futures", "500"),
    ("earned",),
    (*FRIENDS, "--yes"),
    ("undo", "--yes"),
    (*FRIENDS, "--json"),
)
"""What is asked of the book with two years behind it."""
WRITES: tuple[tuple[str, ...], ...] = (
    ("columns", "--save", "start.xlsx"),
    ("shopping", "--save", "list.xlsx"),
    ("shopping", "--save", "list"),
    ("due-in", "--save", "parcel.xlsx"),
    ("due-in", "--save", "parcel"),
    ("count", "sheet", "--save", "count.xlsx"),
    ("count", "sheet", "--few", "7", "--save", "few.csv", "--with-figures"),
)
"""Commands that save a sheet and book nothing."""
OF_THE_MOMENT = (
    (re.compile(r"/\S*kitdrawer-frozen-\w+"), "FOLDER"),
    (re.compile(r'"seconds": [0-9.]+'), '"seconds": FEW'),
    (re.compile(r"\b[0-9a-f]{12}\b"), "MARK"),
    (re.compile(r"\b\d\d:\d\d(:\d\d)?\b"), "TIME"),
)
"""What differs from run to run, and what stands for it."""


def everything(folder: Path) -> dict[str, str]:
    """Each file that is kept, by name, as text."""
    shutil.copytree(ROOT / "sample_stock", folder / "sample_stock")
    os.chdir(folder)  # every path said is a short one
    os.environ.update(KITDRAWER_TODAY=demo.TODAY, KITDRAWER_STORE="shop.kitdrawer", COLUMNS="80")
    found = {**walk(Path()), **refusals(Path()), **two_years_on(Path())}
    os.chdir(ROOT)
    return {name: _settled(text) for name, text in found.items()}


def _settled(text: str) -> str:
    for pattern, instead in OF_THE_MOMENT:
        text = pattern.sub(instead, text)
    return text


def walk(folder: Path) -> dict[str, str]:
    """The demo's walk: its screens, and at each station what everything says and writes."""
    found, said = {"columns": _both((("columns",), *((("columns", "counts"),))))}, []
    for at, step in enumerate(demo.WALK):
        demo.fill(folder / "saturday", step.written)
        words = [word.format(folder=folder) for word in step.words]
        report = folder / f"report{at}.xlsx"
        extra = ["--save", str(report)] if step.words[:2] == ("weekend", "book") else []
        said.append(_told([*words, *extra]))
        if step.words[:2] == ("weekend", "sheet"):
            _told(["weekend", "sheet", "--save", str(folder / "bench.xlsx")])
            found["sheet bench"] = _sheet(folder / "bench.xlsx") + _sheet(folder / "saturday")
        if report.exists():
            found[f"sheet report {at}"] = _sheet(report)
        if at in STATIONS:
            station = f"{at:02} {step.words[0]}"
            found[f"station {station}"] = _both(LOOKS)
            if "widths" not in found:
                found["widths"] = "".join(
                    at_width(words, width)
                    for words in (*LOOKS, *MORE_LOOKS)
                    for width in (NARROW, USUAL, WIDE)
                )
            found[f"sheets {station}"] = "".join(_written(folder, words) for words in WRITES)
    found["walk"] = "\n".join(said)
    found["wrong"] = _both(WRONG)
    return found


def two_years_on(folder: Path) -> dict[str, str]:
    """What looks back and ahead, in the book with two invented years behind it."""
    import two_years

    book = folder / "two_years.kitdrawer"
    two_years.make(book)
    os.environ["KITDRAWER_TODAY"] = demo.TODAY
    at = ("--store", str(book))
    return {"two years": "".join(_told([*words, *at]) for words in BEHIND)}


def at_width(words: Sequence[str], width: int) -> str:
    """What a command says on a terminal so wide."""
    before = os.environ["COLUMNS"]
    os.environ["COLUMNS"] = str(width)
    said = _told(words)
    os.environ["COLUMNS"] = before
    return f"[{width} columns] {said}"


def _written(folder: Path, words: Sequence[str]) -> str:
    place = folder / words[words.index("--save") + 1]
    if place.is_dir():
        shutil.rmtree(place)
    place.unlink(missing_ok=True)
    said = _told([str(place) if word == place.name else word for word in words])
    return said + (_sheet(place) if place.exists() else "")


def _both(commands: Sequence[Sequence[str]]) -> str:
    """Screen and JSON of each command."""
    return "\n".join(_told(words) + _told([*words, "--json"]) for words in commands)


def _told(words: Sequence[str]) -> str:
    """A command line run in this process: the line, its exit code, what it said."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = run(make_app(words), words)
    head = f"$ kitdrawer {' '.join(words)}\n[exit {code}]\n"
    return f"{head}{out.getvalue()}{'[stderr]' * bool(err.getvalue())}{err.getvalue()}\n"


def _sheet(place: Path) -> str:
    """Every cell of a workbook, a CSV file or a folder of them."""
    if place.is_dir():
        return "".join(_sheet(file) for file in sorted(place.glob("*.csv")))
    if place.suffix == ".csv":
        with place.open(encoding="utf-8-sig", newline="") as file:
            rows = [" | ".join(row) for row in csv.reader(file)]
        return "\n".join([f"## {place.name}", *rows, ""])
    return "\n".join([f"## {place.name}", *_workbook(place), ""])


def _workbook(place: Path) -> Iterator[str]:
    from openpyxl import load_workbook

    pages: list[Any] = load_workbook(place).worksheets  # what openpyxl keeps of charts has no public name
    for page in pages:
        yield f"# {page.title} [{page.sheet_state}] frozen {page.freeze_panes} prints {page.print_area or 'all'}"
        yield f"merged {sorted(map(str, page.merged_cells.ranges))} charts {len(page._charts)}"
        widths = {letter: round(one.width, 1) for letter, one in page.column_dimensions.items()}
        yield f"widths {widths}"
        for rule in page.data_validations.dataValidation:
            yield f"list {rule.sqref}: {rule.type} {rule.formula1}"
        for row in page.iter_rows():
            yield from (_cell(cell) for cell in row if cell.value is not None)


def _cell(cell: Any) -> str:
    more = "" if cell.number_format == "General" else f"  [{cell.number_format}]"
    link = f"  -> {cell.hyperlink.location or cell.hyperlink.target}" if cell.hyperlink else ""
    return f"{cell.coordinate} {cell.value!r}{more}{link}"


def refusals(folder: Path) -> dict[str, str]:
    """How every hostile sheet ends: refused with which words at which places, or loaded."""
    from hostile import running

    inner = folder / "hostile"
    inner.mkdir()
    os.environ["KITDRAWER_TODAY"] = running.TODAY
    empty = inner / "empty.kitdrawer"
    _told(["begin", "--store", str(empty)])
    told = []
    for name, kind in sorted(running.KINDS.items()):
        case = inner / name.replace(" ", "-")
        case.mkdir()
        store = case / "book.kitdrawer"
        shutil.copy(empty, store)
        (case / "case").mkdir()
        path = kind.write(Random(f"{name} 0"), case / "case")
        told.append(_told(["load", str(path), "--yes", "--json", "--store", str(store)]))
    os.environ["KITDRAWER_TODAY"] = demo.TODAY
    return {"refusals": "\n".join(told)}
