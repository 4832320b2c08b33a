"""Files that appear whole or not at all, and the names they may have."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from tempfile import mkstemp
from typing import TYPE_CHECKING

from inventory import leftovers
from inventory.errors import Refused

if TYPE_CHECKING:
    from openpyxl import Workbook

_SHEETS = frozenset(
    {
        ".csv",
        ".tsv",
        ".txt",
        ".xls",
        ".xlsm",
        ".xlsb",
        ".xlt",
        ".xltx",
        ".ods",
        ".fods",
        ".numbers",
        ".pdf",
        ".html",
    }
)
"""Endings of files: a name with one was not meant for a folder."""


def check_workbook(path: Path) -> None:
    """Refuse a name no spreadsheet program would open as a workbook."""
    if path.suffix.casefold() != ".xlsx":
        raise Refused(f"{path.name} is no name for a workbook.", hint="Let it end in .xlsx.")


def is_workbook(path: Path) -> bool:
    """Whether a form goes into a workbook; otherwise into a folder. Raises Refused for names of other files."""
    suffix = path.suffix.casefold()
    if suffix in _SHEETS and not path.is_dir():
        hint = "Let the name end in .xlsx, or give a folder for CSV files."
        raise Refused(f"{path.name} is no name for this sheet.", hint=hint)
    return suffix == ".xlsx" and not path.is_dir()


def check_free(path: Path, *, overwrite: bool = False) -> None:
    """Refuse a place where a file cannot be put, or must not replace one. Raises Refused."""
    if path.is_dir():
        raise Refused(f"{path} is a folder.", hint="Give the name of a file in it.")
    if path.exists() and not overwrite:
        raise Refused(f"{path} is there already.", hint="It was left as it is. Give another name.")


@contextmanager
def saving(path: Path, *, overwrite: bool = False) -> Iterator[Path]:
    """A file beside `path` to be written, put in its place when all went well and removed otherwise. Raises Refused."""
    check_free(path, overwrite=overwrite)
    leftovers.clear(path)
    try:
        handle, name = mkstemp(prefix=leftovers.start_of(path), suffix=leftovers.ENDING, dir=path.parent)
        os.close(handle)
    except OSError as error:
        raise _cannot_write(path, error) from None
    unfinished = Path(name)
    try:
        yield unfinished
        unfinished.chmod(0o666 & ~_umask())  # mkstemp makes files only their owner may read
        _to_disk(unfinished)  # else a power cut may leave the name without what was written
        unfinished.replace(path)
    except OSError as error:
        raise _cannot_write(path, error) from error
    finally:
        unfinished.unlink(missing_ok=True)


def make_folder(folder: Path, files: Iterable[Path], *, overwrite: bool = False) -> None:
    """A folder for these files. Raises Refused where one is there already, or it cannot be made."""
    there = [path.name for path in files if path.exists()]
    if there and not overwrite:
        hint = "Nothing in it was touched. Give another folder."
        raise Refused(f"{folder} holds {', '.join(there)} already.", hint=hint)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        hint = "Give a folder, or a file ending in .xlsx for a workbook."
        raise Refused(f"The folder {folder} cannot be made: {error.strerror}.", hint=hint) from None


def save_workbook(workbook: Workbook, path: Path) -> None:
    """Save a workbook by way of memory: on a disk that fills up its archive would be left open, and complain later."""
    whole = BytesIO()
    workbook.save(whole)
    path.write_bytes(whole.getbuffer())


def _to_disk(path: Path) -> None:
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _cannot_write(path: Path, error: OSError) -> Refused:
    hint = "Choose a folder that is there and may be written to, and close the file if another program has it open."
    return Refused(f"{path} cannot be written: {error.strerror or error}.", hint=hint)
