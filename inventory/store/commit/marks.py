"""What tells one booked document from every other that might bear its number: to find again in a file what was booked.

On a server the number of the transaction does that (`store.commit.outcomes`); a file knows no such number.
"""

from __future__ import annotations

from hashlib import blake2b
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sqlalchemy import Connection

_NEWEST = "SELECT max(id) FROM document"
_HEAD = "SELECT kind, title, on_date, booked_at, fingerprint, reverses, undo_depth FROM document WHERE id = ?"
_LINES = "SELECT count(*), min(id), sum(quantity), sum(cost) FROM movement WHERE document_id = ?"


def newest(connection: Connection) -> str:
    """The mark of the document with the highest number; empty where there is none."""
    number = connection.exec_driver_sql(_NEWEST).scalar()
    return "" if number is None else _mark(connection, int(number))


def stands(connection: Connection, mark: str) -> bool:
    """Whether the document of this mark is in the book."""
    number = mark.partition(" ")[0]
    return number.isdecimal() and _mark(connection, int(number)) == mark


def _mark(connection: Connection, number: int) -> str:
    """The number, and a digest of what the document says of itself and of the sums of its lines."""
    said = [tuple(row) for sql in (_HEAD, _LINES) for row in connection.exec_driver_sql(sql, (number,))]
    return f"{number} {blake2b(repr(said).encode(), digest_size=8).hexdigest()}"
