"""The rooms of the program, and who may know whom: every import in `inventory/` is held against one table."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "inventory"

BELOW_JOBS = {"errors", "measures", "catalogue", "ledger", "making", "buying", "planning"}
ARROWS: dict[str, set[str]] = {
    "errors": set(),
    "leftovers": set(),
    "solving": set(),
    "guide": set(),
    "measures": {"errors"},
    "catalogue": {"errors", "measures"},
    "ledger": {"errors", "measures", "catalogue"},
    "making": {"errors", "measures", "catalogue", "ledger", "solving"},
    "buying": {"errors", "measures", "catalogue", "ledger", "solving"},
    "planning": {"errors", "measures", "catalogue", "ledger", "solving"},
    "reports": BELOW_JOBS,
    "jobs": {*BELOW_JOBS, "reports"},
    "store": {*BELOW_JOBS, "leftovers"},
    "sheets": {*BELOW_JOBS, "reports", "leftovers"},
    "pages": {"measures", "reports"},
    "models": {"store"},
    "asking": {*BELOW_JOBS, "jobs", "reports", "store"},
    "": {"asking"},
    "cli": {*BELOW_JOBS, "jobs", "reports", "store", "sheets", "pages", "leftovers", "guide"},
}
PURE = {*BELOW_JOBS, "jobs", "reports"}

# Distributions beyond the standard library, room by room.
LIBRARIES: dict[str, set[str]] = {
    "making": {"numpy", "scipy"},
    "buying": {"numpy", "scipy"},
    "planning": {"numpy", "scipy"},
    "store": {"sqlmodel", "sqlalchemy", "alembic", "platformdirs", "psycopg"},
    "sheets": {"openpyxl", "defusedxml"},
    "pages": {"jinja2", "markupsafe", "drawsvg", "segno"},
    "jobs": {"pandas"},
    "asking": {"pandas", "sqlmodel"},
    "cli": {"typer", "rich", "platformdirs"},
}

# Each costs from a tenth of a second upwards, so it loads inside the call that needs it …
HEAVY = {"numpy", "scipy", "pandas", "openpyxl", "alembic", "rich", "psycopg", "jinja2", "drawsvg", "segno"}
# … but where a module is itself only loaded by such a call.
HEAVY_AT_HOME = {"alembic": "inventory.store.schema.migrations", "rich": "inventory.cli.render"}

CLOCKS = {("date", "today"), ("datetime", "today"), ("datetime", "now"), ("datetime", "utcnow")}
FILE_CALLS = {"open", "read_text", "read_bytes", "write_text", "write_bytes"}
# A search with a time limit needs a stopwatch, which tells no time of day.
STOPWATCH = {
    f"inventory.buying.{name}"
    for name in ("optimise", "budget.choose", "search.tree", "search.whole_numbers")
}
WORLD = {"time", "os", "subprocess", "socket", "sqlite3", "tempfile", "shutil", "logging"}


@dataclass(frozen=True)
class Import:
    """One imported module; whether it loads with the module, and whether only type checkers see it."""

    module: str
    at_load: bool
    typing_only: bool


def module_name(path: Path) -> str:
    """`inventory/ledger/book.py` as `inventory.ledger.book`; a package keeps its `__init__`."""
    return ".".join(path.relative_to(ROOT).with_suffix("").parts)


def room_of(module: str) -> str:
    """The room a module lives in; empty for the package's own `__init__`."""
    parts = module.split(".")
    return parts[1] if len(parts) > 1 and parts[1] != "__init__" else ""


SMALL = (
    ast.expr_context,
    ast.operator,
    ast.unaryop,
    ast.cmpop,
    ast.boolop,
    ast.Name,
    ast.Constant,
    ast.arg,
    ast.alias,
)
"""What holds no import, of which most of a tree is made."""


def imports(tree: ast.AST, module: str, *, lazy: bool = False, typing: bool = False) -> Iterator[Import]:
    """Every import below `tree`, those inside functions and type-checking blocks too."""
    for node in ast.iter_child_nodes(tree):
        for name in _named(node, module):
            yield Import(name, at_load=not lazy and not typing, typing_only=typing)
        if isinstance(node, SMALL):
            continue
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test):
            for part, only in ((node.body, True), (node.orelse, typing)):
                yield from imports(ast.Module(part, []), module, lazy=lazy, typing=only)
            continue
        inside = isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda)
        yield from imports(node, module, lazy=lazy or inside, typing=typing)


def _named(node: ast.AST, module: str) -> list[str]:
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if isinstance(node, ast.ImportFrom):
        base = ".".join(module.split(".")[: -node.level]) if node.level else ""
        whole = ".".join(bit for bit in (base, node.module or "") if bit)
        if whole == "inventory":  # `from inventory import store` names a room, `__version__` does not
            return [f"inventory.{alias.name}" for alias in node.names if not alias.name.startswith("__")]
        return [whole]
    if isinstance(node, ast.Call) and _last(node.func) in {"import_module", "__import__"}:
        return [_spelled(node.args[0], module)]
    return []


def _last(called: ast.expr) -> str:
    """The last word of what is called."""
    return called.attr if isinstance(called, ast.Attribute) else getattr(called, "id", "")


def _spelled(argument: ast.expr, module: str) -> str:
    """The name a dynamic import spells, as far as it is written out; `__name__` is the module itself."""
    first = argument.values[0] if isinstance(argument, ast.JoinedStr) else argument
    if isinstance(first, ast.FormattedValue) and ast.unparse(first.value) == "__name__":
        return module.removesuffix(".__init__")
    if isinstance(first, ast.Constant) and isinstance(first.value, str):
        return first.value.rstrip(".")
    return "?"


@cache
def parsed(source: str) -> ast.Module:
    """Several tests look at the same modules."""
    return ast.parse(source)


@cache
def imported(module: str, source: str) -> tuple[Import, ...]:
    """Every import of a module."""
    return tuple(imports(parsed(source), module))


def arrow_faults(module: str, source: str) -> list[str]:
    """What `module` imports and may not."""
    room = room_of(module)
    faults = []
    for one in imported(module, source):
        top, at = one.module.split(".")[0], one.module
        if top == "inventory":
            if room_of(at) not in {room, "", *ARROWS.get(room, set())}:
                faults.append(f"{room} may not know {room_of(at)}")
        elif top not in sys.stdlib_module_names:
            if top not in LIBRARIES.get(room, set()):
                faults.append(f"{room} may not use {top}")
            at_home = module.startswith(HEAVY_AT_HOME.get(top, "nowhere"))
            if top in HEAVY and one.at_load and not at_home:
                faults.append(f"{top} is heavy and loads with {module}")
    return faults


def purity_faults(module: str, source: str) -> list[str]:
    """What a pure room does and may not: print, read the clock, touch files or the machine, keep state."""
    if room_of(module) not in PURE:
        return []
    tree = parsed(source)
    world = WORLD - {"time"} if module in STOPWATCH else WORLD
    faults = [f"imports {one.module}" for one in imported(module, source) if one.module in world]
    for node in ast.walk(tree):
        if isinstance(node, ast.Global):
            faults.append(f"global {', '.join(node.names)}")
        if isinstance(node, ast.Call):
            faults += _call_faults(node.func, tables=".tables." in module)
    return faults


def _call_faults(called: ast.expr, *, tables: bool) -> list[str]:
    if _last(called) not in {"print", "input", *FILE_CALLS, *(last for _, last in CLOCKS)}:
        return []
    words = ast.unparse(called).split(".")
    if words[-1] in {"print", "input"} and len(words) == 1:
        return [f"{words[0]}()"]
    if tuple(words[-2:]) in CLOCKS:
        return ["reads the clock"]
    if words[-1] in FILE_CALLS and not tables:
        return [f"{words[-1]}() outside a folder of tables"]
    return []


MODULES = {module_name(path): path for path in sorted(PACKAGE.rglob("*.py"))}


def test_every_import_follows_an_arrow() -> None:
    """A module imports only its own room, the rooms its arrows reach and the libraries its room may use."""
    found = {
        module: arrow_faults(module, path.read_text(encoding="utf-8")) for module, path in MODULES.items()
    }
    assert {module: faults for module, faults in found.items() if faults} == {}


def test_pure_rooms_touch_nothing() -> None:
    """A pure room neither prints nor reads the clock, and opens no file but its own tables."""
    found = {
        module: purity_faults(module, path.read_text(encoding="utf-8")) for module, path in MODULES.items()
    }
    assert {module: faults for module, faults in found.items() if faults} == {}


def test_every_room_has_its_arrows() -> None:
    """A new folder or module directly under the package is a room, and needs a row in the table."""
    assert {room_of(module) for module in MODULES} - {""} <= set(ARROWS)


def test_arrows_never_run_in_a_circle() -> None:
    """No room reaches itself, whatever way one walks."""
    reached = {room: set(direct) for room, direct in ARROWS.items()}
    for _ in ARROWS:
        reached = {room: far.union(*(reached[next_] for next_ in far)) for room, far in reached.items()}
    assert [room for room, far in reached.items() if room in far] == []


MOST_IN_A_ROOM = 15


def known_modules(module: str, source: str, modules: set[str]) -> set[str]:
    """The modules of the program that `module` imports, wherever in it; imports for type checkers alone left out."""
    found = {one.module for one in imported(module, source) if not one.typing_only}
    for node in ast.walk(
        parsed(source)
    ):  # `from package import module` names the package; what is meant is the module
        if isinstance(node, ast.ImportFrom):
            found |= {f"{base}.{alias.name}" for base in _named(node, module) for alias in node.names}
    typing = {one.module for one in imported(module, source) if one.typing_only}
    return {name for name in found - typing if name in modules} - {module, module.removesuffix(".__init__")}


def circles(sources: dict[str, str]) -> set[frozenset[str]]:
    """Sets of modules that all reach one another by imports, those inside functions too (R. Tarjan, 1972).

    Names are without `inventory.`; a package's own `__init__` counts as the package.
    """
    named = {name.removesuffix(".__init__"): source for name, source in sources.items()}
    inside = {name: name + ".__init__" if name + ".__init__" in sources else name for name in named}
    ahead = {name: known_modules(inside[name], source, set(named)) for name, source in named.items()}
    while ends := {name for name, to in ahead.items() if not to}:  # what leads nowhere is in no circle
        ahead = {name: to - ends for name, to in ahead.items() if name not in ends}
    reach = {name: _reached(name, ahead) for name in ahead}
    found = {frozenset(far for far in reach[name] if name in reach[far]) for name in ahead}
    return {frozenset(one.removeprefix("inventory.") for one in circle) for circle in found if circle}


def _reached(start: str, ahead: dict[str, set[str]]) -> set[str]:
    """Every module that one gets to from `start` by one import or more."""
    reached: set[str] = set()
    to_do = list(ahead[start])
    while to_do:
        module = to_do.pop()
        if module not in reached:
            reached.add(module)
            to_do += ahead[module]
    return reached


def test_no_circle_of_modules() -> None:
    """No module imports itself by way of others, not even inside its functions."""
    found = circles({module: path.read_text(encoding="utf-8") for module, path in MODULES.items()})
    assert found == set()


@pytest.mark.parametrize(
    ("sources", "found"),
    [
        ({"a": "from inventory.b import x", "b": "from inventory.a import y"}, {frozenset("ab")}),
        ({"a": "def f():\n    from inventory.b import x", "b": "from inventory import a"}, {frozenset("ab")}),
        (
            {
                "a": "import inventory.b.c",
                "b.__init__": "",
                "b.c": "from . import d",
                "b.d": "from ..a import x",
            },
            {frozenset({"a", "b.c", "b.d"})},
        ),
        ({"a": "if TYPE_CHECKING:\n    from inventory.b import x", "b": "from inventory.a import y"}, set()),
        ({"a": "from inventory.b import x", "b": "", "c": "from inventory import a, b"}, set()),
    ],
)
def test_planted_circles_are_found(sources: dict[str, str], found: set[frozenset[str]]) -> None:
    """The search sees sub-packages and imports inside functions; what only a type checker reads is no import."""
    assert circles({f"inventory.{name}": source for name, source in sources.items()}) == found


def test_no_room_is_a_hall() -> None:
    """A folder holds so few modules that one can look through them; what is crowded still is named."""
    rooms: dict[str, int] = {}
    for path in MODULES.values():
        if path.name != "__init__.py":
            room = path.parent.relative_to(ROOT).as_posix()
            rooms[room] = rooms.get(room, 0) + 1
    assert [room for room, many in rooms.items() if many > MOST_IN_A_ROOM] == []


PLANTED_ARROWS = [
    ("ledger.x", "import inventory.store", "ledger may not know store"),
    ("ledger.x", "from inventory import store", "ledger may not know store"),
    ("ledger.x", "from ..store import tables", "ledger may not know store"),
    ("ledger.__init__", "from ..jobs import shelf", "ledger may not know jobs"),
    ("store.x", "def f():\n    from inventory.sheets.read import y", "store may not know sheets"),
    ("store.x", "from inventory.jobs import shelf", "store may not know jobs"),
    ("errors", "from inventory.measures import Length", "errors may not know measures"),
    ("making.x", "if TYPE_CHECKING:\n    from inventory.buying import y", "making may not know buying"),
    ("catalogue.x", "import_module(f'inventory.ledger.{name}')", "catalogue may not know ledger"),
    ("catalogue.x", "importlib.import_module(name)", "catalogue may not use ?"),
    ("jobs.x", "def f():\n    import sqlmodel", "jobs may not use sqlmodel"),
    ("sheets.x", "import openpyxl", "openpyxl is heavy and loads with inventory.sheets.x"),
    ("making.x", "try:\n    import numpy\nfinally: ...", "numpy is heavy and loads with inventory.making.x"),
    ("making.x", "class A:\n    from scipy import c", "scipy is heavy and loads with inventory.making.x"),
    ("asking.x", "import pandas", "pandas is heavy and loads with inventory.asking.x"),
    ("cli.x", "from rich.table import Table", "rich is heavy and loads with inventory.cli.x"),
]


@pytest.mark.parametrize(("module", "source", "fault"), PLANTED_ARROWS)
def test_planted_arrows_are_caught(module: str, source: str, fault: str) -> None:
    """The checker finds a wrong import wherever it hides."""
    assert arrow_faults(f"inventory.{module}", source) == [fault]


@pytest.mark.parametrize(
    ("module", "source"),
    [
        ("inventory.sheets.x", "def f():\n    import openpyxl"),
        (
            "inventory.asking.x",
            "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import pandas as pd",
        ),
        ("inventory.store.schema.migrations.versions.one", "from alembic import op"),
        ("inventory.store.x", "from inventory import __version__"),
        ("inventory.cli.render.tables", "from rich.table import Table"),
        ("inventory.jobs.x", "import math\nfrom inventory.making import joint_probability\nfrom . import y"),
        ("inventory.measures.__init__", "import_module(f'inventory.measures.{name}')"),
        ("inventory.measures.__init__", "import_module(f'{__name__}.{name}')"),
    ],
)
def test_allowed_imports_pass(module: str, source: str) -> None:
    """The checker lets through what the table allows."""
    assert arrow_faults(module, source) == []


@pytest.mark.parametrize(
    ("source", "faults"),
    [
        ("print('x')", ["print()"]),
        ("def f(): input()", ["input()"]),
        ("date.today()", ["reads the clock"]),
        ("import datetime\nx = datetime.datetime.now(tz)", ["reads the clock"]),
        ("import time", ["imports time"]),
        ("open('x')", ["open() outside a folder of tables"]),
        ("Path('x').write_text('y')", ["write_text() outside a folder of tables"]),
        ("def f():\n    global seen", ["global seen"]),
        ("shop.today", []),
    ],
)
def test_planted_impurities_are_caught(source: str, faults: list[str]) -> None:
    """The checker finds printing, clocks and files in a pure room, and leaves other rooms alone."""
    assert purity_faults("inventory.ledger.x", source) == faults
    assert purity_faults("inventory.cli.x", source) == []


def test_the_command_starts_light() -> None:
    """Importing the whole command line loads none of the heavy libraries (their cost is seconds in sum)."""
    asked = "import sys; from inventory.cli import main; print(*(m for m in sys.modules if '.' not in m))"
    loaded = subprocess.run(
        [sys.executable, "-c", asked], capture_output=True, text=True, check=True, cwd=ROOT
    )
    assert HEAVY.intersection(loaded.stdout.split()) - {"rich"} == set()
