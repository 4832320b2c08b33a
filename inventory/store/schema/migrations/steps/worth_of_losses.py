"""Version 3: what a learned loss is worth in pieces of experience, for predictions that know how little is known."""

from __future__ import annotations

from math import log

import sqlalchemy as sa
from alembic import op

_MILLION = 1_000_000
_NINE_IN_TEN = 1.6449  # standard deviations on either side that hold nine in ten
_TAIL = 0.05


def work_out() -> None:
    """Put into the new column what the kept intervals say, until the figures are worked out anew."""
    connection = op.get_bind()
    kept = connection.execute(sa.text("SELECT DISTINCT share, low, high FROM learned_loss")).fetchall()
    for share, low, high in kept:
        connection.execute(
            sa.text(
                "UPDATE learned_loss SET worth = :worth WHERE share = :share AND low = :low AND high = :high"
            ),
            {"worth": _worth(share, low, high), "share": share, "low": low, "high": high},
        )


def _worth(share: int, low: int, high: int) -> int:
    """Thousandths of pieces: m(1 − m)/v − 1; for a loss of 0 those of which the high end spares all once in 20."""
    mean, most = share / _MILLION, min(high / _MILLION, 0.999)
    if not most > 0 or high <= low:
        return 0
    if not mean:
        return round(1000 * log(_TAIL) / log(1 - most))
    deviation = (high - low) / _MILLION / (2 * _NINE_IN_TEN)
    return max(round(1000 * (mean * (1 - mean) / deviation**2 - 1)), 1000)
