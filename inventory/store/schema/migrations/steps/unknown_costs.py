"""Version 3: where a lot's cost comes from, as a mark that adds up over the lines.

Earlier books said 0 both for what cost nothing and for what nobody had priced. What came in at 0 is marked unknown (2),
but for fittings saved from a lost piece; so are pieces in which such stock went.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import sqlalchemy as sa
from alembic import op

_UNKNOWN = 2
_BIRTHS = (
    "SELECT m.lot_id, m.document_id, m.wish_id, m.reason, m.cost FROM movement m JOIN lot ON lot.id = m.lot_id"
    " AND lot.document_id = m.document_id WHERE m.account = 'shelf' AND m.quantity > 0"
    " AND (m.reason = 'made' OR (m.cost = 0 AND m.reason <> 'saved')) ORDER BY m.id"
)
_USED = (
    "SELECT u.document_id, u.wish_id, u.lot_id FROM movement u WHERE u.account = 'shelf' AND u.reason = 'used'"
    " AND u.document_id IN (SELECT document_id FROM movement WHERE reason = 'made')"
)
_CHAINS = (
    "WITH RECURSIVE chain(id, root) AS (SELECT id, id FROM document WHERE reverses IS NULL"
    " UNION ALL SELECT d.id, c.root FROM document d JOIN chain c ON d.reverses = c.id)"
    " SELECT m.id, m.lot_id, d.turn FROM movement m JOIN lot ON lot.id = m.lot_id JOIN chain c ON c.id = m.document_id"
    " AND c.root = lot.document_id JOIN document d ON d.id = m.document_id WHERE m.account = 'shelf'"
    " AND ((d.turn % 2 = 0 AND m.quantity > 0) OR (d.turn % 2 = 1 AND m.quantity < 0)) ORDER BY m.id"
)


def mark() -> None:
    """The marks of lines and lots, worked out for what is there."""
    connection = op.get_bind()
    unknown = _unknown(connection)
    if not unknown:
        return
    marks = _marks(connection.execute(sa.text(_CHAINS)), unknown)
    _trigger(connection, on=False)
    connection.execute(sa.text("UPDATE movement SET cost_from = :mark WHERE id = :line"), marks)
    _trigger(connection, on=True)
    connection.execute(
        sa.text(
            "UPDATE lot_balance SET cost_from = (SELECT COALESCE(SUM(m.cost_from), 0) FROM movement m"
            " WHERE m.account = 'shelf' AND m.lot_id = lot_balance.lot_id)"
            " WHERE lot_id IN (SELECT lot_id FROM movement WHERE cost_from <> 0)"
        )
    )


def _unknown(connection: sa.Connection) -> set[int]:
    """Numbers of the lots whose cost nobody knows."""
    went_in: dict[tuple[int, int | None], set[int]] = {}
    for document, wish, lot in connection.execute(sa.text(_USED)):
        went_in.setdefault((document, wish), set()).add(lot)
    found: set[int] = set()
    for lot, document, wish, reason, cost in connection.execute(sa.text(_BIRTHS)):
        made_of = went_in.get((document, wish), set()) if reason == "made" else set()
        if cost == 0 or made_of & found:
            found.add(lot)
    return found


def _marks(lines: Iterable[Any], unknown: set[int]) -> list[dict[str, int]]:
    """The line that brought each such lot, and those that took it back or brought it anew."""
    seen: set[tuple[int, int]] = set()
    marks = []
    for line, lot, turn in lines:
        if lot in unknown and (lot, turn) not in seen:
            seen.add((lot, turn))
            marks.append({"line": line, "mark": -_UNKNOWN if turn % 2 else _UNKNOWN})
    return marks


def _trigger(connection: sa.Connection, *, on: bool) -> None:
    """What keeps lines from being changed, put aside for this one step and set again."""
    postgresql = connection.dialect.name == "postgresql"
    if not on:
        op.execute("DROP TRIGGER movement_no_update" + (" ON movement" if postgresql else ""))
    elif postgresql:
        op.execute(
            "CREATE TRIGGER movement_no_update BEFORE UPDATE OR DELETE ON movement"
            " FOR EACH ROW EXECUTE FUNCTION never_changed()"
        )
    else:
        op.execute(
            "CREATE TRIGGER movement_no_update BEFORE UPDATE ON movement"
            " BEGIN SELECT RAISE(ABORT, 'rows of movement are never changed'); END"
        )
