"""An older book brought up to date: first a copy of it as it was, then the missing steps, as one change.

The copy is taken with the write lock held, so that nothing can be booked between it and the steps. A file's copy lies
beside the file; a server's is a file too, in the user's own folder (`engines.own_folder`).
"""

from __future__ import annotations

import re
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Connection, MetaData, text, update

from inventory import __version__
from inventory.errors import StoreReadOnly, StoreTrouble
from inventory.store import engine
from inventory.store.copies import checksums
from inventory.store.copies.copy import copy_file, keep_log, made_whole
from inventory.store.creating import make
from inventory.store.db_errors import read_only
from inventory.store.schema import version
from inventory.store.schema.core import table

if TYPE_CHECKING:
    from inventory.store.store import Store

_SHOP = table("shop")
_OWNED = "SELECT pg_has_role(relowner, 'USAGE') FROM pg_class WHERE oid = CAST('shop' AS regclass)"


def bring_up_to_date(store: Store, *, keep: bool = True) -> Path | None:
    """Run the missing steps in one transaction. Returns the copy; None where somebody else was quicker, or not `keep`.

    Raises StoreReadOnly for who may not change the tables, StoreTrouble where no copy can be made; then nothing was
    changed.
    """
    if not store.writable:
        raise read_only(store.shown)
    try:
        with store.writing(engine.MAKING) as connection:
            found = version.revision(connection, store.shown)
            if found == version.HEAD:
                return None
            copy = _copied(store, connection, found) if keep else None
            version.upgrade(connection)
            connection.execute(update(_SHOP).values(program=__version__))
    except StoreReadOnly as error:
        if store.where.file is not None:
            raise
        raise StoreReadOnly(
            f"{store.shown} has older tables, which your role may not bring up to date.",
            hint="Who owns the book has to open it once with this version of kitdrawer (any command will do), "
            "and then to run what `kitdrawer admit` prints for every role.",
        ) from error
    return copy


def _copied(store: Store, connection: Connection, found: str) -> Path:
    stamp = datetime.now(UTC).strftime("%Y%m%d-%H%M%S-%f")
    ending = f"before-{version.HEAD}-{stamp}"
    if store.where.file is not None:
        copy = store.where.file.with_name(f"{store.where.file.name}.{ending}")
        copy_file(store.where.file, copy, check=checksums.put_on)
        return copy
    if not connection.execute(text(_OWNED)).scalar_one():
        raise read_only(store.shown)
    name = re.sub(r"[^\w-]", "_", (store.where.url and store.where.url.database) or "book")
    copy = _own_folder() / f"{name}.{ending}"
    made_whole(copy, lambda fresh: _poured(connection, found, fresh))
    return copy


def _own_folder() -> Path:
    folder = engine.own_folder()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise StoreTrouble(
            f"No copy can be made at {folder}.",
            hint=f"{error.strerror}. An older book is copied there before it is changed; "
            "where there is XDG_DATA_HOME, it names another folder.",
        ) from error
    return folder


def _poured(server: Connection, found: str, fresh: Path) -> None:
    """A server's older tables, row by row, in a file whose tables are as old; compared before it is believed."""
    from inventory.store.copies.transfer import pour, same

    def fill(file: Connection) -> None:
        older = MetaData()
        older.reflect(file)
        older.remove(older.tables["alembic_version"])  # the steps wrote it
        same(file, pour(server, file, None, older), str(fresh), older)

    make(engine.Whereabouts(file=fresh), fill, found)
    keep_log(fresh, "DELETE")
    checksums.put_on(fresh)
