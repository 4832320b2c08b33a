"""A page of Markdown on a terminal: wrapped to its width, tables ruled, commands as they are pasted."""

from __future__ import annotations

from io import StringIO

from inventory.cli.screens.tables import terminal_width


def shown(text: str) -> str:
    """The page as lines no wider than the terminal, or than 80 columns where it is wider; no colour, no pager."""
    from rich.console import Console
    from rich.markdown import Markdown

    sheet = Console(file=StringIO(), width=min(terminal_width(), 80), color_system=None, force_terminal=False)
    with sheet.capture() as said:
        sheet.print(Markdown(text, hyperlinks=False))
    return "\n".join(line.rstrip() for line in said.get().splitlines())
