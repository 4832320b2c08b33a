"""How fast, as ratios: each command against a bare process that does the least it could get away with.

    python3 scripts/bench.py            stores of 10,000 and 1,000,000 lines, a sheet of 50,000 rows (minutes)
    python3 scripts/bench.py --quick    a tenth of that, three runs of each

Floors and commands run in turn in one session, so a slow machine slows both. Seconds are medians, of the processor,
for what else the machine does is no fault of ours; a ratio is the median of the ratios within each turn.
Exit code 1 where a ratio is over its target.
"""

from __future__ import annotations

import os
import platform
import shutil
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

if sys.platform != "win32":
    import resource

sys.path.insert(0, str(Path(__file__).resolve().parent / "bench"))

from environment import PYTHON, ROOT, Stopped, elsewhere, surroundings

PARTS, TODAY, BIG_ROWS = 2000, "2026-11-28", 5000
SHORT = 3
"""Exit code of a command that ran and found something short: no failure here."""
UNASKED = 1
"""Exit code of a command that showed its screen and found nobody to ask."""

FLOOR_LOOK = """
import sys, typer, sqlalchemy
with sqlalchemy.create_engine(f"sqlite:///{sys.argv[1]}").connect() as connection:
    connection.exec_driver_sql("SELECT version FROM shop").scalar()
"""
FLOOR_PLAN = """
import sys, typer, sqlalchemy, numpy
with sqlalchemy.create_engine(f"sqlite:///{sys.argv[1]}").connect() as connection:
    for table in ("part", "customer_order", "lot_balance", "claim_balance", "bill_line"):
        connection.exec_driver_sql(f"SELECT * FROM {table}").fetchall()
"""
FLOOR_SHEET = """
import sys, openpyxl
for sheet in openpyxl.load_workbook(sys.argv[1], read_only=True):
    for row in sheet.iter_rows(values_only=True):
        pass
"""


FLOOR_PAST = """
import sys, typer, sqlalchemy, pandas
with sqlalchemy.create_engine(f"sqlite:///{sys.argv[1]}").connect() as connection:
    sums = "SELECT part_id, account, reason, sum(quantity), sum(cost) FROM movement GROUP BY 1, 2, 3"
    connection.exec_driver_sql(sums).fetchall()
"""


@dataclass(frozen=True)
class Size:
    """How much is measured."""

    few: int = 10_000
    many: int = 1_000_000
    rows: int = 50_000
    orders: int = 100
    runs: int = 9
    loads: int = 3


@dataclass(frozen=True)
class Result:
    """One line of the table: seconds of each turn, of the floor and of ours."""

    name: str
    floor: Sequence[float]
    ours: Sequence[float]
    target: float

    @property
    def ratio(self) -> float:
        """How many times the floor we take, turn by turn, in the median."""
        return statistics.median(ours / floor for floor, ours in zip(self.floor, self.ours, strict=True))


@dataclass(frozen=True)
class Case:
    """A command line, what to do before each run of it, and the exit codes that are no failure."""

    words: Sequence[str]
    before: Callable[[], object] = bool
    fine: tuple[int, ...] = (0,)


BROKEN = ("Blank 2", "1", "--reason", "broke")
TURNED_UP = ("Blank 2", "1")
MADE = ("Pattern 1", "--plating", "Plating 1", "--blank", "Blank 1")
SOLD = ("Pattern 1", "1", "--price", "30")
"""What comes and goes by hand in the made-up shop, what is made there of an evening, and sold."""


def main(arguments: Sequence[str]) -> int:
    """Measure everything and print the table."""
    if (code := elsewhere(__file__, arguments)) is not None:
        return code
    size = Size(many=100_000, rows=5_000, runs=3, loads=1) if "--quick" in arguments else Size()
    print(machine(), end="\n\n", flush=True)
    results = [
        *looking(size),
        *looking_back(size),
        *planning(size),
        loading(size),
        beginning(size),
        beginning_big(size),
    ]
    print(drawn(results), flush=True)
    code = 0
    for name in ("basket.py", "ahead.py", "accounts.py"):
        print(flush=True)
        words = [str(PYTHON), str(ROOT / "scripts" / "bench" / name), *arguments]
        code |= subprocess.run(words, env=surroundings(), check=False).returncode
    return 1 if code or any(result.ratio > result.target for result in results) else 0


def looking(size: Size) -> list[Result]:
    """`shelf` and `can-take`, on a short book and on a long one; what is done by hand of a day against `shelf`."""
    from big_catalogue import WISH
    from big_store import make_store

    stores = {lines: str(make_store(PARTS, lines)) for lines in (size.few, size.many)}
    cases = {}
    for lines, store in stores.items():
        cases[f"floor {lines}"] = Case([str(PYTHON), "-c", FLOOR_LOOK, store])
        cases[f"shelf {lines}"] = Case([*command("shelf"), "--store", store])
        cases[f"can-take {lines}"] = Case([*command("can-take", *WISH), "--store", store], fine=(0, SHORT))
        cases[f"took {lines}"] = Case([*command("took", *BROKEN, "--json"), "--store", store])
        cases[f"found {lines}"] = Case([*command("found", *TURNED_UP, "--json"), "--store", store])
        cases[f"made {lines}"] = Case([*command("made", *MADE, "--json"), "--store", store], fine=(0, SHORT))
        cases[f"made, shown {lines}"] = Case([*command("made", *MADE), "--store", store], fine=(UNASKED,))
        cases[f"sold {lines}"] = Case([*command("sold", *SOLD, "--json"), "--store", with_a_piece(store)])
    took = measured(cases, size.runs)
    results = [
        Result(f"{name}, {lines:,} lines", took[f"floor {lines}"], took[f"{name} {lines}"], 1.5)
        for name in ("shelf", "can-take")
        for lines in stores
    ]
    results += [
        Result(f"{name} against shelf, {lines:,} lines", took[f"shelf {lines}"], took[f"{name} {lines}"], 1.3)
        for name in ("took", "found", "sold", "made", "made, shown")
        for lines in stores
    ]
    grown = f"{size.many:,} against {size.few:,}"
    results += [
        Result(f"{name}, {grown}", took[f"{name} {size.few}"], took[f"{name} {size.many}"], 1.1)
        for name in ("shelf", "can-take")
    ]
    return results


def with_a_piece(store: str) -> str:
    """A copy of a store in which an evening's piece lies ready to be sold, made once."""
    copy = Path(store).with_suffix(".piece.store")
    if not copy.exists():
        fresh = copy.with_suffix(".new")
        shutil.copy(store, fresh)
        timed("made", Case([*command("made", *MADE, "--yes"), "--store", str(fresh)], fine=(0, SHORT)))
        fresh.rename(copy)
    return str(copy)


def looking_back(size: Size) -> list[Result]:
    """`history` of a long book against one sum of all its lines by part, account and word, and the start of pandas."""
    from big_store import make_store

    store = str(make_store(PARTS, size.many))
    cases = {
        "floor": Case([str(PYTHON), "-c", FLOOR_PAST, store]),
        "history": Case([*command("history"), "--store", store]),
    }
    took = measured(cases, size.runs)
    return [Result(f"history, {size.many:,} lines", took["floor"], took["history"], 2.0)]


def planning(size: Size) -> list[Result]:
    """`plan` of all open orders, against reading what it has to read; and with twice as many of them."""
    from many_orders import make_shop

    few, many = size.orders, 2 * size.orders
    cases = {}
    for orders in (few, many):
        store = str(make_shop(orders, TODAY))
        cases[f"floor {orders}"] = Case([str(PYTHON), "-c", FLOOR_PLAN, store])
        plan = [*command("plan", "--on", TODAY, "--json"), "--store", store]
        cases[f"plan {orders}"] = Case(plan, fine=(0, SHORT))
    took = measured(cases, size.runs)
    return [
        Result(f"plan, {few} orders", took[f"floor {few}"], took[f"plan {few}"], 5.0),
        Result(f"plan, {many} against {few} orders", took[f"plan {few}"], took[f"plan {many}"], 2.0),
    ]


def loading(size: Size) -> Result:
    """`load` of a workbook with many counts, against reading its cells and doing nothing with them."""
    from big_sheet import make_workbook

    from inventory.store import begin

    with tempfile.TemporaryDirectory() as folder:
        book, empty, store = (Path(folder) / name for name in ("counts.xlsx", "empty.store", "bench.store"))
        make_workbook(book, PARTS, size.rows)
        begin(empty, "EUR").close()
        load = [*command("load", str(book)), "--yes", "--store", str(store)]
        cases = {
            "floor": Case([str(PYTHON), "-c", FLOOR_SHEET, str(book)]),
            "load": Case(load, before=lambda: shutil.copy(empty, store)),
        }
        took = measured(cases, size.loads)
    return Result(f"load, {size.rows:,} rows", took["floor"], took["load"], 2.0)


def beginning(size: Size) -> Result:
    """`begin --from` of a sheet of sixty rows, against what `load` takes for a sheet with next to nothing in it."""
    from big_sheet import make_strangers_sheet

    from inventory.store import begin

    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        mine, empty, store = folder / "mine.xlsx", folder / "empty.store", folder / "bench.store"
        make_strangers_sheet(mine, 60)
        (folder / "platings.csv").write_text("plating\nchrome\n", encoding="utf-8")
        begin(empty, "EUR").close()
        load = [*command("load", str(folder / "platings.csv")), "--yes", "--store", str(store)]
        ours = [
            *command("begin", "--from", str(mine), "--save", str(folder / "shop.xlsx")),
            "--store",
            str(store),
        ]

        def cleared() -> None:
            shutil.copy(empty, store)
            (folder / "shop.xlsx").unlink(missing_ok=True)

        took = measured({"load": Case(load, cleared), "begin": Case(ours, cleared)}, size.runs)
    return Result("begin --from, 60 rows, against load", took["load"], took["begin"], 2.0)


def beginning_big(size: Size) -> Result:
    """`begin --from` of a sheet of 5,000 rows from the file to the book, against ten seconds of the processor.

    Of its time, not of the clock's: there is no floor beside it that other work would slow as well.
    """
    from big_sheet import make_strangers_sheet

    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        mine, store = folder / "mine.xlsx", folder / "bench.store"
        make_strangers_sheet(mine, BIG_ROWS)
        ours = command("begin", "--from", str(mine), "--save", str(folder / "shop.xlsx"), "--yes", "--sure")

        def cleared() -> None:
            store.unlink(missing_ok=True)
            (folder / "shop.xlsx").unlink(missing_ok=True)

        took = measured({"begin": Case([*ours, "--store", str(store)], cleared)}, size.loads)["begin"]
    return Result("begin --from, 5,000 rows, of 10 s", [10.0] * size.loads, took, 1.0)


def measured(cases: dict[str, Case], runs: int) -> dict[str, list[float]]:
    """Seconds of each case, all of them in turn, again and again."""
    times: dict[str, list[float]] = {name: [] for name in cases}
    for turn in range(runs + 1):  # the first turn warms the disk and is not counted
        for name, case in cases.items():
            case.before()
            seconds = timed(name, case)
            if turn:
                times[name].append(seconds)
    return times


def timed(name: str, case: Case) -> float:
    """Seconds of the processor one whole process takes; stops the benchmark where it fails."""
    started = children()
    run = subprocess.run(
        case.words,
        env=surroundings(KITDRAWER_TODAY=TODAY, COLUMNS="80"),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )
    seconds = children() - started
    if run.returncode not in case.fine:
        raise Stopped(f"{name} failed (exit code {run.returncode}): {run.stderr.strip()[-600:]}")
    return seconds


def children() -> float:
    """Seconds of the processor that programs started from here took, of those that ended."""
    if sys.platform == "win32":
        return time.perf_counter()  # it does not say: there it is the clock's
    spent = resource.getrusage(resource.RUSAGE_CHILDREN)
    return spent.ru_utime + spent.ru_stime


def command(*words: str) -> list[str]:
    """The command as a person's terminal would start it."""
    return [str(PYTHON.with_name("kitdrawer.exe" if os.name == "nt" else "kitdrawer")), *words]


def machine() -> str:
    """What this was measured on."""
    load = f", load {os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else ""
    return (
        f"{platform.system()} {platform.machine()}, {os.cpu_count()} cores{load}; "
        f"Python {platform.python_version()}, SQLite {sqlite3.sqlite_version}"
    )


def drawn(results: Sequence[Result]) -> str:
    """The results as a table of 80 columns."""
    lines = [f"{'':42}{'floor s':>8}{'ours s':>8}{'ratio':>7}{'target':>8}", "-" * 80]
    for one in results:
        verdict = "met" if one.ratio <= one.target else "OVER"
        floor, ours = statistics.median(one.floor), statistics.median(one.ours)
        numbers = f"{floor:8.3f}{ours:8.3f}{one.ratio:7.2f}{one.target:8.1f}"
        lines.append(f"{one.name:42}{numbers}  {verdict}")
    return "\n".join(lines)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
