"""What ten years of use cost: a table a year of time and memory, and what grows with the book's past.

    python3 scripts/soak/years.py                    ten years, about 1,000,000 lines (half an hour; the books are kept)
    python3 scripts/soak/years.py --years 1,5,10     only after these years
    python3 scripts/soak/years.py --postgres         the last year's book carried to a PostgreSQL server as well
    python3 scripts/soak/years.py --only shelf,trace these commands alone
    python3 scripts/soak/years.py --tries 5          the quickest of five runs of each command, in place of two

Every command runs as a process of its own, as from a terminal; memory is the most it held at once. Exit code 1 where
`shelf` or `can-take` take more than 1.3 times what they took after the first of the years, or verify or backup are
over their limits.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import PYTHON, ROOT, Stopped, elsewhere, surroundings

YEARS = 10
SHORT = 3
"""Exit code of a command that ran and found something short: no failure here."""
REFUSED = 1
GROWTH, SECONDS, MEGABYTES = 1.3, {"verify": 60.0, "backup": 30.0}, 500.0
COUNTS = 50


@dataclass(frozen=True, slots=True)
class Took:
    """One command on one book: seconds on the clock, seconds of a processor, and the most memory in MB.

    What else the machine does lengthens the first, so growth is judged by the second.
    """

    seconds: float
    worked: float
    megabytes: float


@dataclass(frozen=True, slots=True)
class Job:
    """A command line; writes: run on a copy of the book; fine: exit codes that are no failure."""

    name: str
    words: tuple[str, ...]
    writes: bool = False
    fine: tuple[int, ...] = (0,)


def main(arguments: Sequence[str]) -> int:
    """Make the books, measure them and print the table."""
    if (code := elsewhere(__file__, arguments, "test")) is not None:
        return code
    if arguments[:1] == ["--make"]:
        make(Path(arguments[1]))
        return 0
    wanted = [
        int(year) for year in _said(arguments, "--years", ",".join(map(str, range(1, YEARS + 1)))).split(",")
    ]
    tries = int(_said(arguments, "--tries", "2"))
    folder = books(max(wanted))
    only = tuple(filter(None, _said(arguments, "--only", "").split(",")))
    took = measured({year: str(book(folder, year)) for year in wanted}, folder, tries, only)
    for year in wanted:
        print(row(folder, year, took[year]), flush=True)
    if "--postgres" in arguments:
        on_server(folder, max(wanted), tries, only)
    return told(took)


def _said(arguments: Sequence[str], option: str, otherwise: str) -> str:
    return arguments[arguments.index(option) + 1] if option in arguments else otherwise


def book(folder: Path, year: int) -> Path:
    """Where the book after a year lies."""
    return folder / f"year-{year}.kitdrawer"


def books(years: int) -> Path:
    """The folder of books after each year, made once for each state of the schema and of the shop, and kept."""
    from big_store import digest

    name = f"kitdrawer-years-{digest(ROOT / 'scripts' / 'soak' / 'years_book.py')}"
    folder = Path(tempfile.gettempdir()) / name
    if not book(folder, years).exists():
        folder.mkdir(exist_ok=True)
        # a process of its own: the most memory a child ever held counts its parent's at the moment of starting it
        subprocess.run([str(PYTHON), __file__, "--make", str(folder)], env=surroundings(), check=True)
    return folder


def make(folder: Path) -> None:
    """Live through the years and keep a copy of the book after each."""
    from sqlalchemy import event
    from years_book import Years

    from inventory.store import begin
    from inventory.store.copies.copy import copy_file

    path = folder / "book.kitdrawer"
    path.unlink(missing_ok=True)
    with begin(path, "EUR") as store:
        # what is lost here with the machine's power can be made again
        event.listen(store.engine, "connect", lambda raw, _: raw.execute("PRAGMA synchronous = OFF"))
        store.engine.dispose()
        shop = Years(store)
        shop.begin()
        started, before = time.monotonic(), 0
        for year in shop.years(YEARS):
            copy_file(path, book(folder, year), over=True)
            seconds, more = time.monotonic() - started, shop.lines - before
            print(
                f"year {year}: {shop.lines:,} lines, {1000 * seconds / more:.2f} ms a line", file=sys.stderr
            )
            started, before = time.monotonic(), shop.lines
    path.unlink()


def jobs(counts: Path, where: Path, year: int) -> tuple[Job, ...]:
    """What is measured on a book. counts: a folder with a counts sheet; where: a folder for copies."""
    from big_catalogue import WISH

    request = (*WISH[:-1], str(today(year) + timedelta(days=60)))
    return (
        Job("shelf", ("shelf",)),
        Job("can-take", ("can-take", *request), fine=(0, SHORT)),
        Job("orders", ("orders",)),
        Job("trace", ("trace", "Supply 32")),
        Job("rates", ("rates",)),
        Job("count sheet", ("count", "sheet", "--few", "12")),
        Job("shopping", ("shopping", "--time-limit", "5"), fine=(0, SHORT)),
        Job("shopping today", ("shopping", "--today-only", "--time-limit", "5"), fine=(0, SHORT)),
        Job("levels", ("levels",)),
        Job("rehearse", ("rehearse",)),
        Job("promise", ("promise", "One more", *_named(request), "--yes"), writes=True, fine=(0, SHORT)),
        Job("undo", ("undo", "--yes"), writes=True),
        Job("undo early", ("undo", "2", "--yes"), writes=True, fine=(REFUSED,)),
        Job("load", ("load", str(counts), "--yes"), writes=True),
        Job("verify", ("verify",)),
        Job("backup", ("backup", str(where / "copy.kitdrawer"))),
    )


def _named(request: Sequence[str]) -> tuple[str, ...]:
    return ("--pattern", *request)


def today(year: int) -> date:
    """The day after a year's last week."""
    from years_book import FIRST_DAY, WEEKS

    return FIRST_DAY + timedelta(days=7 * WEEKS * year + 1)


def measured(
    places: dict[int, str], folder: Path, tries: int, only: Sequence[str] = ()
) -> dict[int, dict[str, Took]]:
    """Every command on every book, the quickest of a few runs; the books take turns, so that all are slowed alike."""
    took: dict[int, dict[str, Took]] = {year: {} for year in places}
    with tempfile.TemporaryDirectory(dir=folder) as name:
        scratch = Path(name)
        counts = scratch / "sheets"
        counts.mkdir()
        rows = [f"Tool {n},{n % 7 + 1}" for n in range(1, COUNTS + 1)]
        (counts / "counts.csv").write_text("\n".join(["part,quantity", *rows]) + "\n", encoding="utf-8")
        every = {
            year: [job for job in jobs(counts, scratch, year) if not only or job.name in only]
            for year in places
        }
        for at in range(len(next(iter(every.values())))):
            for _ in range(tries):
                for year, place in places.items():
                    job = every[year][at]
                    one = run(job, place, scratch, year)
                    best = took[year].get(job.name, one)
                    took[year][job.name] = min(best, one, key=lambda of: of.worked)
    return took


def run(job: Job, place: str, scratch: Path, year: int) -> Took:
    """One run of one command; raises Stopped where it fails."""
    (scratch / "copy.kitdrawer").unlink(missing_ok=True)
    with _copy(place, scratch) if job.writes else _itself(place) as there:
        words = [str(PYTHON), "-m", "inventory.cli", *job.words]
        more = {"KITDRAWER_TODAY": today(year).isoformat(), "COLUMNS": "80", "KITDRAWER_STORE": there}
        with (scratch / "said").open("w+") as said:
            started = time.perf_counter()
            child = subprocess.Popen(words, cwd=ROOT, env=surroundings(**more), stdout=said, stderr=said)
            _, status, used = os.wait4(child.pid, 0)
            seconds = time.perf_counter() - started
            child.returncode = os.waitstatus_to_exitcode(status)
            if child.returncode not in job.fine:
                said.seek(0)
                raise Stopped(f"{job.name} failed (exit code {child.returncode}): {said.read()[-600:]}")
    return Took(seconds, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)


@contextmanager
def _itself(place: str) -> Iterator[str]:
    yield place


@contextmanager
def _copy(place: str, scratch: Path) -> Iterator[str]:
    """A copy to write into; a database is copied by its server."""
    if "://" in place:
        import postgres
        from sqlalchemy import make_url

        url = make_url(place)
        keeper = url.set(database="postgres").render_as_string(hide_password=False)
        with postgres.database(keeper, str(url.database)) as copy:
            yield copy
        return
    path = scratch / "written.kitdrawer"
    shutil.copy(place, path)
    try:
        yield str(path)
    finally:
        for ending in ("", "-wal", "-shm"):
            path.with_name(path.name + ending).unlink(missing_ok=True)


def on_server(folder: Path, year: int, tries: int, only: Sequence[str]) -> None:
    """The same on a PostgreSQL server, from the year's book carried there."""
    sys.path.insert(0, str(ROOT / "tests"))
    import postgres

    from inventory.store import open_store
    from inventory.store.copies.transfer import carry

    if reason := postgres.missing():
        raise Stopped(reason)
    watched = postgres.Watched()
    try:
        with postgres.database(postgres.asked(watched.folder)) as url:
            started = time.monotonic()
            with open_store(book(folder, year)) as store:
                carry(store, url)
            print(f"carried to PostgreSQL in {time.monotonic() - started:.0f} s")
            print(row(folder, year, measured({year: url}, folder, tries, only)[year]), flush=True)
    finally:
        watched.end()


def row(folder: Path, year: int, took: dict[str, Took]) -> str:
    """One year of the table."""
    import sqlite3
    from contextlib import closing

    path = book(folder, year)
    with closing(sqlite3.connect(path)) as connection:
        (lines,) = connection.execute("SELECT count(*) FROM movement").fetchone()
        (documents,) = connection.execute("SELECT count(*) FROM document").fetchone()
    head = f"year {year}: {lines:,} lines, {documents:,} documents, {path.stat().st_size / 1e6:.0f} MB"
    body = [
        f"  {name:14}{one.seconds:8.2f} s{one.worked:8.2f} s{one.megabytes:8.0f} MB"
        for name, one in took.items()
    ]
    return "\n".join([head, *body])


def told(took: dict[int, dict[str, Took]]) -> int:
    """How much each command grew from the first measured year to the last, and what is over its target."""
    first, last = took[min(took)], took[max(took)]
    over = False
    print(f"\nyear {max(took)} against year {min(took)}")
    for name, one in last.items():
        ratio = one.worked / first[name].worked
        bad = name in ("shelf", "can-take") and ratio > GROWTH
        bad |= name in SECONDS and (one.worked > SECONDS[name] or one.megabytes > MEGABYTES)
        over |= bad
        memory = one.megabytes / first[name].megabytes
        print(f"  {name:14}time {ratio:5.2f}  memory {memory:5.2f}{'  OVER' if bad else ''}")
    return 1 if over else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
