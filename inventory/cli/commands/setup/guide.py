"""`guide`: the pages that say more than a help can."""

from __future__ import annotations

from io import StringIO
from typing import Annotated

import typer

from inventory.cli.drawing.blocks import Cells, Listing, Screen
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import terminal_width
from inventory.cli.session import say
from inventory.errors import UnknownName
from inventory.guide import TOPICS, page, title


def guide(topic: Annotated[str, typer.Argument(help="Only this page.")] = "") -> None:
    """What a help has no room for, a page a topic: the jobs, how it decides, sharing, security, all commands.

    For example:
    kitdrawer guide
    kitdrawer guide decides
    kitdrawer guide reference
    """
    wanted = topic.strip().casefold()
    if wanted and wanted not in TOPICS:
        raise UnknownName("topic", topic, list(TOPICS))
    if wanted:
        say(shown(page(wanted)))
    else:
        rows = [[name, title(name)] for name in TOPICS]
        topics = Listing((Cells("Topic"), Cells("About")), rows)
        following = ("One of them", f"kitdrawer guide {next(iter(TOPICS))}")
        say(draw(Screen(f"{len(rows)} pages say more than a help can.", (), [[topics]], following=following)))


def shown(text: str) -> str:
    """A page of Markdown no wider than the terminal, or than 80 columns where that is wider; no colour, no pager."""
    from rich.console import Console
    from rich.markdown import Markdown

    sheet = Console(file=StringIO(), width=min(terminal_width(), 80), color_system=None, force_terminal=False)
    with sheet.capture() as said:
        sheet.print(Markdown(text, hyperlinks=False))
    return "\n".join(line.rstrip() for line in said.get().splitlines())
