"""What the store itself must hold: a sound file, live references, all triggers, one version, the right fingerprints."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import Connection, select, text

from inventory.store.queries.standing import Chains
from inventory.store.schema.core import table

GUARDED = (
    *("document", "lot", "purchase", "movement", "order_step", "doubt"),
    *("session_plan", "session_step", "outcome", "outcome_loss", "observed", "rate_word"),
    "changed_row",
    "payment",
    "expense",
)
_TRIGGERS = {
    "sqlite": ("SELECT name FROM sqlite_master WHERE type = 'trigger'", "update", "delete", "replace"),
    "postgresql": (
        "SELECT tgname FROM pg_trigger JOIN pg_class ON pg_class.oid = tgrelid"
        " WHERE relnamespace = current_schema()::regnamespace AND tgenabled <> 'D'",
        "update",
        "truncate",
    ),
}
_DOCUMENT, _FINGERPRINT, _SHOP = table("document"), table("document_fingerprint"), table("shop")


def structure(connection: Connection) -> Iterator[str]:
    """A sentence for everything that is not as it must be."""
    if connection.dialect.name == "sqlite":
        yield from _file(connection)
    yield from _triggers(connection)
    yield from _documents(connection)


def _file(connection: Connection) -> Iterator[str]:
    for (said,) in connection.execute(text("PRAGMA integrity_check(20)")):
        if said != "ok":
            yield f"The file is damaged: {said}."
    for of, row, to, _ in connection.execute(text("PRAGMA foreign_key_check")):
        yield f"Row {row} of the table {of} refers to a row of {to} that is not there."


def _triggers(connection: Connection) -> Iterator[str]:
    query, *events = _TRIGGERS[connection.dialect.name]
    there = set(connection.execute(text(query)).scalars())
    for name in GUARDED:
        gone = [event for event in events if f"{name}_no_{event}" not in there]
        if gone:
            yield f"Nothing keeps the table {name} from being changed: no trigger on {' and '.join(gone)}."


def _documents(connection: Connection) -> Iterator[str]:
    rows = connection.execute(
        select(
            _DOCUMENT.c.id, _DOCUMENT.c.fingerprint, _DOCUMENT.c.reverses, _DOCUMENT.c.undo_depth
        ).order_by(_DOCUMENT.c.id)
    ).all()
    version = connection.execute(select(_SHOP.c.version)).scalar()
    if version != len(rows):
        yield f"The book says it holds {version} entries; it holds {len(rows)}."
    depths = {row.id: row.undo_depth for row in rows}
    for row in rows:
        if row.undo_depth != (0 if row.reverses is None else depths.get(row.reverses, -2) + 1):
            yield f"Entry {row.id} does not say rightly what it undoes."
    chains = Chains(connection)
    wanted = {row.fingerprint: row.id for row in rows if row.fingerprint and chains.stands(row.id)}
    fingerprints = connection.execute(select(_FINGERPRINT.c.fingerprint, _FINGERPRINT.c.document_id))
    kept = dict(tuple(row) for row in fingerprints)
    for fingerprint in sorted(wanted.keys() | kept.keys()):
        if wanted.get(fingerprint) != kept.get(fingerprint):
            number = wanted.get(fingerprint) or kept.get(fingerprint)
            yield f"The fingerprint of entry {number} is not kept as it must be."
