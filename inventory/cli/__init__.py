"""The command line: commands for people, JSON for programs, refusals as sentences."""

from __future__ import annotations

import atexit
import gc
import os
import sys
from collections.abc import Sequence


def main(arguments: Sequence[str] | None = None) -> None:
    """Run `kitdrawer` and leave with its exit code."""
    try:
        seldom_searched()
        from inventory.cli.app import make_app
        from inventory.cli.completing import VARIABLE, wanted
        from inventory.cli.edge import run

        words = store_last(sys.argv[1:] if arguments is None else arguments)
        typed = (
            wanted() if VARIABLE in os.environ else None
        )  # a shell completes: those are the words that count
        code = run(make_app(words if typed is None else typed), words)
    except KeyboardInterrupt:  # while the program itself was still being read
        code = 130
    sys.exit(code)


def seldom_searched() -> None:
    """This process runs one command and ends: what loading makes stays, and searching it for garbage is in vain.

    That is a sixth of the processor time of a looking command, and a fifth of a large load.
    """
    gc.set_threshold(200_000, 20, 100)
    atexit.register(gc.freeze)


def store_last(arguments: Sequence[str]) -> list[str]:
    """`--store X` may stand before the command as well as after it."""
    done = list(arguments)
    if done[:1] == ["--store"] and len(done) > 2:
        return [*done[2:], *done[:2]]
    if done[:1] and done[0].startswith("--store="):
        return [*done[1:], done[0]]
    return done
