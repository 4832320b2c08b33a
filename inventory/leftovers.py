"""Hidden files that are to become others, and those that a kill left behind: they are cleared at the next write there.

A name tells whose it is: this machine's mark and the number of the process. What a process that is gone left is
cleared at once; where that cannot be told (another machine's, a name of an earlier version) after a day.
"""

from __future__ import annotations

import os
import re
from contextlib import suppress
from pathlib import Path
from platform import node
from time import time
from zlib import crc32

ENDING = ".new"
BESIDE = ("", "-wal", "-shm", "-journal")
"""Endings of what a database keeps beside its file."""
LONG = 24 * 60 * 60
"""Seconds after which nobody is still writing it."""
_MACHINE = f"{crc32(node().encode()):08x}"
_NAMED = re.compile(r"\.([0-9a-f]{8})-([0-9]{1,9})-\w+" + re.escape(ENDING))


def start_of(file: Path) -> str:
    """How the name of a file that is to become `file` begins."""
    return f".{file.name}.{_MACHINE}-{os.getpid()}-"


def unfinished(file: Path) -> Path:
    """A hidden name beside a file for what is to become it; no two runs have the same, nor what a killed one left."""
    return file.with_name(f"{start_of(file)}{os.urandom(4).hex()}{ENDING}")


def clear(file: Path) -> None:
    """Delete what killed runs left that was to become this file, or a copy beside it. What cannot be is left alone."""
    with suppress(OSError):
        for name in os.listdir(file.parent):
            if name.startswith(f".{file.name}.") and name.endswith(ENDING):
                _clear(file.with_name(name))


def _clear(left: Path) -> None:
    with suppress(OSError):  # somebody else cleared it, or may
        if nobodys(left):
            for ending in BESIDE:
                left.with_name(left.name + ending).unlink(missing_ok=True)


def nobodys(left: Path) -> bool:
    """Whether whoever made this file is gone, as far as can be told. Raises OSError where the file is."""
    found = _NAMED.search(left.name)
    if found and found[1] == _MACHINE and os.name != "nt":  # Windows has no way to ask without harm
        return not _lives(int(found[2]))
    return time() - left.stat().st_mtime > LONG


def _lives(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True  # somebody else's
    return True
