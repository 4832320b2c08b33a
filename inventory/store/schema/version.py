"""Which version a store's tables have, and bringing them up to date. Alembic loads only for the latter."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Connection, inspect, text

from inventory.errors import KitdrawerError, NewerStore, NotAStore

STEPS = Path(__file__).parent / "migrations"
VERSIONS = tuple(sorted(path.name[1:5] for path in (STEPS / "versions").glob("v[0-9]*.py")))
"""Every schema version, oldest first; the last is the one this program reads and writes."""

HEAD = VERSIONS[-1]


def revision(connection: Connection, shown: str, nothing: KitdrawerError | None = None) -> str:
    """The schema version of an opened store: one look at which tables there are, and one plain SELECT.

    Raises `nothing` (NotAStore where it is not given) where there is no version, NotAStore where the tables are not
    ours, NewerStore where a later program made them.
    """
    there = set(inspect(connection).get_table_names())
    if "alembic_version" not in there:
        raise nothing or not_a_store(shown)
    found = connection.execute(text("SELECT version_num FROM alembic_version")).scalars().all()
    if not found or "shop" not in there:
        raise not_a_store(shown)
    if found[0] not in VERSIONS:
        raise NewerStore(
            f"The store {shown} was written by a later version of kitdrawer (tables {found[0]}).",
            hint=f"This one knows tables up to {HEAD}: bring kitdrawer up to date.",
        )
    return str(found[0])


def not_a_store(shown: str) -> NotAStore:
    """The refusal for a file or database that holds something else."""
    return NotAStore(
        f"{shown} is not a kitdrawer store.",
        hint="Give the file that `kitdrawer begin` made with --store, or begin a new one under another name.",
    )


def upgrade(connection: Connection, version: str = "head") -> None:
    """Run the missing steps, up to a version, in the transaction under way: the caller's to commit or roll back."""
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(STEPS).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    command.upgrade(config, version)
