"""What was used, made and counted, out of the movements of a stretch of time."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from datetime import date

from sqlalchemy import Connection, case, func, select

from inventory.catalogue import fold
from inventory.ledger.documents.booked import Bought
from inventory.store.queries.old_names import OldNames, merged_keys
from inventory.store.queries.standing import Chains, standing
from inventory.store.schema.core import table

_DOCUMENT, _LINE, _PART = table("document"), table("movement"), table("part")
_PURCHASE, _SUPPLIER = table("purchase"), table("supplier")
_ORDER, _STEP, _DOUBT = table("customer_order"), table("order_step"), table("doubt")
_NAMED_AT_ONCE = 5_000  # databases take no more values than some tens of thousands in one query
PARCELS = 200
"""Parcels looked back on to see how late suppliers are: some years of a small shop, and no more in a long book."""
USED = ("used", "lost", "weighed", "used up", "broken", "repair")
"""Words of lines by which something was used up: in good pieces, in lost ones, beside what the bills say, by hand,
in repairs."""


def used_since(connection: Connection, day: date) -> Mapping[str, int]:
    """Thousandths used up of each part from that day on, by folded name; what was taken back does not count."""
    total = func.sum(-_LINE.c.quantity)
    first = select(func.min(_DOCUMENT.c.id)).where(_DOCUMENT.c.on_date >= day).scalar_subquery()
    query = (
        select(_PART.c.key, total)
        .select_from(_LINE.join(_DOCUMENT, _LINE.c.document_id == _DOCUMENT.c.id).join(_PART))
        # numbers of lines' documents have an index, days have none: what lies before is never looked at
        .where(_LINE.c.document_id >= first, _DOCUMENT.c.on_date >= day)
        .where(_LINE.c.account == "shelf", _LINE.c.reason.in_(USED), standing())
        .group_by(_PART.c.key)
        .having(total > 0)
    )
    now, found = merged_keys(connection), dict[str, int]()
    for key, quantity in connection.execute(query):
        of = now.get(key, key)
        found[of] = found.get(of, 0) + int(quantity)
    return found


def used_by_stretch(connection: Connection, days: Sequence[date]) -> Mapping[str, tuple[int, ...]]:
    """Thousandths used up of each part, by folded name, in each stretch from one of the rising days to the next.

    The last stretch has no end. What was taken back does not count.
    """
    on = _DOCUMENT.c.on_date
    at = case(*((on < day, number) for number, day in enumerate(days[1:])), else_=len(days) - 1)
    stands = select(_DOCUMENT.c.id, at.label("stretch")).where(on >= days[0], standing())
    heads = stands.group_by(_DOCUMENT.c.id, on).subquery()  # grouped: worked out once, not for each line
    both = (
        _LINE.c.part_id * len(days) + heads.c.stretch
    )  # one number to group by: two take three times as long
    query = (
        select(both, func.sum(-_LINE.c.quantity))
        .select_from(heads.join(_LINE, _LINE.c.document_id == heads.c.id))
        .where(_LINE.c.account == "shelf", _LINE.c.reason.in_(USED))
        .group_by(both)
    )
    keys: dict[int, str] = dict(tuple(row) for row in connection.execute(select(_PART.c.id, _PART.c.key)))
    now, found = merged_keys(connection), dict[str, list[int]]()
    for number, quantity in connection.execute(query):
        part, stretch = divmod(number, len(days))
        key = keys[part]
        found.setdefault(now.get(key, key), [0] * len(days))[stretch] += int(quantity)
    return {key: tuple(sums) for key, sums in found.items()}


def first_use(connection: Connection, since: date) -> date | None:
    """The day of the first line that used anything, or `since` where one is older; None where nothing was used yet."""
    used = _LINE.c.account == "shelf", _LINE.c.reason.in_(USED), standing()
    both = _LINE.join(_DOCUMENT, _LINE.c.document_id == _DOCUMENT.c.id)
    before = select(_LINE.c.id).select_from(both).where(*used, _DOCUMENT.c.on_date < since).limit(1)
    if connection.execute(before).first() is not None:  # found at once in a long book: no need to read it all
        return since
    found: date | None = connection.execute(
        select(func.min(_DOCUMENT.c.on_date)).select_from(both).where(*used)
    ).scalar()
    return found


def handed_over(connection: Connection) -> tuple[tuple[str, date], ...]:
    """Orders that are handed over, with the day, oldest first; not what was sold: that was made before."""
    query = (
        select(_ORDER.c.name, func.max(_DOCUMENT.c.on_date))
        .select_from(_STEP.join(_ORDER).join(_DOCUMENT, _STEP.c.document_id == _DOCUMENT.c.id))
        .where(_ORDER.c.state == "handed over", _STEP.c.state == "handed over", standing())
        .where(_DOCUMENT.c.kind.not_in(("sold", "days")))
        .group_by(_ORDER.c.id, _ORDER.c.name)
        .order_by(func.max(_DOCUMENT.c.on_date), _ORDER.c.id)
    )
    return tuple((name, day) for name, day in connection.execute(query))


def first_taken(connection: Connection) -> Mapping[str, date]:
    """By folded order the first day it stood promised or was sold; what was only wished for or made is left out."""
    query = (
        select(_ORDER.c.key, func.min(_DOCUMENT.c.on_date))
        .select_from(_STEP.join(_ORDER).join(_DOCUMENT, _STEP.c.document_id == _DOCUMENT.c.id))
        .where(_STEP.c.state.in_(("promised", "handed over")), standing())
        .group_by(_ORDER.c.key)
    )
    return dict(tuple(row) for row in connection.execute(query))


def given_away(connection: Connection) -> tuple[tuple[str, date, int], ...]:
    """Finished pieces that were given away: folded part, day, how many."""
    query = (
        select(_PART.c.key, _DOCUMENT.c.on_date, func.sum(-_LINE.c.quantity))
        .select_from(_LINE.join(_DOCUMENT, _LINE.c.document_id == _DOCUMENT.c.id).join(_PART))
        .where(_LINE.c.account == "shelf", _LINE.c.reason == "given away", standing())
        .where(_PART.c.kind == "piece")
        .group_by(_LINE.c.document_id, _PART.c.key, _DOCUMENT.c.on_date)
    )
    return tuple((key, day, int(quantity) // 1000) for key, day, quantity in connection.execute(query))


def lateness(connection: Connection) -> Mapping[str, tuple[int, ...]]:
    """By folded supplier: days after the expected day on which each of its newest parcels came, newest first.

    A parcel is late by its latest line; what came without ever having been expected on a day is left out.
    """
    newest = (
        select(_DOCUMENT.c.id, _DOCUMENT.c.on_date)
        .where(_DOCUMENT.c.kind == "arrival", standing())
        .order_by(_DOCUMENT.c.id.desc())
        .limit(PARCELS)
        .subquery()
    )
    query = (
        select(newest.c.id, _SUPPLIER.c.key, newest.c.on_date, func.min(_PURCHASE.c.expected_on))
        .select_from(
            newest.join(_LINE, _LINE.c.document_id == newest.c.id)
            .join(_PURCHASE, _LINE.c.purchase_id == _PURCHASE.c.id)
            .join(_SUPPLIER, _PURCHASE.c.supplier_id == _SUPPLIER.c.id)
        )
        .where(_LINE.c.account == "due", _LINE.c.reason == "arrived", _PURCHASE.c.expected_on.is_not(None))
        .group_by(newest.c.id, newest.c.on_date, _SUPPLIER.c.key)
        .order_by(newest.c.id.desc())
    )
    found: dict[str, tuple[int, ...]] = {}
    now = OldNames(connection).keys("supplier")
    for _, said, came, expected in connection.execute(query):
        supplier = now.get(said, said)
        found[supplier] = (*found.get(supplier, ()), (came - expected).days)
    return found


def bought(connection: Connection) -> tuple[Bought, ...]:
    """Every line of an order that was placed and stands, oldest first, by folded names."""
    d, p = _DOCUMENT.c, _PURCHASE.c
    query = (
        select(d.id, d.on_date, _SUPPLIER.c.key, _PART.c.key, p.code, p.pack, func.sum(_LINE.c.quantity))
        .select_from(
            _DOCUMENT.join(_LINE, _LINE.c.document_id == d.id)
            .join(_PURCHASE, _LINE.c.purchase_id == p.id)
            .join(_SUPPLIER, p.supplier_id == _SUPPLIER.c.id)
            .join(_PART, p.part_id == _PART.c.id)
        )
        .where(d.kind == "placed", standing(), _LINE.c.account == "due")
        .group_by(d.id, d.on_date, _SUPPLIER.c.key, _PART.c.key, p.id, p.code, p.pack)
        .order_by(p.id)
    )
    names = OldNames(connection)
    suppliers, parts = names.keys("supplier"), names.keys("part")
    return tuple(
        Bought(
            number, day, suppliers.get(supplier, supplier), parts.get(part, part), code, pack, int(quantity)
        )
        for number, day, supplier, part, code, pack, quantity in connection.execute(query)
    )


def shopping_days(connection: Connection) -> tuple[date, ...]:
    """The days on which orders were placed that stand, oldest first."""
    d = _DOCUMENT.c
    query = select(d.on_date).where(d.kind == "placed", standing()).distinct().order_by(d.on_date)
    return tuple(connection.execute(query).scalars())


def counted(connection: Connection) -> Mapping[str, tuple[int, date]]:
    """The newest document that counted each part and stands, with its day, by folded name."""
    query = (
        select(_PART.c.key, _DOCUMENT.c.id, _DOCUMENT.c.on_date)
        .select_from(_DOUBT.join(_DOCUMENT).join(_PART))
        .where(_DOUBT.c.doubtful.is_(False), standing())
        .order_by(_DOCUMENT.c.id)
    )
    return {key: (document, day) for key, document, day in connection.execute(query)}


def moved_since(
    connection: Connection, version: int, parts: Collection[str] | None = None
) -> Mapping[str, tuple[int, tuple[int, ...]]]:
    """What the documents after that version of the book did to the shelf, by folded name of the parts that changed.

    Thousandths in all, and the documents that did it; one that was taken back since did nothing. parts: folded names
    to look for (a few thousand at most, else all are looked at); None: all.
    """
    query = (
        select(_PART.c.key, _LINE.c.document_id, func.sum(_LINE.c.quantity))
        .select_from(_LINE.join(_PART, _LINE.c.part_id == _PART.c.id))
        .where(_LINE.c.document_id > version, _LINE.c.account == "shelf")
        .group_by(_PART.c.key, _LINE.c.document_id)
        .order_by(_LINE.c.document_id)
    )
    if parts is not None and len(parts) <= _NAMED_AT_ONCE:
        query = query.where(_PART.c.key.in_(list(parts)))
    chains = Chains(connection)
    did: dict[str, dict[int, tuple[int, int]]] = {}
    for key, document, quantity in connection.execute(query):
        first = chains.first(document)
        before, _ = did.setdefault(key, {}).get(first, (0, 0))
        did[key][first] = before + int(quantity), first if first > version else document
    sums = {key: sum(quantity for quantity, _ in by.values()) for key, by in did.items()}
    return {
        key: (total, tuple(sorted(named for quantity, named in did[key].values() if quantity)))
        for key, total in sums.items()
        if total
    }


def most_at_once(connection: Connection, parts: Collection[str]) -> Mapping[str, int]:
    """The largest line that brought something of each part, thousandths by folded name; what was undone left out."""
    query = (
        select(_PART.c.key, func.max(_LINE.c.quantity))
        .select_from(_LINE.join(_PART).join(_DOCUMENT, _LINE.c.document_id == _DOCUMENT.c.id))
        .where(_LINE.c.account == "shelf", _LINE.c.quantity > 0, standing())
        .group_by(_PART.c.key)
    )
    named = sorted({fold(part) for part in parts})
    found: dict[str, int] = {}
    for start in range(0, len(named), _NAMED_AT_ONCE):
        some = query.where(_PART.c.key.in_(named[start : start + _NAMED_AT_ONCE]))
        found.update((key, int(most)) for key, most in connection.execute(some))
    return found
