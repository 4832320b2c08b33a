"""`guide`: the pages that say more than a help can."""

from __future__ import annotations

from io import StringIO
from typing import Annotated

import typer

from inventory.cli.screens.tables import Column, table, terminal_width
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
        say(table((Column("Topic"), Column("About", gives=True)), [[name, title(name)] for name in TOPICS]))
        say("\nOne of them: kitdrawer guide TOPIC")


def shown(text: str) -> str:
    """A page of Markdown no wider than the terminal, or than 80 columns where that is wider; no colour, no pager."""
    from rich.console import Console
    from rich.markdown import Markdown

    sheet = Console(file=StringIO(), width=min(terminal_width(), 80), color_system=None, force_terminal=False)
    with sheet.capture() as said:
        sheet.print(Markdown(text, hyperlinks=False))
    return "\n".join(line.rstrip() for line in said.get().splitlines())
