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

    The role has to be there: createuser --pwprompt maker, or in SQL CREATE ROLE maker LOGIN PASSWORD '…'.
    Whoever owns the book hands what is printed to psql, which takes all of it or nothing; once more after a new
    version of kitdrawer has brought the tables up to date.

    For example:
    kitdrawer admit maker
    kitdrawer admit stall --look
    """
    from inventory.store.copies.roles import rights

    # psql would go on after an error, and a role would have half of its rights
    say([r"\set ON_ERROR_STOP on", "BEGIN;", *rights(role, look=look, schema=schema), "COMMIT;"])
