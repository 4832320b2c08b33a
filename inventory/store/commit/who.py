"""Who is at work: the role on a server, the user's name on the machine where the book is a file."""

from __future__ import annotations

from getpass import getuser

from sqlalchemy import Connection


def who(connection: Connection) -> str:
    """The name; empty where the machine has none for whoever runs this."""
    if connection.dialect.name == "postgresql":
        return str(connection.exec_driver_sql("SELECT session_user").scalar_one())
    try:
        return getuser()
    except (OSError, KeyError, ImportError):  # a number without a name, in a container
        return ""
