"""A seal on a copy: the check sum of all its bytes, kept in the file, so that a copy gone bad on its disk is known.

SQLite keeps no check sums of its pages: one that reads well and is an older state of itself, or belongs elsewhere,
may pass every other test. The seal stands where the format leaves four bytes to programs (the application ID, at
offset 68: https://www.sqlite.org/fileformat2.html); 0 there is no seal. It is CRC-32 (ISO 3309), and holds until the
copy is written to as a book, which takes it off.
"""

from __future__ import annotations

from pathlib import Path
from zlib import crc32

from sqlalchemy import Connection

_AT, _LENGTH = 68, 4
_PORTION = 1 << 20
OFF = "PRAGMA application_id = 0"
"""Takes the seal off, in whatever transaction this runs in."""


def put_on(file: Path) -> None:
    """Seal a closed file which nobody else has open."""
    found = _sum(file)
    with file.open("r+b") as copy:
        copy.seek(_AT)
        copy.write(found.to_bytes(_LENGTH))


def is_broken(file: Path) -> bool:
    """Whether a file bears a seal, and is no longer what was sealed; a file that cannot be read bears none."""
    try:
        with file.open("rb") as copy:
            copy.seek(_AT)
            said = int.from_bytes(copy.read(_LENGTH))
        return said != 0 and said != _sum(file)  # a book in use has no seal, and is not read through for it
    except OSError:
        return False


def take_off(connection: Connection) -> None:
    """Before anything is written into what was a sealed copy; on a server, and without a seal, nothing happens."""
    if (
        connection.dialect.name == "sqlite"
        and connection.exec_driver_sql("PRAGMA application_id").scalar_one()
    ):
        connection.exec_driver_sql(OFF)


def _sum(file: Path) -> int:
    """The check sum with the seal's own bytes counted as 0; never 0 itself."""
    found = 0
    with file.open("rb") as copy:
        first = bytearray(copy.read(_PORTION))
        first[_AT : _AT + _LENGTH] = bytes(_LENGTH)
        portion = bytes(first)
        while portion:
            found = crc32(portion, found)
            portion = copy.read(_PORTION)
    return found or 1
