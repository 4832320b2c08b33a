"""Text in a given width: how wide it is, and broken at its spaces; marks of colour take no room."""

from __future__ import annotations

import re
import shutil
from unicodedata import combining, east_asian_width

from inventory.cli.drawing.colour import SIGNS

WIDEST = 100
"""A sentence is broken here however wide the terminal is: longer lines are hard to read."""
NARROW = 60
"""Below this, lines under a label are indented by little."""
_BREAKS = re.compile(r"(?<![0-9]) | (?!(?:%|mm|ml|g|h|min)(?![\w]))")
"""Where a line may end: at any space but the one between a figure and its unit."""


def width_of(text: str) -> int:
    """Columns a text takes on a terminal."""
    if text.isascii():
        return len(text)
    return sum(0 if combining(ch) or ch in SIGNS else 2 if east_asian_width(ch) in "WF" else 1 for ch in text)


def terminal_width() -> int:
    """What the terminal offers, at least 40, and 80 where nobody says."""
    return max(shutil.get_terminal_size((80, 24)).columns, 40)


def plain_of(text: str) -> str:
    """On one line, and signs that steer a terminal or turn the direction of writing as �: sheets may hold them."""
    joined = " ".join(text.split())
    if joined.isascii() and joined.isprintable():
        return joined
    return "".join(sign if sign.isprintable() or sign in SIGNS else "�" for sign in joined)


def unbroken(text: str) -> list[str]:
    """The words of a text on one line; a figure and its unit are one."""
    return _BREAKS.split(text)


def broken(text: str, room: int) -> list[str]:
    """Lines of at most `room` columns; a word too long for one is cut into several, a figure stays with its unit."""
    lines: list[str] = []
    line, taken = "", 0
    for word in unbroken(plain_of(text)):
        need = width_of(word)
        if line and taken + 1 + need <= room:
            line, taken = f"{line} {word}", taken + 1 + need
            continue
        if line:
            lines.append(line)
        while need > room:
            head = _head(word, room)
            lines.append(head)
            word, need = word[len(head) :], need - width_of(head)  # a sheet may hold words of 100,000 letters
        line, taken = word, need
    return [*lines, line] if line or not lines else lines


def pasted(word: str) -> str:
    """A word of a command line as any shell takes it: in double quotes where it holds more than letters and digits."""
    return word if re.fullmatch(r"[\w./:+-]+", word) else '"' + word.replace('"', '\\"') + '"'


def _head(word: str, room: int) -> str:
    """As much of a word as fits, at least one sign; cut after a hyphen or slash where there is one."""
    at = 1
    while at < len(word) and width_of(word[: at + 1]) <= room:
        at += 1
    breaks = [found.end() for found in re.finditer(r"[-/]", word[:at]) if found.end() * 2 > at]
    return word[: breaks[-1]] if breaks and at < len(word) else word[:at]


def hanging(text: str, first: str, width: int) -> list[str]:
    """A text broken into lines that stand under the end of `first`, or under its second column where it is narrow."""
    width = min(width, WIDEST)
    if not text:
        return [first.rstrip()]
    if width >= NARROW or len(first) <= 4:
        lines = broken(text, width - width_of(first))
        return [first + lines[0], *(" " * width_of(first) + line for line in lines[1:])]
    label = re.sub(r" +", " ", first)
    lines = broken(label + text if label.strip() else text, width - 2)
    return [lines[0], *(f"  {line}" for line in lines[1:])]


def wrapped(text: str, first: str = "", width: int | None = None) -> list[str]:
    """A sentence broken at a width (None: the terminal's), the later lines under the end of `first`."""
    return hanging(text, first, width or terminal_width())
