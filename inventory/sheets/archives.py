"""A workbook's archive looked over before any of it is parsed: what it is, how large, and where formulas are."""

from __future__ import annotations

import re
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from inventory.sheets.sources import SourceError

CHUNK = 1 << 20
MOST_SHEETS = 1 << 30
"""Bytes all worksheets together may unfold to; a million rows of ten columns are about half of it."""
MOST_OTHER = 1 << 27
"""Bytes any other part, such as the shared texts, may unfold to."""
MOST_ROW = 8 << 20
"""Bytes without the end of a row in them; a row of 16,384 cells has about one eighth of it."""
MOST_PARTS = 10_000

_ROW_END = re.compile(rb"</(?:\w+:)?row>|<(?:\w+:)?row\b[^<>]*/>")
_OLD_FORMAT = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ENCRYPTED = "EncryptedPackage".encode("utf-16-le")
_DAMAGED = "The workbook is damaged or cut off. Open it in the program that made it and save it anew."


@dataclass(frozen=True, slots=True)
class Archive:
    """formulas: the worksheet parts that hold any formula."""

    formulas: frozenset[str]


def inspect(path: Path) -> Archive:
    """What is known of a workbook without parsing it. Raises SourceError, OSError."""
    _check_head(path)
    try:
        with zipfile.ZipFile(path) as archive:
            return _look_over(archive)
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError):
        raise SourceError(_DAMAGED) from None


def has_formulas(sheet: Any, formulas: frozenset[str]) -> bool:
    """Whether this worksheet may hold a formula; where its part's name is not known, any formula counts."""
    part = getattr(sheet, "_worksheet_path", None)
    return bool(formulas) if part is None else part in formulas


def _check_head(path: Path) -> None:
    with path.open("rb") as file:
        head = file.read(8)
        if head == _OLD_FORMAT:
            locked = _ENCRYPTED in file.read(CHUNK * 64)
            raise SourceError(
                "The workbook is locked with a password. Save it without one."
                if locked
                else "It is a workbook of the old .xls kind. Save it as .xlsx and give that one."
            )
    if not head.startswith(b"PK"):
        raise SourceError("It is not a workbook, whatever its name says. Save it as .xlsx or .csv.")


def _look_over(archive: zipfile.ZipFile) -> Archive:
    parts = archive.infolist()
    names = {part.filename for part in parts}
    if any(part.flag_bits & 1 for part in parts):
        raise SourceError("The archive is locked with a password. Save it without one.")
    if "[Content_Types].xml" not in names:
        foreign = "mimetype" in names
        raise SourceError(
            "It is an OpenDocument file. Save it as .xlsx and give that one."
            if foreign
            else "It is an archive of something else, not a workbook."
        )
    if len(parts) > MOST_PARTS:
        raise SourceError(f"The workbook has more than {MOST_PARTS} parts.")
    _check_sizes(parts)
    sheets = [part for part in parts if _is_sheet(part.filename)]
    return Archive(frozenset(part.filename for part in sheets if _scan(archive, part)))


def _is_sheet(name: str) -> bool:
    return "worksheets/" in name and name.endswith(".xml")


def _check_sizes(parts: list[zipfile.ZipInfo]) -> None:
    # the declared size is binding: the archive reader stops there and compares the checksum
    sheets = sum(part.file_size for part in parts if _is_sheet(part.filename))
    others = (
        part.file_size for part in parts if not _is_sheet(part.filename) and "/media/" not in part.filename
    )
    if sheets > MOST_SHEETS or any(size > MOST_OTHER for size in others):
        raise SourceError("The workbook unfolds to far more than any sheet of stock needs. It was not read.")


def _scan(archive: zipfile.ZipFile, part: zipfile.ZipInfo) -> bool:
    """Whether the worksheet holds a formula; refuses rows of no honest size and XML entities."""
    formulas, without_end = False, 0
    for block in _blocks(archive, part):
        if b"<!DOCTYPE" in block or b"<!ENTITY" in block:
            raise SourceError(
                "The workbook holds XML entities, which no honest workbook needs. It was not read."
            )
        formulas = formulas or any(mark in block for mark in (b"<f>", b"<f ", b"<f/>", b":f>", b":f "))
        without_end = 0 if _ROW_END.search(block) else without_end + len(block)
        if without_end > MOST_ROW:
            raise SourceError("The workbook holds a row of no honest size. It was not read.")
    return formulas


def _blocks(archive: zipfile.ZipFile, part: zipfile.ZipInfo) -> Iterator[bytes]:
    """The part in pieces that overlap a little, so that no mark is cut in two."""
    tail = b""
    with archive.open(part) as file:
        while block := file.read(CHUNK):
            yield tail + block
            tail = block[-16:]
