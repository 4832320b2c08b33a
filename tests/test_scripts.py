"""The scripts people start first: they say what is wrong in a sentence, and do nothing twice."""

from __future__ import annotations

import ast
import importlib.util
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest
from sqlalchemy import Column, MetaData, func, select
from sqlmodel import AutoString

from inventory.cli.app import make_app
from inventory.cli.edge import run
from inventory.store import open_store, verify
from inventory.store.schema.models import METADATA

SCRIPTS = Path(__file__).resolve().parent.parent / "scripts"


def script(name: str) -> ModuleType:
    """A fresh copy of a script as a module, so that tests may bend its paths."""
    spec = importlib.util.spec_from_file_location(f"script_{name.replace('/', '_')}", SCRIPTS / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # dataclasses look their module up
    spec.loader.exec_module(module)
    return module


@pytest.fixture(autouse=True)
def scripts_importable(monkeypatch: pytest.MonkeyPatch) -> None:
    """Scripts find each other as they do when started by name."""
    monkeypatch.syspath_prepend(str(SCRIPTS / "bench"))
    monkeypatch.syspath_prepend(str(SCRIPTS))


@pytest.fixture
def environment(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[ModuleType]:
    """scripts/environment.py, at home in an empty project."""
    module = script("environment")
    venv = tmp_path / ".venv"
    python = venv / module.PYTHON.relative_to(module.VENV)
    for name, value in {
        "ROOT": tmp_path,
        "VENV": venv,
        "PYTHON": python,
        "STAMP": venv / "installed.json",
    }.items():
        monkeypatch.setattr(module, name, value)
    (tmp_path / "pyproject.toml").write_text("[project]\nname = 'one'\nversion = '1'\n", encoding="utf-8")
    return module


def started(root: Path, **more: str) -> subprocess.CompletedProcess[str]:
    """What `ready()` says in a project at `root`, in a process of its own that reaches no package index."""
    (root / "scripts").mkdir(exist_ok=True)
    shutil.copy(SCRIPTS / "environment.py", root / "scripts")
    quiet = {"PIP_NO_INDEX": "1", "PIP_CONFIG_FILE": os.devnull, "PIP_FIND_LINKS": ""}
    words = [sys.executable, "-c", "import environment; environment.ready()"]
    around = {**os.environ, **quiet, "PYTHONPATH": str(root / "scripts"), **more}
    return subprocess.run(words, env=around, capture_output=True, text=True, check=False, cwd=root)


@pytest.mark.soak  # it makes a whole environment first
def test_without_an_index_pips_failure_is_a_sentence(environment: ModuleType) -> None:
    """Where pip reaches nothing, the script says so, ends with pip's exit code and leaves no stamp."""
    ended = started(environment.ROOT)
    assert ended.returncode == 1
    assert "pip could not install what the project needs (exit code 1)" in ended.stderr
    assert ended.stdout == ""
    assert not environment.STAMP.exists()
    assert environment.version().startswith(f"{sys.version_info.major}.{sys.version_info.minor}")


def test_a_folder_that_is_no_environment_is_left_alone(environment: ModuleType) -> None:
    """A `.venv` that holds somebody's files is not removed; the script asks for it to be moved."""
    environment.VENV.mkdir()
    (environment.VENV / "notes.txt").write_text("mine", encoding="utf-8")
    ended = started(environment.ROOT)
    assert (ended.returncode, "is no Python environment" in ended.stderr) == (1, True)
    assert (environment.VENV / "notes.txt").exists()


def test_an_old_python_is_refused(
    environment: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A Python below the oldest allowed one is named together with what is needed."""
    monkeypatch.setattr(environment, "OLDEST", (99, 0))
    with pytest.raises(SystemExit, match="1"):
        environment.check_python()
    assert f"needs Python 3.11 or newer; {sys.executable} is" in capsys.readouterr().err


def test_a_python_that_cannot_make_environments_is_refused(
    environment: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where the system's Python lacks ensurepip, the package to install is named."""
    monkeypatch.setattr(environment, "find_spec", lambda name: None if name == "ensurepip" else name)
    with pytest.raises(SystemExit):
        environment.check_python()
    assert "no `ensurepip` module" in capsys.readouterr().err


def test_the_stamp_holds_until_something_changes(environment: ModuleType) -> None:
    """The stamp speaks for one pyproject.toml and one Python; after a change of either it counts no more."""
    environment.VENV.mkdir()
    before = environment.digest("3.11")
    environment.STAMP.write_text(f'{{"digest": "{before}", "extras": ["test"]}}', encoding="utf-8")
    assert environment.installed(environment.digest("3.11")) == {"test"}
    assert environment.installed(environment.digest("3.12")) is None
    (environment.ROOT / "pyproject.toml").write_text("[project]\nname = 'two'\n", encoding="utf-8")
    assert environment.installed(environment.digest("3.11")) is None


@pytest.mark.parametrize("stamp", ["", "[]", "{}", '{"digest": 1}', "\x00"])
def test_a_broken_stamp_counts_as_none(environment: ModuleType, stamp: str) -> None:
    """A stamp cut short by an interruption means: install again."""
    environment.VENV.mkdir()
    environment.STAMP.write_text(stamp, encoding="utf-8")
    assert environment.installed("x") is None


def test_children_get_nothing_misleading(environment: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    """Settings that send imports or packages elsewhere do not reach the processes a script starts."""
    monkeypatch.setenv("PYTHONPATH", "/somewhere")
    monkeypatch.setenv("PIP_TARGET", "/elsewhere")
    around = environment.surroundings(ONE="1")
    assert {"PYTHONPATH", "PIP_TARGET"}.isdisjoint(around)
    assert (around["ONE"], around["PYTHONUTF8"]) == ("1", "1")


def test_a_script_goes_on_in_its_own_environment(
    environment: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Started by another Python it runs again in `.venv`, with its words and its exit code; there it simply goes on."""
    asked = tmp_path / "asked.py"
    asked.write_text("import sys\nsys.exit(len(sys.argv[1:]))\n", encoding="utf-8")
    monkeypatch.setattr(environment, "ready", lambda *_: Path(sys.executable))
    assert environment.elsewhere(str(asked), ["--one", "two"]) == 2
    monkeypatch.setattr(environment, "VENV", Path(sys.prefix))
    assert environment.elsewhere(str(asked), ["--one", "two"]) is None


@pytest.mark.parametrize("path", sorted(SCRIPTS.rglob("*.py")), ids=lambda path: path.stem)
def test_a_script_needs_nothing_before_it_is_in_its_own_environment(path: Path) -> None:
    """Started with any Python it reaches `elsewhere`: until then only the standard library and scripts are imported."""
    text = path.read_text(encoding="utf-8")
    if '__name__ == "__main__"' not in text:
        return  # for other scripts, inside
    there = {*sys.stdlib_module_names, *(one.stem for one in SCRIPTS.rglob("*.py"))}
    for node in ast.parse(text).body:
        if isinstance(node, ast.If) and "elsewhere(" in ast.unparse(node):
            return
        names = [one.name for one in node.names] if isinstance(node, ast.Import) else []
        names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
        assert {name.split(".")[0] for name in names} <= there, ast.unparse(node)


@pytest.mark.parametrize(
    ("failing", "code", "said"),
    [((), 0, ""), (("lint",), 1, "Failed: lint."), (("types", "tests"), 1, "Failed: types, tests.")],
)
def test_every_step_runs_and_any_failure_counts(
    failing: tuple[str, ...],
    code: int,
    said: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """A failing step does not stop the later ones; the tests run last, what failed once more; lines are not counted."""
    runner = script("test")
    ran: dict[str, tuple[str, ...]] = {}
    monkeypatch.setattr(runner, "ready", lambda *_: Path("python"))

    def step(_: Path, name: str, words: tuple[str, ...], **__: str) -> int:
        ran[name] = words
        return 2 if name in failing else 0

    monkeypatch.setattr(runner, "step", step)
    assert runner.main([]) == code
    again = ["what failed, once more"] if "tests" in failing else []
    assert [*ran] == ["bytecode", "lint", "layout", "types", "tests", *again]
    assert not [word for word in ran["tests"] if word.startswith("--cov")]
    assert capsys.readouterr().err.strip() == said


def test_books_are_written_into_memory_where_there_is_room(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """In a folder of the run's own, gone at its end; where there is little room, or no such place, on the disk."""
    runner = script("test")
    monkeypatch.setattr(runner, "MEMORY", str(tmp_path))
    monkeypatch.setattr(runner, "ROOM", 1)
    with runner.in_memory() as said:
        place = Path(said["PYTEST_DEBUG_TEMPROOT"])
        assert place.parent == tmp_path
        (place / "book.kitdrawer").write_text("some", encoding="utf-8")
    assert list(tmp_path.iterdir()) == []
    monkeypatch.setattr(runner, "ROOM", 1 << 62)
    with runner.in_memory() as said:
        assert said == {}
    monkeypatch.setattr(runner, "MEMORY", str(tmp_path / "nowhere"))
    monkeypatch.setattr(runner, "ROOM", 1)
    with runner.in_memory() as said:
        assert said == {}


def test_words_are_handed_on_and_counting_has_its_gate(monkeypatch: pytest.MonkeyPatch) -> None:
    """Words after scripts/test.py are pytest's; `--coverage` counts lines and holds them to the gate."""
    runner = script("test")
    ran: dict[str, tuple[str, ...]] = {}
    monkeypatch.setattr(runner, "ready", lambda *_: Path("python"))
    monkeypatch.setattr(runner, "step", lambda _, name, words, **__: ran.update({name: words}))
    assert runner.main(["tests/ledger", "-x"]) == 0
    assert ran["tests"][-2:] == ("tests/ledger", "-x")
    assert runner.main(["--coverage", "-x"]) == 0
    assert ran["tests"][-3:] == ("--cov", f"--cov-fail-under={runner.COVERED}", "-x")


def test_what_failed_is_run_once_more_to_say_what_it_compared(monkeypatch: pytest.MonkeyPatch) -> None:
    """Asserts are plain at first; the second run is for its words alone, and the answer stays that tests failed."""
    runner = script("test")
    ran: list[tuple[str, ...]] = []

    def step(_: Path, name: str, words: tuple[str, ...], **__: str) -> int:
        ran.append((name, *words))
        return int(name == "tests")

    monkeypatch.setattr(runner, "ready", lambda *_: Path("python"))
    monkeypatch.setattr(runner, "step", step)
    assert runner.main(["tests/ledger"]) == 1
    assert ("--assert=plain" in ran[-2], "--assert=plain" in ran[-1]) == (True, False)
    assert ran[-1][-3:] == ("--last-failed", "--last-failed-no-failures=none", "tests/ledger")


def test_the_demo_walks_to_its_end(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    """Every command of the demo ends as it says it will, and leaves its store sound; here all in one process."""

    def here(command: list[str], *, env: dict[str, str], **_: object) -> subprocess.CompletedProcess[str]:
        with pytest.MonkeyPatch.context() as patch:
            for name, value in env.items():
                patch.setenv(name, value)
            words = command[1:]
            return subprocess.CompletedProcess(command, run(make_app(words), words))

    demo = script("demo")
    monkeypatch.chdir(demo.ROOT)
    monkeypatch.setattr(demo.subprocess, "run", here)
    for step in demo.WALK:
        demo.walk(step, tmp_path / "demo.kitdrawer")
    shown = capfd.readouterr().out
    assert shown.count("$ kitdrawer ") == len(demo.WALK)
    assert "All checks passed" in shown


def test_the_demo_stops_where_a_command_fails(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    """A process that ends otherwise than expected stops the walk with a sentence and its exit code."""
    demo = script("demo")
    monkeypatch.setattr(demo, "PYTHON", Path(sys.executable))
    with pytest.raises(SystemExit) as stopped:
        demo.walk(demo.Step("", ("shelf",)), tmp_path / "none.kitdrawer")
    assert stopped.value.code == 1
    assert "The demo stops: that command ended with exit code 1, not 0." in capfd.readouterr().err


def test_the_shop_made_for_benchmarks_is_sound(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The large store adds up as any other, has the lines asked for, and is made once."""
    big_store = script("bench/big_store")
    monkeypatch.setattr(tempfile, "gettempdir", lambda: str(tmp_path))
    file = big_store.make_store(1200, 6000)
    with open_store(file) as store, store.reading() as read:
        assert len(read.catalogue().parts) == 1200
        lines = METADATA.tables["movement"]
        assert read.connection.execute(select(func.count()).select_from(lines)).scalar() == 6000
    with open_store(file) as store:
        assert verify(store) == ()
    made = file.stat().st_mtime_ns
    assert big_store.make_store(1200, 6000).stat().st_mtime_ns == made


def test_the_many_orders_made_for_benchmarks_are_sound(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """As many promised orders as asked for, in a book that agrees with itself."""
    many_orders = script("bench/many_orders")
    monkeypatch.setattr("tempfile.gettempdir", lambda: str(tmp_path))
    with open_store(many_orders.make_shop(3, "2026-11-28")) as store:
        assert verify(store) == ()
        with store.reading() as read:
            assert [one.state for one in read.book().orders.values()] == ["promised"] * 3


def test_a_benchmarks_ratio_is_taken_turn_by_turn() -> None:
    """A turn in which the whole machine was slow does not change the ratio; one over its target is marked."""
    bench = script("bench")
    fine = bench.Result("fine", (1.0, 10.0, 1.0), (1.4, 14.0, 1.4), 1.5)
    over = bench.Result("over", (1.0,), (1.6,), 1.5)
    assert fine.ratio == pytest.approx(1.4)
    table_lines = bench.drawn([fine, over]).splitlines()
    assert [line.split()[-1] for line in table_lines[2:]] == ["met", "OVER"]
    assert max(map(len, table_lines)) <= 80


def test_a_step_is_written_from_the_classes(tmp_path: Path) -> None:
    """A new column that may not be empty is added with the class's own default; where nothing is new, no step is."""
    migrate = script("migrate")
    assert migrate.difference(tmp_path / "same", METADATA) == ""
    more = MetaData(naming_convention=METADATA.naming_convention)
    for table in METADATA.sorted_tables:
        table.to_metadata(more)
    more.tables["part"].append_column(Column("drawer_colour", AutoString, default="", nullable=False))
    work = migrate.difference(tmp_path / "more", more)
    assert work.replace("'", '"') == (
        'op.add_column("part", sa.Column("drawer_colour", sa.String(), server_default="", nullable=False))'
    )
    text = migrate.step("drawer colour", "0003", work)
    compile(text, "v0004", "exec")
    assert 'revision = "0004"\ndown_revision = "0003"' in text
    assert text.startswith('"""Drawer colour.')
