"""Nothing public that only tests call, and no module told of that is not there."""

from __future__ import annotations

import ast
import re
from collections import Counter
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent / "inventory"
ROOMS = "|".join(path.name for path in sorted(PACKAGE.iterdir()) if (path / "__init__.py").exists())

# Called by name or by a library: a command by the words somebody types, tables and migrations by theirs.
BY_NAME = ("cli/commands/", "store/schema/models/", "store/schema/migrations/")
KEPT = {
    "eoq": "how much of one part alone to order at a time, against published cases",
    "eoq_all_units": "the same with price breaks",
    "enough_normal": "what suffices against normal demand: likewise",
    "enough_whole": "the same of whole pieces",
    "reorder_point_cost": "what a level and a quantity cost: likewise",
    "reorder_point": "the best level for a quantity",
    "reorder_whole": "both, of whole pieces",
    "order_up_to": "both where stock is looked at once a period",
    "order_days": "what is wanted on known days: likewise",
    "open_book": "for a maker's own questions in Python, as the guide shows",
    "coerce": "typer asks the type of a value for it",
    "resolve_command": "typer asks a group for the command that is meant",
    "format_help": "typer asks a group for its help",
}


def defined(tree: ast.Module) -> list[ast.FunctionDef | ast.ClassDef]:
    """Functions and classes of a module, and methods and properties of its classes."""
    at_top = [node for node in tree.body if isinstance(node, ast.FunctionDef | ast.ClassDef)]
    inside = [
        node
        for one in at_top
        if isinstance(one, ast.ClassDef)
        for node in one.body
        if isinstance(node, ast.FunctionDef)
    ]
    return [node for node in (*at_top, *inside) if not node.name.startswith("__")]


def mentioned(tree: ast.AST) -> Counter[str]:
    """Names a piece of source loads, imports under another one, or takes as an attribute; texts may be looked up by."""
    found: Counter[str] = Counter()
    for node in ast.walk(tree):
        if isinstance(node, ast.Name):
            found[node.id] += 1
        elif isinstance(node, ast.Attribute):
            found[node.attr] += 1
        elif isinstance(node, ast.ImportFrom):
            found.update(alias.name for alias in node.names if alias.asname)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value.isidentifier():
            found[node.value] += 1
    return found


def unused(sources: dict[str, str]) -> set[str]:
    """Names defined in these modules that nothing in them mentions, recursion apart."""
    trees = {name: ast.parse(text) for name, text in sources.items()}
    everywhere: Counter[str] = Counter()
    for tree in trees.values():
        everywhere.update(mentioned(tree))
    return {
        node.name
        for name, tree in trees.items()
        if not name.startswith(BY_NAME)
        for node in defined(tree)
        if everywhere[node.name] == mentioned(node)[node.name]
    }


def test_nothing_is_there_for_tests_alone() -> None:
    """Every function, class and method is used by the program itself, but for those named with their reason."""
    sources = {
        path.relative_to(PACKAGE).as_posix(): path.read_text(encoding="utf-8")
        for path in sorted(PACKAGE.rglob("*.py"))
    }
    assert unused(sources) == set(KEPT)


def test_planted_leftovers_are_found() -> None:
    """A function nobody calls, one that calls only itself, a property nobody reads; not what has another name there."""
    here = {
        "a.py": "def f(): ...\ndef g(): g()\ndef h(): ...\n"
        "class C:\n  @property\n  def p(self): ...\n  def q(self): ...\n",
        "b.py": "from inventory.a import C, h as other\nC().q()\nother()\nfrom inventory.a import f\n",
        "cli/commands/shelf.py": "def shelf(): ...\n",
    }
    assert unused(here) == {"f", "g", "p"}


def told_of() -> set[tuple[str, str]]:
    """Modules named in backticks with their room, in our own sources: where, and what."""
    found = set()
    for path in sorted(PACKAGE.rglob("*.py")):
        for name in re.findall(rf"`(?:inventory\.)?((?:{ROOMS})\.[\w.]+)`", path.read_text(encoding="utf-8")):
            found.add((path.relative_to(PACKAGE).as_posix(), name))
    return found


def exists(name: str) -> bool:
    """Whether a dotted name is a module or package, or a name in one."""
    place = PACKAGE / name.replace(".", "/")
    if place.is_dir() or place.with_suffix(".py").exists():
        return True
    owner = (
        place.parent.with_suffix(".py")
        if place.parent.with_suffix(".py").exists()
        else place.parent / "__init__.py"
    )
    return owner.exists() and place.name in re.findall(r"\w+", owner.read_text(encoding="utf-8"))


def test_modules_that_are_told_of_exist() -> None:
    """A docstring that sends the reader to another module names one there is."""
    assert exists("ledger.book")
    assert exists("making.losses")
    assert exists("ledger.book.Lot")
    assert not exists("ledger.nowhere")
    assert {told for told in told_of() if not exists(told[1])} == set()
