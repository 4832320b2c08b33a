"""The one look of every workbook: its paper and margins, its letters, the shade that says *write here*."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

AUTHOR: Final = "kitdrawer"
A4, LETTER = (210.0, 297.0), (215.9, 279.4)
"""Millimetres, upright (ISO 216; ANSI/ASME Y14.1, from memory)."""
SIDE, TOP, FOOT = 7.0, 7.0, 10.0
HEAD = 8.0
"""Margins in millimetres, on either paper; the foot holds the page's number, the head a title where there is one."""
PEN: Final = 25.5
"""Points of a row to write in: 9 mm."""
SMALL, PLAIN, TITLE = 10.0, 11.0, 14.0
"""Points of letters; nothing is printed smaller than the first."""
WIDER: Final = 1.062
"""By how much some programs draw columns wider than others, which count whole dots of a digit."""
LINE: Final = 1.22
"""Height of a line in ems: ascent, descent and gap of Calibri and of Carlito, which has its widths."""
_WIDTHS: Final = {
    226: " '", 240: "ilj", 255: ",.I·:;", 305: "()f-[]{}", 330: "J!tr`", 393: "/\\sz", 405: '"Lcx',
    456: "vykFS|?Zag", 490: "TYE", 500: "#*+<=>^_e~×–éè", 507: "$0123456789", 523: "PXKbdhnpquüoöäß",
    540: "CRB", 573: "VA", 620: "DHG", 660: "UNOQ&□", 715: "%w", 800: "m", 890: "MW@",
}  # fmt: skip
"""Thousandths of an em by letter, of Carlito (upright; letters of nearly one width together)."""
_WIDTH: Final = {letter: width for width, letters in _WIDTHS.items() for letter in letters}
_OTHER, _BOLD = 560, 1.04


def room(*, landscape: bool) -> tuple[float, float]:
    """Width and height in millimetres that A4 and Letter both have between the margins, in any program."""
    short, long = min(A4[0], LETTER[0]), min(A4[1], LETTER[1])
    width, height = (long, short) if landscape else (short, long)
    return (width - 2 * SIDE) / WIDER, height - TOP - FOOT


@lru_cache(maxsize=16384)
def text_mm(text: str, points: float = SMALL, *, bold: bool = False) -> float:
    """How wide a text is in print."""
    ems = sum(_WIDTH.get(letter, _OTHER) for letter in text) / 1000
    return ems * points * (_BOLD if bold else 1) / 72 * 25.4


def lines_of(text: str, mm: float, points: float = SMALL, *, bold: bool = False) -> int:
    """Lines a text takes in a cell of this width, which keeps a millimetre free at either side."""
    done = 0
    for line in text.split("\n"):
        used, done = 0.0, done + 1
        for word in line.split(" "):
            wide = text_mm(word, points, bold=bold)
            if used and used + text_mm(" ", points) + wide > mm - 2:
                used, done = 0.0, done + 1
            done += int(wide // max(mm - 2, 1)) if wide > mm - 2 else 0
            used += (text_mm(" ", points) if used else 0.0) + wide
    return done


def height_of(lines: int, points: float = SMALL) -> float:
    """Points of a row for so many lines."""
    return lines * points * LINE + 0.5


DIGIT_MM: Final = 7 / 96 * 25.4
"""Millimetres of one digit of a column's width: 7 dots in Calibri 11, at 96 dots an inch."""


def column_width(mm: float) -> float:
    """A column's width as workbooks have it, in digits."""
    return mm / DIGIT_MM


def set_paper(
    sheet: Worksheet, *, landscape: bool, one_page: bool = False, head: bool = False, fit: bool = True
) -> None:
    """A4 and Letter with the same margins. head: room for a line above each page.

    fit: as wide as the page; not where pages are broken by hand, for programs forget breaks as soon as they fit.
    """
    from openpyxl.worksheet.properties import PageSetupProperties

    sheet.page_setup.orientation = "landscape" if landscape else "portrait"
    sheet.page_setup.paperSize = 9  # A4 in ECMA-376 part 1, 18.3.1.63
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, int(one_page)
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=fit)
    margins = sheet.page_margins
    margins.left = margins.right = SIDE / 25.4
    margins.top, margins.bottom = (TOP + (HEAD if head else 0)) / 25.4, FOOT / 25.4
    margins.header = margins.footer = 5 / 25.4
