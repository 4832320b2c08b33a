"""`guide`: the pages that say more than a help can."""

from __future__ import annotations

from typing import Annotated

import typer

from inventory.cli.screens.pages import shown
from inventory.cli.screens.tables import Column, table
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
