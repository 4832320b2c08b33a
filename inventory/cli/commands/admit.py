"""`admit`: the rights a role needs on a server."""

from __future__ import annotations

from typing import Annotated

import typer

from inventory.cli.session import say


def admit(
    role: Annotated[str, typer.Argument(metavar="ROLE", help="A role of the server.")],
    look: Annotated[bool, typer.Option("--look", help="It may look, and write nothing.")] = False,
    schema: Annotated[str, typer.Option(help="The schema the book's tables are in.")] = "public",
) -> None:
    """Print the SQL that lets a role work in a book on a server, and do nothing beyond that.

    Whoever owns the book hands it to psql; once more after a new version of kitdrawer has brought the tables up to
    date.

    For example:
    kitdrawer admit maker
    kitdrawer admit stall --look
    """
    from inventory.store.rights import rights

    say(rights(role, look=look, schema=schema))
