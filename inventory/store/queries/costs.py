"""What was said that lots cost, out of the lines that brought them and those that said it later."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import Connection, select

from inventory.ledger.costs import POSTAGE, SAID_LATER, Saying
from inventory.store.queries.standing import standing
from inventory.store.schema.core import table

_DOCUMENT, _LINE, _LOT = table("document"), table("movement"), table("lot")
_SPLIT = ("opened", "moved")
"""Words of lines by which a part of a lot became one of its own: it cost what the whole did."""
_AT_ONCE = 5_000


def sayings(connection: Connection, lots: Iterable[int]) -> Mapping[int, Saying]:
    """By what word each lot came, and its quantity and cost when its cost was last said; standing documents only.

    A part of a lot that became one of its own was said to cost what the whole was.
    """
    done: dict[int, Saying] = {}
    split: dict[int, int] = {}
    for row in _lines(connection, sorted(set(lots))):
        lot, born_in, document, reason, quantity, cost = row
        born = document == born_in and quantity > 0 and lot not in done
        before = done.get(lot, Saying(reason, 0, 0, 0, 0))
        said, later = born or reason in (SAID_LATER, POSTAGE), reason == SAID_LATER
        now = before.after(quantity, cost, said=said, later=later)
        done[lot] = now
        if born and reason in _SPLIT:
            split[lot] = document
    whole = _wholes(connection, split)
    above = sayings(connection, set(whole.values())) if whole else {}
    for lot, from_ in whole.items():
        if not done[lot].later:
            done[lot] = above.get(from_, done[lot])
    return done


def _lines(connection: Connection, lots: list[int]) -> Iterable[Any]:
    query = (
        select(
            _LINE.c.lot_id,
            _LOT.c.document_id,
            _LINE.c.document_id,
            _LINE.c.reason,
            _LINE.c.quantity,
            _LINE.c.cost,
        )
        .select_from(
            _LINE.join(_LOT, _LINE.c.lot_id == _LOT.c.id).join(
                _DOCUMENT, _LINE.c.document_id == _DOCUMENT.c.id
            )
        )
        .where(_LINE.c.account == "shelf", standing())
        .order_by(_LINE.c.id)
    )
    for start in range(0, len(lots), _AT_ONCE):
        yield from connection.execute(query.where(_LINE.c.lot_id.in_(lots[start : start + _AT_ONCE])))


def _wholes(connection: Connection, split: Mapping[int, int]) -> dict[int, int]:
    """The lot each of these came out of, where the same document says but one."""
    found: dict[int, int] = {}
    for lot, document in split.items():
        part = select(_LOT.c.part_id).where(_LOT.c.id == lot).scalar_subquery()
        query = (
            select(_LINE.c.lot_id)
            .distinct()
            .where(_LINE.c.document_id == document, _LINE.c.part_id == part, _LINE.c.quantity < 0)
            .where(_LINE.c.account == "shelf", _LINE.c.reason.in_(_SPLIT))
        )
        from_ = list(connection.execute(query).scalars())
        if len(from_) == 1:
            found[lot] = from_[0]
    return found
