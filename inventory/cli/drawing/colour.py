"""Colour with three meanings: good, look, stop. A word has the meaning without it, so nothing rests on it alone."""

from __future__ import annotations

import os
import re
import sys

GOOD, LOOK, STOP, _END = "\ue0d0", "\ue0d1", "\ue0d2", "\ue0d3"
"""Stand before and after marked words until a line is written; they take no column."""
SIGNS = (GOOD, LOOK, STOP, _END)
BASIC = {GOOD: "\x1b[1;32m", LOOK: "\x1b[1;35m", STOP: "\x1b[1;31m", _END: "\x1b[0m"}
MANY = {GOOD: "\x1b[1;38;5;28m", LOOK: "\x1b[1;38;5;130m", STOP: "\x1b[1;38;5;196m", _END: "\x1b[0m"}
"""Of 256 colours, those that are read on white as well as on black; yellow of the eight is not seen on white."""
_ANY = re.compile(f"[{''.join(SIGNS)}]")


def good(words: str) -> str:
    """Marked as fine."""
    return f"{GOOD}{words}{_END}"


def look(words: str) -> str:
    """Marked as worth a look."""
    return f"{LOOK}{words}{_END}"


def stop(words: str) -> str:
    """Marked as what stands in the way."""
    return f"{STOP}{words}{_END}"


def unmarked(text: str) -> str:
    """The text without its marks."""
    return _ANY.sub("", text)


def wanted() -> bool:
    """Whether standard output is a terminal that shows colour, and nobody said NO_COLOR."""
    if os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb" or not sys.stdout.isatty():
        return False
    return os.name != "nt" or bool(os.environ.get("WT_SESSION") or os.environ.get("ANSICON"))


def _codes() -> dict[str, str]:
    many = "256color" in os.environ.get("TERM", "") or any(map(os.environ.get, ("COLORTERM", "WT_SESSION")))
    return MANY if many else BASIC


def written(text: str) -> str:
    """The text as it is sent: its marks as colour where that is wanted, which ends with each line; else gone."""
    if not _ANY.search(text):
        return text
    if not wanted():
        return unmarked(text)
    lines, open_mark = [], ""
    for line in text.split("\n"):
        painted = open_mark + line
        for sign in _ANY.findall(line):
            open_mark = "" if sign == _END else sign
        lines.append(painted + (_END if open_mark else ""))
    codes = _codes()
    return _ANY.sub(lambda found: codes[found[0]], "\n".join(lines))
