"""Proof of the book: everything derived is worked out again from the lines, and every disagreement is named."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import Connection, text

from inventory.measures import exact
from inventory.store.check.structure import structure
from inventory.store.check.sums import BALANCES, LAYERS, Sums
from inventory.store.copies import checksums
from inventory.store.db_errors import translated
from inventory.store.store import Store


def verify(store: Store) -> tuple[str, ...]:
    """What disagrees, one sentence each; nothing where the book is sound.

    From the lines: totals of every part, quantity, cost and claims of every lot and purchase, claims of every order,
    states of orders, parts to count, fingerprints, the version. Beside that: lines that fit no lot or purchase, lots
    that were ever below nothing, the file's own integrity, references, and the triggers that keep what was written.
    """
    with store.reading() as read, translated(store.shown):
        found = tuple(problems(read.connection))
    if store.where.file is not None and checksums.is_broken(store.where.file):
        found = ("The file is a copy, and is not what was written.", *found)
    return found


def problems(connection: Connection) -> Iterator[str]:
    """What disagrees in a store read through this connection, one sentence each."""
    yield from structure(connection)
    for sums in BALANCES:
        yield from _disagreements(connection, sums)
    for query, sentence in LAYERS:
        for row in connection.execute(text(query)).mappings():
            yield sentence.format(**row)


def _disagreements(connection: Connection, sums: Sums) -> Iterator[str]:
    """Rows where the sum of the lines less the kept figure is not nothing, in one pass over both."""
    for row in connection.execute(text(sums.query())).mappings():
        for field, (held, lines) in sums.differing(dict(row)).items():
            if sums.in_thousandths(field):
                held, lines = exact(held, 1000), exact(lines, 1000)
            yield f"{sums.called.format(**row)}: {sums.words[field]} is kept as {held}, the lines say {lines}."
