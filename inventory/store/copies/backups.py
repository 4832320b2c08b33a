"""Copies of a store, and putting one back."""

from __future__ import annotations

import os
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from inventory import leftovers
from inventory.errors import NotAStore, StoreBusy, StoreFull, StoreReadOnly, StoreTrouble
from inventory.store.check.proof import verify
from inventory.store.copies import checksums
from inventory.store.copies.copy import (
    copy_file,
    has_tables,
    keep_log,
    made_whole,
    pour,
    remove,
    to_disk,
    unreadable,
)
from inventory.store.db_errors import translated
from inventory.store.engine import find
from inventory.store.opening import open_store
from inventory.store.store import Store

_SQLITE = b"SQLite format 3\0"
"""How every file of SQLite begins (its file format, 1.2.1)."""


def backup(store: Store, target: str | Path, *, over: bool = False) -> Path:
    """Copy a store into a file while it is in use, prove the copy, and only then give it its name.

    A store on a server is carried into the file. over: replace a file that is there. Returns where the copy is.
    Raises StoreTrouble.
    """
    path = Path(target).expanduser().absolute()
    if store.where.file is None:
        _from_server(store, path, over=over)
        return path
    if path == store.where.file:
        raise StoreTrouble(
            "The copy would replace the store itself.", hint="Choose another name for the copy."
        )
    copy_file(store.where.file, path, over=over, check=_prove_and_seal)
    return path


def _from_server(store: Store, path: Path, *, over: bool) -> None:
    from inventory.store.copies.transfer import carry

    if not path.parent.is_dir():
        raise StoreTrouble(
            f"No copy can be made at {path}.",
            hint="Its folder is not there: make it, or give a name in one that is.",
        )

    def write(fresh: Path) -> None:
        carry(store, fresh)
        keep_log(fresh, "DELETE")
        checksums.put_on(fresh)

    made_whole(path, write, over=over)


def restore(source: str | Path, target: str | Path) -> Path | None:
    """Put a copy in the place of a store, once the copy is proved; the store it replaces is kept beside it.

    Returns where the replaced store went, or None where there was none. Raises NotAStore, StoreBusy, StoreTrouble.
    """
    copy, place = Path(source).expanduser().absolute(), find(target)
    if place.file is None:
        raise StoreTrouble(
            f"A copy is not put over what {place.shown} holds: nothing written there is ever replaced.",
            hint=f"Carry it into an empty database: kitdrawer carry URL --store {copy}",
        )
    path = place.file
    if copy == path:
        raise StoreTrouble(
            "The copy is the store itself.", hint="Name a copy and the store it shall replace."
        )
    check_copy(copy)
    path.parent.mkdir(parents=True, exist_ok=True)
    if not path.exists():
        copy_file(copy, path, check=_prove, log="WAL")
        return None
    leftovers.clear(path)
    fresh = leftovers.unfinished(path)
    try:
        copy_file(copy, fresh, check=_prove, log="WAL")
        kept = path.with_name(f"{path.name}.replaced-{datetime.now(UTC).strftime('%Y%m%d-%H%M%S-%f')}")
        _exchange(fresh, path, kept)
    finally:
        remove(fresh)
    return kept


def check_copy(source: str | Path) -> None:
    """Refuse what never was a copy of a book (NotAStore), or is not what was written (StoreTrouble)."""
    copy = Path(source).expanduser().absolute()
    if not copy.is_file():
        raise NotAStore(f"There is no copy at {copy}.", hint="Give the file that `kitdrawer backup` made.")
    if not _is_ours(copy):
        raise NotAStore(
            f"{copy} is not a backup: it is no book of kitdrawer.",
            hint="Nothing was changed. Give the file that `kitdrawer backup` made.",
        )
    if checksums.is_broken(copy):
        raise StoreTrouble(
            f"The copy {copy} is damaged: it is not what was written.",
            hint="Write it once more, to another place: kitdrawer backup FILE.",
        )


def _is_ours(copy: Path) -> bool:
    """Whether a file holds a book's tables, damaged or not. Raises StoreTrouble where it cannot be read."""
    try:
        with copy.open("rb") as file:
            begins = file.read(len(_SQLITE))
    except OSError:
        raise unreadable(copy) from None
    return begins == _SQLITE and has_tables(copy, ("shop", "alembic_version")) is not False


def _exchange(fresh: Path, path: Path, kept: Path) -> None:
    """A store is copied aside and filled anew in one transaction, so that a process using it sees old or new.

    Something else, or a damaged file, is renamed with its log.
    """
    try:
        with closing(open_store(path)):
            copy_file(path, kept, check=checksums.put_on)
    except (StoreBusy, StoreReadOnly, StoreFull):
        raise
    except StoreTrouble:
        _keep_aside(path, kept)
        fresh.replace(path)
    else:
        with translated(str(path)):
            pour(fresh, path)
    to_disk(path.parent)


def _keep_aside(path: Path, kept: Path) -> None:
    """Give what is beyond reading a second name, so that there is something at the first until it is replaced."""
    for ending in ("-wal", "-shm"):
        if (beside := path.with_name(path.name + ending)).exists():
            beside.replace(kept.with_name(kept.name + ending))
    try:
        os.link(path, kept)
    except OSError:  # a file system without hard links
        path.replace(kept)


def _prove_and_seal(copy: Path) -> None:
    _prove(copy)
    checksums.put_on(copy)


def _prove(copy: Path) -> None:
    with closing(open_store(copy, keep=False)) as store:
        problems = verify(store)
    if problems:
        raise StoreTrouble(
            f"The copy is not sound: {problems[0]}",
            hint="Nothing was changed. `kitdrawer verify`, on the book it came from, names all of it.",
        )
