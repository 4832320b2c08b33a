"""A whole, closed copy of a store's file, taken while others may go on working."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable, Sequence
from contextlib import closing
from errno import EINVAL, ENOTSUP
from pathlib import Path
from time import monotonic

from inventory import leftovers
from inventory.errors import StoreTrouble
from inventory.store.copies import checksums
from inventory.store.db_errors import busy, translated
from inventory.store.engine import BUSY_SECONDS, PRIVATE, cannot_lock, reading_accesses


def copy_file(
    source: Path,
    target: Path,
    *,
    over: bool = False,
    check: Callable[[Path], None] | None = None,
    log: str = "DELETE",
) -> None:
    """Copy a store with SQLite's online backup; `target` appears whole, and checked, or not at all.

    over: replace what is at `target`. check: called with the copy before it gets its name. log: see `keep_log`.
    Raises StoreTrouble.
    """

    def write(fresh: Path) -> None:
        with translated(str(target)):
            fresh.touch(PRIVATE)
            pour(source, fresh)
            keep_log(fresh, log)
        if check is not None:
            _checked(check, fresh, source)
        fresh.chmod(source.stat().st_mode & 0o777 | PRIVATE)  # who may read the book may read its copy

    made_whole(target, write, over=over)


def _checked(check: Callable[[Path], object], fresh: Path, source: Path) -> None:
    """Check the copy; what is wrong with it is said of the file it was made from, which the person knows."""
    try:
        check(fresh)
    except StoreTrouble as error:
        error.message = error.message.replace(str(fresh), str(source))
        raise


def made_whole(target: Path, write: Callable[[Path], object], *, over: bool = False) -> None:
    """Have a file made under a hidden name, wait until it is on the disk, and only then give it its name.

    over: replace what is at `target`. Raises StoreTrouble, and whatever `write` raises; then no file is left.
    """
    if target.exists() and not over:
        raise StoreTrouble(f"There is already a file at {target}.", hint="Choose another name for the copy.")
    leftovers.clear(target)
    fresh = leftovers.unfinished(target)
    try:
        write(fresh)
        to_disk(fresh)
        fresh.replace(target)
        to_disk(target.parent)
    except OSError as error:
        raise StoreTrouble(
            f"No copy can be made at {target}.", hint=f"{error.strerror}: choose another place."
        ) from error
    finally:
        remove(fresh)


def pour(source: Path, into: Path) -> None:
    """Make `into` hold what `source` holds, in one transaction: others see the old or the new, never a mixture."""
    with closing(_readable(source)) as here, closing(sqlite3.connect(into, timeout=BUSY_SECONDS)) as there:
        here.backup(there, progress=_patient(into))


def _readable(source: Path) -> sqlite3.Connection:
    for access in ("mode=rw", *reading_accesses(source)):  # only who may write clears the log away again
        try:
            found = sqlite3.connect(f"{source.as_uri()}?{access}", uri=True, timeout=BUSY_SECONDS)
        except sqlite3.OperationalError:
            continue
        try:
            found.execute("SELECT count(*) FROM sqlite_master")
        except sqlite3.Error as error:
            found.close()
            if not cannot_lock(error):
                with translated(str(source)):
                    raise
        else:
            return found
    raise unreadable(source)


def unreadable(source: Path) -> StoreTrouble:
    """The refusal of a file one may not read."""
    return StoreTrouble(
        f"{source} cannot be read.", hint="Check the permissions of the file and of its folder."
    )


def has_tables(file: Path, names: Sequence[str]) -> bool | None:
    """Whether a file of SQLite has these tables; None where it is beyond reading."""
    try:
        with closing(_readable(file)) as there:
            found = {name for (name,) in there.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    except (sqlite3.Error, StoreTrouble):
        return None
    return set(names) <= found


def _patient(into: Path) -> Callable[[int, int, int], None]:
    """Give up where somebody keeps writing to `into`: left alone, sqlite3 would try for ever."""
    until = monotonic() + BUSY_SECONDS

    def told(status: int, _: int, __: int) -> None:
        if status in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED) and monotonic() > until:
            raise busy(str(into))

    return told


def keep_log(file: Path, mode: str) -> None:
    """WAL: readers and a writer side by side, as a store in use needs; DELETE: one file alone, as a copy should be."""
    with closing(sqlite3.connect(file, timeout=BUSY_SECONDS)) as connection:
        connection.execute(f"PRAGMA journal_mode = {mode}")
        connection.execute(checksums.OFF)  # a copy of a sealed copy is not yet what will be sealed


def remove(file: Path) -> None:
    """Delete a temporary store and the log beside it, where they are still there."""
    for ending in leftovers.BESIDE:
        file.with_name(file.name + ending).unlink(missing_ok=True)


def to_disk(path: Path) -> None:
    """Wait until a file, or the names in a folder, are on the disk itself."""
    if path.is_dir() and os.name == "nt":
        return  # Windows cannot open a folder, and keeps its names safe by itself
    handle = os.open(path, os.O_RDONLY if path.is_dir() else os.O_RDWR)
    try:
        os.fsync(handle)
    except OSError as error:
        deaf = path.is_dir() and error.errno in (EINVAL, ENOTSUP)  # some network folders cannot be told to
        if not deaf:
            raise
    finally:
        os.close(handle)
