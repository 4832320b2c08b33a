"""What was learned: two short SELECTs that every look makes."""

from __future__ import annotations

from sqlalchemy import Connection

from inventory.ledger.learned import LearnedFigures
from inventory.store.mapping.shapes import LEARNED_LOSS, LEARNED_RATE


def learned(connection: Connection) -> LearnedFigures:
    """The figures as they stand."""
    rate, loss = LEARNED_RATE.table.c, LEARNED_LOSS.table.c
    return LearnedFigures(
        LEARNED_RATE.all(connection, rate.part_id, rate.per),
        LEARNED_LOSS.all(connection, loss.material_id, loss.stage),
    )
