"""Names, merges and retirements into their tables."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import Connection, select

from inventory.catalogue import fold
from inventory.ledger.documents.changes import Change, Merged, Recoded, Renamed, Retired, SettingChanged
from inventory.store.commit.changes import Changes
from inventory.store.commit.merges import REFERRING, merge_named, merge_offers, point
from inventory.store.mapping.names import Names
from inventory.store.schema.core import table

_OFFER = table("offer")


def put_changes(connection: Connection, changes: Changes, said: Iterable[Change], names: Names) -> None:
    """What a document says of names. Raises UnknownName."""
    for one in said:
        match one:
            case Renamed():
                _rename(changes, one, names)
            case Retired():
                number = names[one.what].of(one.name)
                changes.put("retired", {"of_table": one.what, "number": number}, None if one.back else {})
            case Recoded():
                _recode(connection, changes, one, names)
            case Merged():
                numbers = names[one.what].of(one.old), names[one.what].of(one.new)
                if one.what == "part":
                    _merge(connection, changes, *numbers)
                else:
                    merge_named(connection, changes, one, *numbers)
            case SettingChanged():
                changes.put("setting", {"key": one.key}, None if one.value is None else {"value": one.value})


def _rename(changes: Changes, one: Renamed, names: Names) -> None:
    of = "customer_order" if one.what == "order" else one.what
    number = names[of].of(one.old)
    old = names[of].names[number]
    changes.put(of, {"id": number}, {"key": fold(one.new), "name": one.new})
    if fold(one.new) != fold(old):
        changes.put("old_name", {"of_table": of, "key": fold(one.new)}, None)
        changes.put("old_name", {"of_table": of, "key": fold(old)}, {"name": old, "number": number})


def _recode(connection: Connection, changes: Changes, one: Recoded, names: Names) -> None:
    supplier = names["supplier"].of(one.supplier)
    c = _OFFER.c
    query = select(c.id, c.code).where(c.supplier_id == supplier).order_by(c.id)
    mine = [number for number, code in connection.execute(query).all() if fold(code) == fold(one.old)]
    for number in mine:
        changes.put("offer", {"id": number}, {"code": one.new})
    changes.put("old_name", {"of_table": "offer", "key": f"{supplier} {fold(one.new)}"}, None)
    old = {"name": one.old, "number": mine[0]}
    changes.put("old_name", {"of_table": "offer", "key": f"{supplier} {fold(one.old)}"}, old)


def _merge(connection: Connection, changes: Changes, old: int, new: int) -> None:
    changes.put("part", {"id": old}, {"into_id": new})
    point(connection, changes, REFERRING, old, new)
    merge_offers(connection, changes, "part_id", old, new)
