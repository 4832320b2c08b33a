"""A walk through the program with the invented shop in sample_stock/, in a throw-away store.

    python3 scripts/demo.py

Makes `.venv` where it is missing, then really runs every command below and shows what it says. Nothing is kept.
"""

from __future__ import annotations

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
    """One command of the walk. heading: what a person would ask before it; empty: it follows from the last."""

    heading: str
    words: tuple[str, ...]
    codes: tuple[int, ...] = (FINE,)


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
    Step("The parcel is here", ("arrived", "--supplier", SALT, "--all", "--yes")),
    Step("Can those pens be made now?", ("can-take", "--order", "S42")),
)
CARE = (Step("Does the book still add up?", ("verify",)),)

WALK = (*SET_UP, *TAKING_ORDERS, *BUYING, *CARE)


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
    print(f"\n$ {shlex.join(('kitdrawer', *step.words))}", flush=True)
    command = PYTHON.with_name("kitdrawer.exe" if os.name == "nt" else "kitdrawer")
    around = surroundings(KITDRAWER_STORE=str(store), KITDRAWER_TODAY=TODAY)
    code = subprocess.run([str(command), *step.words], cwd=ROOT, env=around, check=False).returncode
    if code not in step.codes:
        expected = " or ".join(map(str, step.codes))
        raise Stopped(f"\nThe demo stops: that command ended with exit code {code}, not {expected}.", code)


if __name__ == "__main__":
    try:
        sys.exit(main())
    except KeyboardInterrupt:
        sys.exit(130)
    except BrokenPipeError:  # whoever read along has gone
        os._exit(0)
