"""Looking: what stands in the tables, as the frozen shapes of the pure rooms.

Each module loads when it is first asked for: no command needs them all.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inventory.store.queries import (
        book,
        catalogue,
        costs,
        documents,
        entries,
        expenses,
        learned,
        lending,
        old_names,
        past,
        payments,
        sessions,
        sheet_rows,
        turned,
        use,
    )

__all__ = [
    "book",
    "catalogue",
    "costs",
    "documents",
    "entries",
    "expenses",
    "learned",
    "lending",
    "old_names",
    "past",
    "payments",
    "sessions",
    "sheet_rows",
    "turned",
    "use",
]


def __getattr__(name: str) -> object:
    if name in __all__:
        return import_module(f"{__name__}.{name}")
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
