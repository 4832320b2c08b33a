"""Counting covered lines makes tests a third to twice slower: it is left out where it tells nothing."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import Any

UNTRACED = {
    "buying": "basket published_vendors shares",
    "cli": "beginning edges promises_of_the_readme taking_orders",
    "commands": "loading_learned",
    "faults": "kills migration two_at_once",
    "jobs": "chances learning_recovery order_check",
    "making": "rates_laws rates_posterior recovery",
    "measures": "amounts any_text package",
    "sheets": "only_writers round_trip",
    "store": "append_only carrying earlier history processes proof turned undo",
    "tests": "arrows frame scripts",
}
"""Modules by folder that walk where others walk too, for other reasons: many seeds, both engines, published cases.

All of these together are alone in 4 of 1,000 branches.
"""


def tells_something(path: Path) -> bool:
    """Whether the lines a module of tests walks are worth counting."""
    return path.stem.removeprefix("test_") not in UNTRACED.get(path.parent.name, "").split()


def leave_libraries_out() -> None:
    """Long calls into libraries which never call the program back: a tracer looks at each of their own calls too."""
    import openpyxl
    from openpyxl.reader import excel
    from openpyxl.styles.styleable import StyleDescriptor
    from openpyxl.worksheet._write_only import WriteOnlyWorksheet
    from sqlalchemy import Connection

    openpyxl.load_workbook = excel.load_workbook = untraced(excel.load_workbook)
    for owner, name in (
        (openpyxl.Workbook, "__init__"),
        (openpyxl.Workbook, "save"),
        (StyleDescriptor, "__set__"),
        (WriteOnlyWorksheet, "append"),
        (Connection, "execute"),
        (Connection, "exec_driver_sql"),
    ):
        setattr(owner, name, untraced(getattr(owner, name)))


def untraced(function: Callable[..., Any]) -> Callable[..., Any]:
    """Nothing is counted inside.

    The tracer is stopped and set again in one frame: it keeps a stack of the frames it saw begin, and one that ends
    while it is away, as the frame that enters a context manager does, stays there; the lines after it then count as
    another module's. pytest-cov's own mark stops one of the two tracers a worker of xdist has, so the other goes on.
    """

    @wraps(function)
    def call(*arguments: Any, **named: Any) -> Any:
        tracer = sys.gettrace()
        sys.settrace(None)
        try:
            return function(*arguments, **named)
        finally:
            sys.settrace(tracer)

    return call
