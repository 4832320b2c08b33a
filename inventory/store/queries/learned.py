"""What was learned: two short SELECTs that every look makes."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Connection, select

from inventory.ledger.sessions import LearnedFigures, LearnedLoss, LearnedRate
from inventory.store.mapping import codecs
from inventory.store.mapping.selecting import rows
from inventory.store.schema.core import table

_PART, _MATERIAL = table("part"), table("material")
_RATE, _SHARE = table("learned_rate"), table("learned_loss")


def learned(connection: Connection) -> LearnedFigures:
    """The figures as they stand."""
    c = _RATE.c
    query = (
        select(
            *(_PART.c.name, c.per, c.factor, c.low, c.high, c.sessions, c.outliers, c.pinned, c.scatter),
            *(c.points, c.hands, c.ordinary),
        )
        .select_from(_RATE.join(_PART))
        .order_by(_PART.c.id, c.per)
    )
    s = _SHARE.c
    losses = (
        select(_MATERIAL.c.name, s.stage, s.share, s.low, s.high, s.reached, s.lost, s.worth)
        .select_from(_SHARE.join(_MATERIAL))
        .order_by(_MATERIAL.c.id, s.stage)
    )
    return LearnedFigures(
        tuple(_rate(*row) for row in rows(connection, query)),
        tuple(LearnedLoss(*row) for row in rows(connection, losses)),
    )


def _rate(*row: Any) -> LearnedRate:
    part, per, factor, low, high, many, outliers, pinned, scatter, points, hands, ordinary = row
    figures = factor, low, high, many, _numbers(outliers), pinned, scatter
    return LearnedRate(part, per, *figures, _numbers(points), _numbers(hands), ordinary)


def _numbers(text: str) -> tuple[int, ...]:
    return tuple(int(one) for one in codecs.words(text))
