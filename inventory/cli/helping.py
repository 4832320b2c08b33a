"""What `kitdrawer` alone and `kitdrawer --help` say: five jobs, then which commands there are, on one screen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from inventory.cli.drawing.texts import terminal_width, wrapped
from inventory.cli.words import PlainGroup

PROGRAM = "Stock and orders of small turned things from kits. A new shop: kitdrawer begin"
JOBS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("What is there, and what of it is free?", ("kitdrawer shelf",)),
    ("Which orders can be taken, and when are they ready?", ("kitdrawer orders",)),
    ("What do I buy, from whom?", ("kitdrawer shopping",)),
    ("What do I make, and what do I lay out for it?", ("kitdrawer plan",)),
    (
        "What is left, and what did we learn? Its sheet, filled and booked:",
        ("kitdrawer weekend sheet --save sat.xlsx", "kitdrawer weekend book sat.xlsx"),
    ),
)
"""Each with lines that can be pasted as they are, and that fit 40 columns whole."""
MORE = ("kitdrawer --help --all", "kitdrawer shelf --help", "kitdrawer guide")
"""Every command in a line, one of them in full, and pages."""
ALL_HELP = "After --help: every command in a line, and these options."


def first_screen(groups: Mapping[str, Sequence[str]], width: int) -> list[str]:
    """Lines no wider than `width` (columns, 40 or more); every name of every group is in them."""
    width = min(width, 80)
    lines = [*wrapped(PROGRAM, width=width), ""]
    for question, pasted in JOBS:
        lines += [*wrapped(question, width=width), *(" " * (width // 40) + line for line in pasted)]
    return [*lines, "", *_rows({**groups, "More": MORE}, width)]


def _rows(groups: Mapping[str, Sequence[str]], width: int) -> list[str]:
    """A group, and what is in it beside it; what can be pasted is never broken, and no comma hangs on it."""
    room = max(map(len, groups)) + 2
    lines = []
    for name, words in groups.items():
        row = name.ljust(room)
        for at, word in enumerate(words):
            said = word if at == len(words) - 1 else f"{word} " if " " in word else f"{word},"
            if len(row.rstrip()) > room and len(row + said.rstrip()) > width:
                lines.append(row.rstrip())
                row = " " * room
            row += f"{said} "
        lines.append(row.rstrip())
    return lines


class FirstGroup(PlainGroup):
    """The whole program, which is asked what it can do."""

    groups: Mapping[str, Sequence[str]] = {}

    def format_help(self, _: Any, formatter: Any) -> None:
        """One screen, in place of a list of every command and option."""
        formatter.write("\n".join(first_screen(self.groups, terminal_width())) + "\n")
