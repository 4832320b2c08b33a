"""The book on disk or on a server: SQLite in one file, or PostgreSQL.

Each module loads when one of its names is first asked for: looking needs neither proof nor copies.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inventory.store.check.proof import verify
    from inventory.store.copies.backups import backup, restore
    from inventory.store.copies.transfer import carry
    from inventory.store.opening import begin, open_store, open_to_look
    from inventory.store.read import Read
    from inventory.store.store import Store

__all__ = ["Read", "Store", "backup", "begin", "carry", "open_store", "open_to_look", "restore", "verify"]

_HOMES = {
    "copies.backups": "backup restore",
    "copies.transfer": "carry",
    "opening": "begin open_store open_to_look",
    "check.proof": "verify",
    "read": "Read",
    "store": "Store",
}


def __getattr__(name: str) -> object:
    for module, names in _HOMES.items():
        if name in names.split():
            found = getattr(import_module(f"{__name__}.{module}"), name)
            globals()[name] = found
            return found
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
