"""A workbook's archive looked over before any of it is parsed: what it is, how large, and where its parts are."""

from __future__ import annotations

import posixpath
import struct
import zipfile
import zlib
from contextlib import ExitStack
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import IO
from urllib.parse import unquote

from inventory.sheets.files import SourceError
from inventory.sheets.xlsx.markup import DAMAGED, Attributes, Elements, parse

CHUNK = 1 << 20
MOST_SHEETS = 1 << 30
"""Bytes all worksheets together may unfold to; a million rows of ten columns are about half of it."""
MOST_OTHER = 1 << 27
"""Bytes any other part, such as the shared texts, may unfold to."""
MOST_FRAME = 1 << 24
"""Bytes of a part that only says where others are."""
LARGE, MOST_RATIO = 1 << 24, 500
"""From how many bytes on a part is looked at, and times it may be longer than what is stored of it; equal rows are
20 to 100 times longer."""
MOST_PARTS = 10_000

CONTENT_TYPES = "[Content_Types].xml"
_OLD_FORMAT = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ENCRYPTED = "EncryptedPackage".encode("utf-16-le")
_BROKEN = (
    *(zipfile.BadZipFile, zlib.error, EOFError, struct.error, NotImplementedError),
    *(
        ValueError,
        OverflowError,
        RuntimeError,
    ),  # what the archive reader makes of lengths and offsets that lie
)
_METHODS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
"""The ways of packing a workbook may use (ECMA-376 part 2, annex B); others unfold at once, without bound."""
_TOO_LARGE = "The workbook unfolds to far more than any sheet of stock needs. It was not read."


@dataclass(frozen=True, slots=True)
class Relation:
    """Where one part points: kind is the last word of its type, such as `worksheet`; part is empty outside."""

    kind: str
    part: str


@dataclass(frozen=True, slots=True)
class Package:
    """An open archive. parts: by name, whatever its capitals (ECMA-376 part 2, 6.2.2.3)."""

    archive: zipfile.ZipFile
    parts: dict[str, zipfile.ZipInfo]

    def has(self, part: str) -> bool:
        """Whether there is such a part."""
        return part.casefold() in self.parts

    def size(self, part: str) -> int:
        """Bytes a part unfolds to. Raises SourceError where it is not there."""
        found = self.parts.get(part.casefold())
        if found is None:
            raise SourceError(DAMAGED)
        return found.file_size

    def open(self, part: str) -> IO[bytes]:
        """The part to be read. Raises SourceError where it is not there or broken."""
        self.size(part)
        try:
            return self.archive.open(self.parts[part.casefold()])
        except (*_BROKEN, OSError):
            raise SourceError(DAMAGED) from None

    def head(self, part: str, most: int = 4096) -> bytes:
        """The first bytes of a part. Raises SourceError."""
        with self.open(part) as stream:
            try:
                return stream.read(most)
            except (*_BROKEN, OSError):
                raise SourceError(DAMAGED) from None

    def read(self, part: str, elements: Elements, most: int = MOST_FRAME) -> None:
        """Read a whole part of at most `most` bytes. Raises SourceError."""
        if self.size(part) > most:
            raise SourceError(_TOO_LARGE)
        with self.open(part) as stream:
            for _ in parse(stream, elements):
                pass

    def relations(self, part: str) -> dict[str, Relation]:
        """Where a part points, by the id it uses; the archive itself is the part of no name."""
        folder, name = posixpath.split(part)
        rels = posixpath.join(folder, "_rels", f"{name}.rels")
        found = _Relations(folder)
        if self.has(rels):
            self.read(rels, found)
        return found.relations


class _Relations(Elements):
    """A part of relations (ECMA-376 part 2, 6.5.3)."""

    def __init__(self, folder: str) -> None:
        super().__init__()
        self.folder = folder
        self.relations: dict[str, Relation] = {}
        self.on("Relationship", self._one)

    def _one(self, attributes: Attributes) -> None:
        target = unquote(attributes.get("Target", ""))
        inside = attributes.get("TargetMode", "Internal") != "External"
        # a path from the root, or from the part's own folder; one that leads out of the archive finds nothing in it
        part = posixpath.normpath(posixpath.join("/", self.folder, target)).lstrip("/") if inside else ""
        kind = attributes.get("Type", "").rpartition("/")[2]
        self.relations[attributes.get("Id", "")] = Relation(kind, part)


class _Kinds(Elements):
    """What each part is (ECMA-376 part 2, 6.2.3): by its name, else by the ending of it."""

    def __init__(self) -> None:
        super().__init__()
        self.kinds: dict[str, str] = {}
        self.on("Override", self._part)
        self.on("Default", self._ending)

    def of(self, part: str) -> str:
        """What a part is; empty where nothing says it."""
        ending = "." + part.rpartition(".")[2]
        return self.kinds.get(part.casefold()) or self.kinds.get(ending.casefold(), "")

    def _part(self, attributes: Attributes) -> None:
        name = unquote(attributes.get("PartName", "")).lstrip("/").casefold()
        self.kinds[name] = attributes.get("ContentType", "")

    def _ending(self, attributes: Attributes) -> None:
        self.kinds["." + attributes.get("Extension", "").casefold()] = attributes.get("ContentType", "")


def open_package(path: Path, stack: ExitStack) -> tuple[Package, str]:
    """The workbook's archive, open until `stack` closes, and its main part. Raises SourceError, OSError."""
    _check_head(path)
    try:
        package = _looked_over(stack.enter_context(zipfile.ZipFile(path)))
    except _BROKEN:
        raise SourceError(DAMAGED) from None
    kinds = _Kinds()
    package.read(CONTENT_TYPES, kinds)
    mains = [one.part for one in package.relations("").values() if one.kind == "officeDocument"]
    if not mains or not package.has(mains[0]):
        raise SourceError(DAMAGED)
    _check_kind(kinds.of(mains[0]))
    return package, mains[0]


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


def _check_kind(kind: str) -> None:
    if "sheet.binary" in kind:
        raise SourceError("It is a workbook of the .xlsb kind. Save it as .xlsx and give that one.")
    if not kind:
        raise SourceError(DAMAGED)
    if "spreadsheetml" not in kind and "ms-excel" not in kind:
        raise SourceError("It is an archive of something else, not a workbook.")


def _looked_over(archive: zipfile.ZipFile) -> Package:
    parts = archive.infolist()
    named = {part.filename.casefold(): part for part in parts}
    if any(part.flag_bits & 1 for part in parts):
        raise SourceError("The archive is locked with a password. Save it without one.")
    if CONTENT_TYPES.casefold() not in named:
        foreign = "mimetype" in named
        raise SourceError(
            "It is an OpenDocument file. Save it as .xlsx and give that one."
            if foreign
            else "It is an archive of something else, not a workbook."
        )
    if len(parts) > MOST_PARTS:
        raise SourceError(f"The workbook has more than {MOST_PARTS} parts.")
    odd = any(part.compress_type not in _METHODS for part in parts)
    if len(named) < len(parts) or odd or _overlap(parts):
        raise SourceError(DAMAGED)
    _check_sizes(parts)
    return Package(archive, named)


def _overlap(parts: list[zipfile.ZipInfo]) -> bool:
    """Whether two parts share what is stored of them: so do archives that are made to unfold without end."""
    places = sorted((part.header_offset, part.compress_size) for part in parts)
    return any(start + size > after for (start, size), (after, _) in pairwise(places))


def _is_sheet(name: str) -> bool:
    return "worksheets/" in name and name.endswith(".xml")


def _check_sizes(parts: list[zipfile.ZipInfo]) -> None:
    # the declared size is binding: the archive reader stops there and compares the checksum
    sheets = sum(part.file_size for part in parts if _is_sheet(part.filename))
    others = [part for part in parts if not _is_sheet(part.filename) and "/media/" not in part.filename]
    large = any(part.file_size > max(LARGE, MOST_RATIO * part.compress_size) for part in parts)
    if large or sheets > MOST_SHEETS or any(part.file_size > MOST_OTHER for part in others):
        raise SourceError(_TOO_LARGE)
