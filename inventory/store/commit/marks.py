"""What tells one booked document from every other that might bear its number: to find again in a file what was booked.

On a server the number of the transaction does that (`store.commit.outcomes`); a file knows no such number.
"""

from __future__ import annotations

from hashlib import blake2b

from sqlalchemy import Connection, func, select

from inventory.store.schema.core import table

_DOCUMENT, _LINE = table("document"), table("movement")


def newest(connection: Connection) -> str:
    """The mark of the document with the highest number; empty where there is none."""
    number = connection.execute(select(func.max(_DOCUMENT.c.id))).scalar()
    return "" if number is None else _mark(connection, int(number))


def stands(connection: Connection, mark: str) -> bool:
    """Whether the document of this mark is in the book."""
    number = mark.partition(" ")[0]
    return number.isdecimal() and _mark(connection, int(number)) == mark


def _mark(connection: Connection, number: int) -> str:
    """The number, and a digest of what the document says of itself and of the sums of its lines."""
    head = connection.execute(select(_DOCUMENT).where(_DOCUMENT.c.id == number)).one_or_none()
    lines = select(
        func.count(), func.min(_LINE.c.id), func.sum(_LINE.c.quantity), func.sum(_LINE.c.cost)
    ).where(_LINE.c.document_id == number)
    said = None if head is None else (tuple(head), tuple(connection.execute(lines).one()))
    return f"{number} {blake2b(repr(said).encode(), digest_size=8).hexdigest()}"
