"""One room of writing functions: nobody else puts anything into a cell, a page's head, a link or a CSV file."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[2] / "inventory"
WRITERS = {"sheets/writing.py"}
FORMULAS = {"sheets/formulas.py"}
"""Where formulas are put, each given by the program's own code beside its result."""
FROM_BOOK = re.compile(r"\.create_sheet\(|\.worksheets\[")
HELD = {
    "value",
    "data_type",
    "hyperlink",
    "oddHeader",
    "oddFooter",
    "evenHeader",
    "evenFooter",
    "firstHeader",
}
CALLED = {"csv.writer", "csv.DictWriter", "to_excel", "to_csv", "write_only", "ExcelWriter"}
LAST = {one.rpartition(".")[2] for one in CALLED}

WORDS = re.compile(
    "|".join((*(rf"\.{one}\b" for one in HELD), *LAST, r"\.cell\(", "Worksheet", FROM_BOOK.pattern))
)
"""One of these stands in every module that could be at fault: most need not be read as code."""


def faults(source: str) -> list[str]:
    """What a module does that only the writers may. A worksheet is known by its annotation or where it comes from."""
    found: list[str] = []
    if not WORDS.search(source):
        return found
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FunctionDef):
            found += _in_function(node, of_book=FROM_BOOK.search(source) is not None)
        if isinstance(node, ast.Assign | ast.AugAssign | ast.AnnAssign):
            found += [f".{name} =" for name in _assigned(node) if name in HELD]
        if isinstance(node, ast.Attribute) and node.attr in HELD and node.attr.endswith(("Header", "Footer")):
            found.append(node.attr)
        if isinstance(node, ast.Call):
            last = _last(node.func)
            if last in LAST:
                called = ast.unparse(node.func)
                found += [one for one in CALLED if called == one or called.endswith(f".{one}")]
            if (
                last == "cell"
                and isinstance(node.func, ast.Attribute)
                and (len(node.args) > 2 or any(one.arg == "value" for one in node.keywords))
            ):
                found.append(".cell(value)")
    return sorted(set(found))


def _last(called: ast.expr) -> str:
    """The last word of what is called."""
    return called.attr if isinstance(called, ast.Attribute) else getattr(called, "id", "")


def _assigned(node: ast.Assign | ast.AugAssign | ast.AnnAssign) -> Iterator[str]:
    targets = node.targets if isinstance(node, ast.Assign) else [node.target]
    for target in targets:
        for one in target.elts if isinstance(target, ast.Tuple) else [target]:
            if isinstance(one, ast.Attribute) and ast.unparse(one.value) != "self":
                yield one.attr


def _in_function(function: ast.FunctionDef, *, of_book: bool) -> Iterator[str]:
    arguments = [*function.args.args, *function.args.kwonlyargs]
    sheets = {one.arg for one in arguments if one.annotation and "Worksheet" in ast.unparse(one.annotation)}
    for node in ast.walk(function) if of_book else ():  # in text again: spelling out a tree is slow
        if isinstance(node, ast.Assign) and FROM_BOOK.search(ast.unparse(node.value)):
            sheets |= {one.id for one in node.targets if isinstance(one, ast.Name)}
    for node in ast.walk(function) if sheets else ():
        if (
            isinstance(node, ast.Subscript)
            and isinstance(node.ctx, ast.Store)
            and _last(node.value) in sheets
        ):
            yield "sheet[…] ="
        if isinstance(node, ast.Call) and ast.unparse(node.func) in {f"{one}.append" for one in sheets}:
            yield "sheet.append"


def test_nobody_writes_past_the_writers() -> None:
    """A new sheet goes through `put`, `heading`, `page_head`, `link` and `write_csv`, or its text could run."""
    paths = {path.relative_to(PACKAGE).as_posix(): path for path in PACKAGE.rglob("*.py")}
    found = {
        name: faults(path.read_text(encoding="utf-8"))
        for name, path in paths.items()
        if name not in WRITERS or name in FORMULAS
    }
    assert {name: each for name, each in found.items() if each} == {name: [".value ="] for name in FORMULAS}


PLANTED = [
    ("cell.value = name", [".value ="]),
    ("sheet.cell(1, 2).value = name", [".value ="]),
    ("sheet.cell(1, 2, name)", [".cell(value)"]),
    ("sheet.cell(1, 2, value=name)", [".cell(value)"]),
    ("def f(sheet: Worksheet):\n    sheet['A1'] = name", ["sheet[…] ="]),
    ("def f(book):\n    tab = book.create_sheet('x')\n    tab.append([name])", ["sheet.append"]),
    ("csv.writer(file).writerow([name])", ["csv.writer"]),
    ("head = sheet.oddHeader", ["oddHeader"]),
    ("cell.hyperlink = name", [".hyperlink ="]),
    ("frame.to_excel(path)", ["to_excel"]),
    ("self.value = 3", []),
    ("rows.append([name])", []),
]


@pytest.mark.parametrize(("source", "found"), PLANTED)
def test_planted_writers_are_caught(source: str, found: list[str]) -> None:
    """Wherever they hide; what is no sheet is left alone."""
    assert faults(source) == found
