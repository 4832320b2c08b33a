"""What was made, spoiled, handed over, bought and ordered between two days, added up by month or year."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from functools import cache, cached_property
from typing import Any

from sqlalchemy import (
    BigInteger,
    ColumnElement,
    Connection,
    Select,
    Subquery,
    and_,
    case,
    cast,
    extract,
    func,
    literal,
    select,
)

from inventory.ledger.costs import POSTAGE
from inventory.ledger.fifo import apportion
from inventory.ledger.past.rows import AgreedRow, HandedRow, MadeRow, PastRows, SpentRow, SpoiledRow
from inventory.store.queries.old_names import OldNames
from inventory.store.queries.past.sold import handed_between
from inventory.store.queries.standing import standing
from inventory.store.schema.core import table

_DOCUMENT, _LINE, _PART = table("document"), table("movement"), table("part")
_OUTCOME, _LOSS, _BLANK, _MATERIAL = (
    table("outcome"),
    table("outcome_loss"),
    table("blank"),
    table("material"),
)
_STEP = table("order_step")
_PATTERN, _ORDER, _PURCHASE, _SUPPLIER = (
    table("pattern"),
    table("customer_order"),
    table("purchase"),
    table("supplier"),
)
MARKET = ("sold", "days")
"""Kinds of entries that sell what was made before: no order waited for it."""


def past_rows(connection: Connection, first: date, last: date, *, by_month: bool) -> PastRows:
    """Both days included; of documents that stand."""
    stretch = _Stretch(connection, first, last, by_month)
    return PastRows(
        stretch.made(),
        stretch.spoiled(),
        stretch.handed(),
        stretch.spent(),
        stretch.agreed(),
        stretch.overdue(),
    )


class _Stretch:
    """The questions of one stretch of days."""

    def __init__(self, connection: Connection, first: date, last: date, by_month: bool) -> None:
        self.connection, self.first, self.last, self.by_month = connection, first, last, by_month
        names = OldNames(connection)
        self._now = {of: names.keys(of) for of in ("part", "supplier", "pattern")}

    def made(self) -> tuple[MadeRow, ...]:
        """By pattern and material; pieces made at the hand-over, of which no session tells, among them."""
        found = [MadeRow(*row) for row in self._pieces(_OUTCOME, (), _OUTCOME.c.good)]
        ready = self._taken_finished()
        of = _ORDER.join(_BLANK, _ORDER.c.blank_id == _BLANK.c.part_id).join(_MATERIAL)
        query = select(_ORDER.c.key, _MATERIAL.c.name).select_from(of)
        materials = dict(tuple(row) for row in self.connection.execute(query))
        for number, key, one in self._gone:
            if made := one.pieces - ready.get((number, key), 0):
                found.append(MadeRow(one.step, one.pattern, materials[key], made))
        return tuple(found)

    def _taken_finished(self) -> Mapping[tuple[int, str], int]:
        """Finished pieces that hand-overs took off the shelf, by entry and folded order; only their lines are read."""
        c = _LINE.c
        over = (
            select(_STEP.c.document_id)
            .join(_DOCUMENT, _STEP.c.document_id == _DOCUMENT.c.id)
            .where(self._between(), (_STEP.c.state == "handed over") | (_STEP.c.handed > 0))
        )
        query = (
            select(c.document_id, _ORDER.c.key, func.sum(-c.quantity))
            .select_from(_LINE.join(_PART, c.part_id == _PART.c.id).join(_ORDER, c.order_id == _ORDER.c.id))
            .where(_PART.c.kind == "piece", c.account == "shelf", c.reason == "handed over")
            .where(c.document_id.in_(over))
            .group_by(c.document_id, _ORDER.c.key)
        )
        return {(number, key): int(many) // 1000 for number, key, many in self.connection.execute(query)}

    def spoiled(self) -> tuple[SpoiledRow, ...]:
        """By pattern, material and stage."""
        same = and_(_LOSS.c.document_id == _OUTCOME.c.document_id, _LOSS.c.position == _OUTCOME.c.position)
        found = self._pieces(_OUTCOME.join(_LOSS, same), (_LOSS.c.stage,), _LOSS.c.pieces)
        return tuple(SpoiledRow(*row) for row in found)

    def _pieces(self, of: Any, more: tuple[Any, ...], what: Any) -> Iterable[tuple[Any, ...]]:
        """Sums of pieces by step, pattern, material and more; those of one material from several blanks apart."""
        days, patterns, materials = self._days(), self._called("pattern"), self._materials()
        base, steps = max(materials, default=0) + 1, self._steps
        # one number to group by: four names take twice as long
        number = (cast(_OUTCOME.c.pattern_id, BigInteger) * base + _OUTCOME.c.blank_id) * steps + days.c.step
        query: Select[Any] = (
            select(number, *more, func.sum(what))
            .select_from(of.join(days, _OUTCOME.c.document_id == days.c.id))
            .where(what > 0)
            .group_by(number, *more)
        )
        for at, *rest, many in self.connection.execute(query):
            thing, step = divmod(int(at), steps)
            (pattern,) = patterns[thing // base]
            yield self._day(step), pattern, materials[thing % base], *rest, int(many)

    def _materials(self) -> Mapping[int, str]:
        """The material of each blank."""
        blanks = select(_BLANK.c.part_id, _MATERIAL.c.name).select_from(_BLANK.join(_MATERIAL))
        return dict(tuple(row) for row in self.connection.execute(blanks))

    def handed(self) -> tuple[HandedRow, ...]:
        """What went to customers, in the order it did."""
        return tuple(one for _, _, one in self._gone)

    @cached_property
    def _gone(self) -> Sequence[tuple[int, str, HandedRow]]:
        """The same with its entry and its order's folded name."""
        c, names = _ORDER.c, self._names("pattern")
        query = select(c.key, c.name, _PATTERN.c.key, _PATTERN.c.name, c.price, c.due, c.state)
        orders = {
            key: (name, names(pattern, called), price, due, state)
            for key, name, pattern, called, price, due, state in self.connection.execute(
                query.select_from(_ORDER.join(_PATTERN, c.pattern_id == _PATTERN.c.id))
            )
        }
        gone = handed_between(self.connection, self.first, self.last)
        newest = {one.order: one.document for one in gone}
        found = []
        for one in gone:
            name, pattern, price, due, state = orders[one.order]
            whole = state == "handed over" and newest[one.order] == one.document
            step, market = self._step(one.on.year, one.on.month), one.word in MARKET
            row = HandedRow(step, one.on, name, pattern, market, one.pieces, price, due, whole)
            found.append((one.document, one.order, row))
        return found

    def spent(self) -> tuple[SpentRow, ...]:
        """A row a parcel, and a row an entry of what was bought by hand."""
        c = _LINE.c
        postage = func.sum(case((c.reason == POSTAGE, c.cost), else_=0)).label("postage")
        sums = (
            select(c.document_id, func.sum(c.cost).label("cost"), postage)
            .where(c.account == "shelf", self._bought(), c.reason.in_(("arrived", "added", POSTAGE)))
            .group_by(c.document_id)
            .subquery()
        )
        query = (
            select(sums.c.document_id, _DOCUMENT.c.on_date, _DOCUMENT.c.title, sums.c.cost, sums.c.postage)
            .select_from(sums.join(_DOCUMENT, sums.c.document_id == _DOCUMENT.c.id))
            .order_by(sums.c.document_id)
        )
        rows = self.connection.execute(query).all()
        senders, named = self._senders(), self._suppliers()
        return tuple(
            SpentRow(self._step(on.year, on.month), number, supplier, goods, post)
            for number, on, title, cost, posted in rows
            for supplier, goods, post in _shared(
                senders.get(number) or {_sender_in(title, named): 1}, int(cost) - int(posted), int(posted)
            )
        )

    def _senders(self) -> Mapping[int, Mapping[str, int]]:
        """By arrival the supplier of what was ordered and came with it, with what that was agreed to cost."""
        c, suppliers = _LINE.c, self._called("supplier", _SUPPLIER.c.key)
        base = max(suppliers, default=0) + 1
        number = cast(c.document_id, BigInteger) * base + _PURCHASE.c.supplier_id  # one to group by, as above
        query = (
            select(number, func.sum(-c.cost))
            .select_from(_LINE.join(_PURCHASE, c.purchase_id == _PURCHASE.c.id))
            .where(c.account == "due", self._bought())
            .group_by(number)
        )
        came = [(*divmod(at, base), int(agreed)) for at, agreed in self.connection.execute(query)]
        found = dict[int, dict[str, int]]()
        for entry, supplier, agreed in sorted(came, key=lambda one: (one[0], suppliers[one[1]][1])):
            mine, (called, _) = found.setdefault(entry, {}), suppliers[supplier]
            mine[called] = mine.get(called, 0) + agreed
        return found

    def _suppliers(self) -> Mapping[str, str]:
        """Present names of suppliers by all names they had, folded; the longest first."""
        query = select(_SUPPLIER.c.key, _SUPPLIER.c.name)
        now = dict(tuple(row) for row in self.connection.execute(query))
        every = now | {old: now[key] for old, key in self._now["supplier"].items() if key in now}
        return dict(sorted(every.items(), key=lambda item: -len(item[0])))

    def agreed(self) -> tuple[AgreedRow, ...]:
        """By offer what its packs were ordered at."""
        c, p = _LINE.c, _PURCHASE.c
        days, parts, suppliers = (
            self._days("placed"),
            self._called("part", _PART.c.unit),
            self._called("supplier"),
        )
        base, steps = max(suppliers, default=0) + 1, self._steps
        # one number to group by beside the pack: four take half as long again
        number = (cast(p.part_id, BigInteger) * base + p.supplier_id) * steps + days.c.step
        query = (
            select(number, p.pack, func.count(), func.sum(c.quantity), func.sum(c.cost))
            .select_from(days.join(_LINE, c.document_id == days.c.id).join(_PURCHASE, c.purchase_id == p.id))
            .where(c.account == "due", c.quantity > 0, c.cost > 0)
            .group_by(number, p.pack)
        )
        found = []
        for at, pack, lines, many, cost in self.connection.execute(query).all():
            offer, step = divmod(at, steps)
            (part, unit), (supplier,) = parts[offer // base], suppliers[offer % base]
            found.append(AgreedRow(self._day(step), part, unit, supplier, pack, lines, int(many), int(cost)))
        return tuple(found)

    def _called(self, of: str, *more: Any) -> Mapping[int, tuple[Any, ...]]:
        """By its number what a thing is called now, and more columns of its own row."""
        there, names = table(of).c, self._names(of)
        rows = self.connection.execute(select(there.id, there.key, there.name, *more))
        return {number: (names(key, name), *rest) for number, key, name, *rest in rows}

    def overdue(self) -> int:
        """Promised orders whose day is past and that are open."""
        query = select(func.count()).where(_ORDER.c.state == "promised", _ORDER.c.due < self.last)
        return int(self.connection.execute(query).scalar_one())

    def _between(self) -> ColumnElement[bool]:
        return and_(_DOCUMENT.c.on_date >= self.first, _DOCUMENT.c.on_date <= self.last)

    def _bought(self) -> ColumnElement[bool]:
        """Of entries that may have bought something: their lines are found by their numbers."""
        kinds = ("arrival", "add", "days")
        some = select(_DOCUMENT.c.id).where(_DOCUMENT.c.kind.in_(kinds), self._between(), standing())
        return _LINE.c.document_id.in_(some)

    def _days(self, *kinds: str) -> Subquery:
        """Standing entries of the stretch with the step each is of: `12 × year + month − 1`; no kinds: of all."""
        on = _DOCUMENT.c.on_date
        month = extract("month", on) if self.by_month else literal(1)
        some = (_DOCUMENT.c.kind.in_(kinds),) if kinds else ()
        return (
            select(_DOCUMENT.c.id, (12 * extract("year", on) + month - 1).label("step"))
            .where(*some, self._between(), standing())
            .group_by(_DOCUMENT.c.id, on)  # worked out once, not for each line
            .subquery()
        )

    @property
    def _steps(self) -> int:
        """More than any step is."""
        return 12 * (self.last.year + 1)

    def _day(self, step: int) -> date:
        return _first_of(step // 12, step % 12 + 1)

    def _step(self, year: int, month: int) -> date:
        return _first_of(year, month if self.by_month else 1)

    def _names(self, of: str) -> Any:
        """What a thing of a folded name is called now; those that became another are called as that one."""
        old = self._now[of]
        if not old:
            return lambda _, name: name
        there = table(of)
        every = dict(tuple(row) for row in self.connection.execute(select(there.c.key, there.c.name)))
        return lambda key, name: every.get(old.get(key, key), name)


@cache
def _first_of(year: int, month: int) -> date:
    return date(year, month, 1)


def _shared(agreed: Mapping[str, int], goods: int, postage: int) -> Iterable[tuple[str, int, int]]:
    """A parcel's goods and postage by who sent it; one entry of several senders by what was agreed with each."""
    weights = [max(one, 0) for one in agreed.values()]
    some = weights if sum(weights) else [1] * len(weights)
    return zip(agreed, apportion(goods, some), apportion(postage, some), strict=True)


def _sender_in(title: str, named: Mapping[str, str]) -> str:
    """Who sent what nobody had ordered: the title of its entry names him. Empty for what was bought by hand."""
    from inventory.catalogue import fold

    said = fold(title).removeprefix("delivery from ")
    if said == fold(title):
        return ""
    return next((name for key, name in named.items() if said == key or said.startswith(f"{key} (")), "")
