"""The frame of the project: what lies where, how long things may get, why a check may be silent."""

from __future__ import annotations

import ast
import io
import re
import shutil
import subprocess
import sys
import tokenize
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
TOP_LEVEL = {"pyproject.toml", "README.md", "DEVELOPERS.md", "inventory", "tests", "sample_stock", "scripts"}
LONGEST_MODULE = 400
LONGEST_FUNCTION = 60
FIRST_SCRIPTS = ("environment", "test", "soak", "demo")
"""Scripts that run before anything is installed."""

SOURCES = sorted(
    path for folder in ("inventory", "tests", "scripts") for path in (ROOT / folder).rglob("*.py")
)
PROGRAM = [path for path in SOURCES if path.is_relative_to(ROOT / "inventory")]
PYPROJECT = (ROOT / "pyproject.toml").read_text(encoding="utf-8")

# Remarks, then a docstring.
SAYS_WHAT = re.compile(r'(?:#.*\n|\s)*r?"""\S')
SILENCED_SOMEWHERE = re.compile(r"noqa|type:\s*ignore|pragma:\s*no", re.IGNORECASE)
# A silenced check: its codes, then its reason after another # or a dash.
SILENCED = re.compile(
    r"#\s*(?:noqa|type:\s*ignore|pragma:\s*no)[^#–—]*?(?P<reason>[#–—].*|\s-\s.*)?$", re.IGNORECASE
)


def inside(path: Path) -> str:
    """A path as the project speaks of it."""
    return path.relative_to(ROOT).as_posix()


@pytest.mark.skipif(not shutil.which("git") or not (ROOT / ".git").exists(), reason="not a git checkout")
def test_top_level_holds_only_what_belongs_there() -> None:
    """Seven names and dotfiles stand at the top of the repository, none missing and nothing else."""
    asked = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True)
    top = {name.split("/")[0] for name in asked.stdout.split("\0") if name}
    assert {name for name in top if not name.startswith(".")} == TOP_LEVEL


def test_modules_stay_short() -> None:
    """No module of the program has more than 400 lines."""
    lengths = {inside(path): len(path.read_text(encoding="utf-8").splitlines()) for path in PROGRAM}
    assert {name: lines for name, lines in lengths.items() if lines > LONGEST_MODULE} == {}


def test_each_class_has_a_name_of_its_own() -> None:
    """No two classes of the program are called alike."""
    places: dict[str, list[str]] = {}
    for path in PROGRAM:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef):
                places.setdefault(node.name, []).append(inside(path))
    assert {name: found for name, found in places.items() if len(found) > 1} == {}


def test_functions_stay_short() -> None:
    """No function of the program has more than 60 lines."""
    assert [
        found for path in PROGRAM for found in long_functions(path.read_text(encoding="utf-8"), path.name)
    ] == []


def test_a_long_function_is_caught() -> None:
    """The measure counts a method of 61 lines, docstring included, and lets one of 60 pass."""
    source = (
        "class A:\n    def f(self):\n"
        + "        x = 1\n" * 60
        + "    def g(self):\n"
        + "        x = 1\n" * 59
    )
    assert long_functions(source, "a.py") == ["a.py f: 61 lines"]


def long_functions(source: str, name: str) -> list[str]:
    """The functions of a module that have more lines than one may have."""
    functions = [
        n for n in ast.walk(ast.parse(source)) if isinstance(n, ast.FunctionDef | ast.AsyncFunctionDef)
    ]
    lengths = [(one.name, (one.end_lineno or one.lineno) - one.lineno + 1) for one in functions]
    return [f"{name} {one}: {lines} lines" for one, lines in lengths if lines > LONGEST_FUNCTION]


def test_no_room_is_a_lumber_room() -> None:
    """No module or folder is called utils, helpers, common or misc."""
    lumber = {"utils", "util", "helpers", "helper", "common", "misc"}
    assert [inside(path) for path in PROGRAM if lumber & {*path.parts[len(ROOT.parts) :], path.stem}] == []


def test_every_module_says_what_it_is() -> None:
    """Each module that holds anything starts with a docstring."""
    texts = {path: path.read_text(encoding="utf-8") for path in SOURCES}
    assert [inside(path) for path, text in texts.items() if text.strip() and not SAYS_WHAT.match(text)] == []


def test_each_ignored_rule_has_its_reason() -> None:
    """Every line of pyproject.toml that switches a lint rule off carries a comment saying why."""
    assert unreasoned(PYPROJECT) == []


def test_an_ignored_rule_without_reason_is_caught() -> None:
    """The reader of pyproject.toml finds a bare ignore in a list and per file."""
    planted = '[tool.ruff.lint]\nignore = [\n    "A1", # meant\n    "B2",\n]\n"x/**" = ["T20"]\n[x]\n'
    assert unreasoned(planted) == ['"B2",', '"x/**" = ["T20"]']


def unreasoned(pyproject: str) -> list[str]:
    """Lines in ruff's tables that name an ignored rule and have no comment."""
    bare, table, listing = [], "", False
    for line in map(str.strip, pyproject.splitlines()):
        table = line if line.startswith("[") else table
        listing = line.startswith("ignore") or (listing and line != "]")
        names_rules = table.startswith("[tool.ruff") and line.startswith('"')
        if names_rules and (listing or " = [" in line) and "#" not in line:
            bare.append(line)
    return bare


def test_each_silenced_line_has_its_reason() -> None:
    """A `noqa`, `type: ignore` or `pragma: no cover` names its rule's reason on the same line."""
    found = {inside(path): silenced_without_reason(path.read_text(encoding="utf-8")) for path in SOURCES}
    assert {name: lines for name, lines in found.items() if lines} == {}


@pytest.mark.parametrize(
    ("line", "caught"),
    [
        ("x = 1  # noqa: E501", True),
        ("x = 1  # type: ignore[arg-type]", True),
        ("x = 1  # pragma: no cover", True),
        ("x = 1  # noqa: E501  # a table reads better unbroken", False),
        ("x = 1  # noqa: E501 - a table reads better unbroken", False),
        ("x = 1  # type: ignore[arg-type]  # the stubs are wrong here", False),
        ("x = '# noqa: E501'", False),
        ("x = 1  # a remark", False),
    ],
)
def test_a_silenced_line_without_reason_is_caught(line: str, caught: bool) -> None:
    """The reader finds a bare marker in a comment, not in a string."""
    assert bool(silenced_without_reason(line)) is caught


def silenced_without_reason(source: str) -> list[str]:
    """Comments that silence a check and do not say why."""
    if not SILENCED_SOMEWHERE.search(source):
        return []  # tokens of all sources take seconds
    tokens = tokenize.generate_tokens(io.StringIO(source).readline)
    comments = [token.string for token in tokens if token.type == tokenize.COMMENT]
    found = [(comment, SILENCED.search(comment)) for comment in comments]
    return [comment for comment, marker in found if marker and not marker["reason"]]


def test_readme_opens_with_what_it_is_for() -> None:
    """README.md: a heading, then one plain paragraph of 20 to 150 words before anything else."""
    heading, paragraph, *_ = (ROOT / "README.md").read_text(encoding="utf-8").split("\n\n")
    assert heading.startswith("# kitdrawer")
    assert paragraph[0].isalpha()
    assert 20 <= len(paragraph.split()) <= 150


@pytest.mark.parametrize("script", ["demo.py", "test.py"])
def test_readme_names_the_two_commands(script: str) -> None:
    """README.md shows both set-up commands as they are typed."""
    assert f"python3 scripts/{script}" in (ROOT / "README.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", FIRST_SCRIPTS)
def test_first_scripts_need_nothing_installed(name: str) -> None:
    """Scripts that make the environment import only the standard library and each other."""
    tree = ast.parse((ROOT / "scripts" / f"{name}.py").read_text(encoding="utf-8"))
    named = [alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names]
    named += [node.module or "." for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    assert {one.split(".")[0] for one in named} - sys.stdlib_module_names <= {"environment"}


def test_checks_stay_strict() -> None:
    """Types, warnings, markers and expected failures stay strict, and branches count."""
    tools = tomllib.loads(PYPROJECT)["tool"]
    pytests = tools["pytest"]["ini_options"]
    strict = (tools["mypy"]["strict"], pytests["xfail_strict"], tools["coverage"]["run"]["branch"])
    assert strict == (True, True, True)
    assert pytests["filterwarnings"][0] == "error"
    assert {"--strict-markers", "--strict-config"} <= set(pytests["addopts"].split())


def test_what_is_no_code_is_shipped_too() -> None:
    """Every table, list and page below `inventory/` is named by the package's data, so that it is installed."""
    named = tomllib.loads(PYPROJECT)["tool"]["setuptools"]["package-data"]["inventory"]
    root = ROOT / "inventory"
    shipped = {path for pattern in named for path in root.glob(pattern)}
    there = {
        path
        for path in root.rglob("*")
        if path.is_file() and path.suffix != ".py" and "__pycache__" not in path.parts
    }
    assert there - shipped == set()
