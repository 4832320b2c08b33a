"""One look for workbooks and pages: every colour, in one place, with what it is for.

Six hexadecimal digits each, red, green and blue. Texts on their grounds keep a contrast of 4.5 to 1 and lines and bars
on theirs 3 to 1, by the measure of the W3C's guidelines (WCAG 2.2, 1.4.3 and 1.4.11); a test works it out. What a
colour says is said by a word, a sign or a dash too.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

INK, BLACK, PAPER = "1C1C1C", "000000", "FFFFFF"
QUIET: Final = "595959"
"""What is said beside."""
LINK: Final = "1F4E79"
WRITE: Final = "FCF1CC"
"""The one shade of sheets: write here. A border goes with it, for printers that have only grey."""
EDGE, HAIR = "7F7F7F", "BFBFBF"
"""Lines round what is to be filled, and between rows that are read."""
LOOKED_AT: Final = "8C8C8C"
"""Letters of what is only an example, or a circle to be filled."""
GUESSED_SHADE, ASKED_SHADE, RUN_OUT = "FFF2CC", "F8CBAD", "F4C77B"
"""Cells that were guessed, cells that are asked about, and a figure beyond what is there: each says so in words too."""
WARNING: Final = "9C2B1F"
"""Letters of a heading that warns."""
MAIN, SECOND = "33607F", "B4581A"
"""Bars and lines: the figure itself, and what is set against it."""
FACE, PRINT_FACE = "system-ui, sans-serif", "Helvetica, Arial, Liberation Sans, sans-serif"
"""Letters of pages, as style sheets name them: those the reader's machine has, and those widths are reckoned by."""
SERIES: Final = (MAIN, SECOND, "4E7A3A", "6E6E6E", "6B4A8C", "8A6D00")
"""Lines of one chart, in their order."""
DASHES: Final = ("solid", "dash", "sysDot", "dashDot", "lgDash", "sysDash")
"""Lines differ by their dashes too, for printers that have only grey."""

LIGHT: Final[Mapping[str, str]] = {
    "ink": INK, "paper": PAPER, "quiet": QUIET, "line": "8A8A8A", "head": "F1EFE8",
    "stop": "A01818", "look": "7A4B00", "good": "1F6B2C", "main": MAIN, "second": SECOND,
}  # fmt: skip
DARK: Final[Mapping[str, str]] = {
    "ink": "ECECEC", "paper": "17191B", "quiet": "B3B3B3", "line": "787E84", "head": "24282B",
    "stop": "FF9D94", "look": "F0BE6A", "good": "8FD39A", "main": "7FA9C9", "second": "E39A62",
}  # fmt: skip
PRINT: Final[Mapping[str, str]] = {
    "ink": "000000", "paper": "FFFFFF", "quiet": "333333", "line": "8A8A8A", "head": "FFFFFF",
    "stop": "000000", "look": "000000", "good": "000000", "main": "555555", "second": "8A8A8A",
}  # fmt: skip
"""The page by day, by night and on paper, by the names its style sheet has for them."""
