"""A whole, closed copy of a store's file, taken while others may go on working."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from pathlib import Path

from inventory.errors import StoreTrouble
from inventory.store.troubles import translated


def copy_file(source: Path, target: Path, *, over: bool = False) -> None:
    """Copy a store with SQLite's online backup; `target` appears whole or not at all.

    over: replace what is at `target`. Raises StoreTrouble.
    """
    if target.exists() and not over:
        raise StoreTrouble(f"There is already a file at {target}.", hint="Choose another name for the copy.")
    fresh = target.with_name(f".{target.name}.{os.getpid()}.new")
    try:
        with translated(str(target)):
            _backup(source, fresh)
        to_disk(fresh)
        fresh.replace(target)
        to_disk(target.parent)
    except OSError as error:
        raise StoreTrouble(
            f"No copy can be made at {target}.", hint=f"{error.strerror}: choose another place."
        ) from error
    finally:
        fresh.unlink(missing_ok=True)


def _backup(source: Path, fresh: Path) -> None:
    with (
        closing(sqlite3.connect(f"{source.as_uri()}?mode=ro", uri=True, timeout=10)) as here,
        closing(sqlite3.connect(fresh)) as there,
    ):
        here.backup(there)


def to_disk(path: Path) -> None:
    """Wait until a file, or the names in a folder, are on the disk itself."""
    if path.is_dir() and os.name == "nt":
        return  # Windows cannot open a folder, and keeps its names safe by itself
    handle = os.open(path, os.O_RDONLY if path.is_dir() else os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
