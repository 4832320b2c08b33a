"""XML read as a stream and without trust: no document types, no depth, and nothing kept but what is asked for."""

from __future__ import annotations

import re
import zlib
from collections.abc import Callable, Iterator, Mapping
from typing import IO
from xml.parsers import expat
from zipfile import BadZipFile

from inventory.sheets.files import SourceError

PIECE = 1 << 18
"""Bytes given to the parser at once."""
LONGEST_TOKEN = 4 << 20
"""Bytes of one tag, remark or attribute: the parser begins anew with an unfinished one at every piece."""
LONGEST_TEXT = 40_000
"""Characters of one text that is kept; a cell of common programs holds 32,767."""
DEEPEST = 200
"""Elements inside one another."""
DAMAGED = "The workbook is damaged or cut off. Open it in the program that made it and save it again."
ENTITIES = "The workbook holds XML entities, which no honest workbook needs. It was not read."

_NAMESPACES = (
    "http://schemas.openxmlformats.org/spreadsheetml/2006/main",
    "http://purl.oclc.org/ooxml/spreadsheetml/main",  # “strict” workbooks, ISO/IEC 29500 part 1
    "http://schemas.openxmlformats.org/package/2006/relationships",
    "http://schemas.openxmlformats.org/package/2006/content-types",
)
_ESCAPED = re.compile("_x([0-9A-Fa-f]{4})_")

Attributes = Mapping[str, str]


class Elements:
    """What is done at the start and the end of each element that matters, and the text between where it is wanted.

    A subclass names its elements through `on`, and calls `gather` where text is to be kept until `gathered`.
    """

    def __init__(self) -> None:
        self.starts: dict[str, Callable[[Attributes], None]] = {}
        self.ends: dict[str, Callable[[], None]] = {}
        self.wanted: list[str] | None = None
        self.length = 0

    def on(
        self,
        name: str,
        start: Callable[[Attributes], None] | None = None,
        end: Callable[[], None] | None = None,
    ) -> None:
        """Call `start` with its attributes at every element of this name of a workbook's, and `end` at its end."""
        for space in _NAMESPACES:
            if start is not None:
                self.starts[f"{space} {name}"] = start
            if end is not None:
                self.ends[f"{space} {name}"] = end

    def gather(self, _attributes: Attributes | None = None) -> None:
        """Begin to keep text."""
        self.wanted, self.length = [], 0

    def gathered(self) -> str:
        """The text kept since; nothing is kept from now on."""
        text, self.wanted = "".join(self.wanted or ()), None
        return text

    def said(self, text: str) -> None:
        """The parser has seen text."""
        if self.wanted is None:
            return
        self.wanted.append(text)
        self.length += len(text)
        if self.length > LONGEST_TEXT:
            raise SourceError(f"A cell holds more than {LONGEST_TEXT:,} characters. It was not read.")


def parse(stream: IO[bytes], elements: Elements) -> Iterator[None]:
    """Read the XML of `stream` into `elements`, stopping after every piece. Raises SourceError."""
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    parser.StartElementHandler, parser.EndElementHandler = _element_handlers(elements)
    parser.CharacterDataHandler = elements.said
    parser.StartDoctypeDeclHandler = _refuse_doctype
    passed = 0
    try:
        while piece := stream.read(PIECE):
            parser.Parse(piece, False)
            passed += len(piece)
            if passed - parser.CurrentByteIndex > LONGEST_TOKEN:
                raise SourceError("The workbook holds XML of no honest size. It was not read.")
            yield
        parser.Parse(b"", True)
    except (expat.ExpatError, BadZipFile, zlib.error, EOFError, LookupError, ValueError):
        raise SourceError(DAMAGED) from None
    except OSError as error:
        raise SourceError(f"It cannot be read: {error.strerror or error}.") from error
    yield


def _element_handlers(elements: Elements) -> tuple[Callable[[str, Attributes], None], Callable[[str], None]]:
    """What the parser calls at every start and end of an element: closures, because a sheet has millions of them."""
    start_of, end_of, depth = elements.starts.get, elements.ends.get, 0

    def started(name: str, attributes: Attributes) -> None:
        nonlocal depth
        depth += 1
        if depth > DEEPEST:
            raise SourceError(f"The workbook holds XML more than {DEEPEST} deep. It was not read.")
        start = start_of(name)
        if start is not None:
            start(attributes)

    def ended(name: str) -> None:
        nonlocal depth
        depth -= 1
        end = end_of(name)
        if end is not None:
            end()

    return started, ended


def unescaped(text: str) -> str:
    r"""`text` with every `_xHHHH_` as the character it stands for (ECMA-376 part 1, 22.9.2.19).

    >>> unescaped("chrome_x000D_"), unescaped("_x005F_x000D_")
    ('chrome\r', '_x000D_')
    """
    return _ESCAPED.sub(_character, text) if "_x" in text else text


def escaped(text: str) -> str:
    """`text` so that `unescaped` and every program that reads workbooks gives it back."""
    return _ESCAPED.sub(r"_x005F\g<0>", text) if "_x" in text else text


def _character(found: re.Match[str]) -> str:
    code = int(found[1], 16)
    return found[0] if 0xD800 <= code < 0xE000 else chr(code)  # half a character is none


def _refuse_doctype(*_: object) -> None:
    raise SourceError(ENTITIES)
