"""A walk through the program with the invented shop in sample_stock/, in a throw-away store.

    python3 scripts/demo.py

Makes `.venv` where it is missing, then really runs every command below and shows what it says. Nothing is kept.
"""

from __future__ import annotations

import csv
import os
import shlex
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from environment import PYTHON, ROOT, Stopped, ready, surroundings

TODAY = "2026-11-28"
"""The day the sample stock is told for; dates and delivery times only make sense on it."""

FINE, SHORT = 0, 3
"""Exit codes: all well; the job ran, and something is short or disagrees."""


@dataclass(frozen=True)
class Step:
    """One command of the walk. heading: what a person would ask before it; empty: it follows from the last.

    {folder} in a word is the throw-away folder. written: what the maker wrote on the sheet lying there before the
    command runs: file, first cell of the row (or its second), heading, what was written.
    """

    heading: str
    words: tuple[str, ...]
    codes: tuple[int, ...] = (FINE,)
    written: tuple[tuple[str, str, str, str], ...] = ()


SET_UP = (
    Step("Start a book, and put what is in the drawers into it", ("begin", "--rate", "USD=0.92")),
    Step("", ("load", "sample_stock", "--yes")),
    Step("What have we got?", ("shelf", "--kind", "kits", "--family", "Dunlin")),
    Step("", ("shelf", "--low")),
    Step("What goes into which?", ("fits", "Curlew")),
)
TAKING_ORDERS = (
    Step("Can I take this order? Six customers are asking", ("can-take", "--order", "S41"), (FINE, SHORT)),
    *(Step("", ("can-take", "--order", f"S{number}"), (FINE, SHORT)) for number in range(42, 47)),
    Step("Take one: its parts are set aside", ("promise", "S41", "--yes")),
    Step("How does each order stand?", ("orders",)),
    Step("It is done and goes to its customer", ("handed-over", "S41", "--yes")),
    Step("Where did the antler go?", ("trace", "red deer antler")),
    Step("That was the wrong button: take it back", ("undo", "--yes")),
)
SALT = "Saltmarsh Turning Supplies"
BUYING = (
    Step(
        "Six pens are promised although tubes and kits are short", ("promise", "S42", "--yes"), (FINE, SHORT)
    ),
    Step("What do I buy, from whom, and why?", ("shopping",), (FINE, SHORT)),
    Step("Ordered, from one of them", ("placed", "--supplier", SALT, "--yes")),
    Step("Does the next list order it again?", ("shopping",), (FINE, SHORT)),
    Step("The parcel is here", ("arrived", "--supplier", SALT, "--complete", "--yes")),
    Step("Can those pens be made now?", ("can-take", "--order", "S42")),
)
WROTE = (
    ("pieces.csv", "S41", "good", "2"),
    ("pieces.csv", "S41", "spoiled at turn", "1"),
    ("pieces.csv", "S42", "good", "5"),
    ("pieces.csv", "S42", "spoiled at turn", "1"),
    ("pieces.csv", "S42", "spoiled at assemble", "1"),
    ("pieces.csv", "S42", "kits salvaged in part", "1"),
    ("pieces.csv", "stall 2026-11-28 a", "good", "2"),
    ("bottles.csv", "CA medium", "after g", "24.4"),
    ("bottles.csv", "epoxy 5-minute", "after g", "63.1"),
    ("bottles.csv", "denatured alcohol", "before g", "545"),
    ("bottles.csv", "denatured alcohol", "after g", "530"),
    ("used.csv", "dry strip P120", "used", "2"),
    ("counts.csv", "Dunlin kit black titanium", "counted", "11"),
)
SATURDAY = "{folder}/saturday"
MAKING = (
    Step(
        "What do we make on Saturday, and what do we lay out?",
        ("plan", "--on", TODAY, "S41", "S42", "--stall", "Avocet pen, gunmetal, olivewood blank, 2", "--yes"),
        (FINE, SHORT),
    ),
    Step("A sheet to fill at the bench", ("weekend", "sheet", "--save", SATURDAY)),
    Step(
        "Sunday night: the sheet is filled. What is left, what was lost, what did we learn?",
        ("weekend", "book", SATURDAY, "--yes"),
        written=WROTE,
    ),
    Step("", ("rates",)),
    Step("", ("losses", "walnut")),
    Step("One pen is still to be made. Can it?", ("can-take", "--order", "S42"), (FINE, SHORT)),
    Step("Booked too soon: take it back, and book it again", ("undo", "--yes")),
    Step("", ("weekend", "book", SATURDAY, "--yes")),
    Step("The rippers are fetched", ("handed-over", "S41", "--yes")),
    Step("What should be counted?", ("count", "sheet", "--few", "5", "--save", "{folder}/count.csv")),
)
CARE = (Step("Does the book still add up?", ("verify",)),)

WALK = (*SET_UP, *TAKING_ORDERS, *BUYING, *MAKING, *CARE)


def main() -> int:
    """Walk every step; the exit code of the first that fails unexpectedly, else 0."""
    ready()
    with tempfile.TemporaryDirectory(prefix="kitdrawer-demo-") as folder:
        for step in WALK:
            walk(step, Path(folder) / "demo.kitdrawer")
    print(f"\nAll {len(WALK)} commands ran. The store they wrote is gone again.")
    return 0


def walk(step: Step, store: Path) -> None:
    """Show a command line, run it, let it speak for itself. Raises Stopped where its exit code is none expected."""
    if step.heading:
        print(f"\n\n== {step.heading}")
    words = [word.format(folder=store.parent) for word in step.words]
    fill(store.parent / "saturday", step.written)
    print(f"\n$ {shlex.join(('kitdrawer', *words))}", flush=True)
    command = PYTHON.with_name("kitdrawer.exe" if os.name == "nt" else "kitdrawer")
    around = surroundings(KITDRAWER_STORE=str(store), KITDRAWER_TODAY=TODAY)
    code = subprocess.run([str(command), *words], cwd=ROOT, env=around, check=False).returncode
    if code not in step.codes:
        expected = " or ".join(map(str, step.codes))
        raise Stopped(f"\nThe demo stops: that command ended with exit code {code}, not {expected}.", code)


def fill(folder: Path, written: tuple[tuple[str, str, str, str], ...]) -> None:
    """Write into the sheet what a maker would have written by hand."""
    for name, row, heading, value in written:
        file = folder / name
        with file.open(encoding="utf-8-sig", newline="") as found:
            rows = list(csv.reader(found))
        at = next(one for one in rows if row in one[:2])
        at[rows[0].index(heading)] = value
        with file.open("w", encoding="utf-8-sig", newline="") as out:
            csv.writer(out).writerows(rows)


if __name__ == "__main__":
    try:
        sys.exit(main())
    except KeyboardInterrupt:
        sys.exit(130)
    except BrokenPipeError:  # whoever read along has gone
        os._exit(0)
