"""One document into the book, whole or not at all. The caller holds the write lock and rolls back on any error."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Connection, delete, insert, select, update

from inventory.catalogue import Catalogue, fold
from inventory.errors import AlreadyBooked, BookMoved, StillNeeded
from inventory.ledger import Intake, Proposal
from inventory.measures import plural
from inventory.store.commit.balances import Balancer
from inventory.store.commit.catalogue import merge
from inventory.store.commit.orders import put_agreed, put_orders
from inventory.store.commit.tally import Tally
from inventory.store.commit.who import who
from inventory.store.mapping.booked_shapes import LINE, NEW_LOT, NEW_PURCHASE
from inventory.store.mapping.bulk import Values, change, put
from inventory.store.mapping.names import Names, next_number
from inventory.store.queries.documents import head
from inventory.store.queries.standing import Chains
from inventory.store.schema.core import table

Progress = Callable[[int, int], None]
"""Told how many lines are written, of how many."""

_SHOP, _SETTING, _FINGERPRINT = table("shop"), table("setting"), table("document_fingerprint")
_DOCUMENT, _LINE, _LOT, _PURCHASE = table("document"), table("movement"), table("lot"), table("purchase")
_ORDER, _STEP, _DOUBT, _TOTAL = (
    table("customer_order"),
    table("order_step"),
    table("doubt"),
    table("part_balance"),
)
_PORTION = 10_000


class Writer:
    """Books one proposal. Everything it needs to refuse, it refuses by raising."""

    def __init__(self, connection: Connection, proposal: Proposal, progress: Progress | None = None) -> None:
        self.connection, self.proposal, self.progress = connection, proposal, progress
        self.names = Names(connection)
        self.number = next_number(connection, _DOCUMENT)
        self.lots: dict[str, int] = {}
        self.purchases: dict[str, int] = {}

    def book(self, intake: Intake | None, settings: Mapping[str, str]) -> int:
        """The number of the booked document; one that is booked with it has the next.

        Raises BookMoved, AlreadyBooked, NotEnough, UnknownName, Refused.
        """
        self._check_version()
        if intake is not None:
            from inventory.store.commit.sheet_rows import keep_rows  # only loads say

            merge(self.connection, intake.catalogue, self.names)
            keep_rows(self.connection, intake.stood)
        if self.proposal.parts:
            merge(
                self.connection, Catalogue(parts={fold(p.name): p for p in self.proposal.parts}), self.names
            )
        put_orders(self.connection, (*(intake.orders if intake else ()), *self.proposal.orders), self.names)
        self._document()
        self._lots()
        self._purchases()
        self._lines()
        self._order_states()
        self._doubts()
        self._sessions()
        self._settings(settings)
        self._changes()
        self._payments()
        self._expenses()
        self.connection.execute(update(_SHOP).values(version=_SHOP.c.version + 1))
        if self.proposal.then is not None:
            Writer(self.connection, self.proposal.then).book(None, {})
        return self.number

    def _check_version(self) -> None:
        version = self.connection.execute(select(_SHOP.c.version)).scalar_one()
        expected_version = self.proposal.expected_version
        if expected_version is not None and expected_version != version:
            many = version - expected_version
            raise BookMoved(
                f"{plural(many, 'entry was', 'entries were')} booked since this was worked out."
                if many > 0
                else "This was worked out from another book.",
                hint="Nothing was booked. Look again, then repeat it.",
            )

    def _document(self) -> None:
        undo_depth = self._undo_depth()
        self.connection.execute(
            insert(_DOCUMENT),
            {
                "id": self.number,
                "kind": self.proposal.kind,
                "title": self.proposal.title,
                "on_date": self.proposal.on,
                "booked_at": datetime.now(UTC).isoformat(timespec="seconds"),
                "fingerprint": self.proposal.fingerprint,
                "reverses": self.proposal.reverses,
                "undo_depth": undo_depth,
                "booked_by": who(self.connection),
            },
        )
        if self.proposal.fingerprint:
            self._keep_fingerprint(self.proposal.fingerprint, self.number)

    def _undo_depth(self) -> int:
        """How often the thing was turned round; takes the fingerprint of what is undone away, or brings it back."""
        if self.proposal.reverses is None:
            return 0
        undone = head(self.connection, self.proposal.reverses)
        if undone.undone_by is not None:
            raise StillNeeded(
                f"Entry {undone.id} is already undone, by entry {undone.undone_by}.",
                hint=f"Bring it back: kitdrawer undo {undone.undone_by}.",
            )
        first = head(self.connection, Chains(self.connection).first(undone.id))
        if undone.undo_depth % 2 == 0:
            self.connection.execute(delete(_FINGERPRINT).where(_FINGERPRINT.c.document_id == first.id))
        elif first.fingerprint:
            self._keep_fingerprint(first.fingerprint, first.id)
        return undone.undo_depth + 1

    def _keep_fingerprint(self, fingerprint: str, document: int) -> None:
        query = select(_FINGERPRINT.c.document_id).where(_FINGERPRINT.c.fingerprint == fingerprint)
        earlier = self.connection.execute(query).scalar()
        if earlier is not None:
            there = head(self.connection, earlier)
            recount = there.kind == "load" and self.proposal.counted
            again = "; or load it with --again, where you counted again" if recount else ""
            raise AlreadyBooked(
                f"This is already booked: {there}.",
                hint=f"Nothing was booked. `kitdrawer entries` shows it{again}.",
            )
        self.connection.execute(insert(_FINGERPRINT), {"fingerprint": fingerprint, "document_id": document})

    def _lots(self) -> None:
        first = next_number(self.connection, _LOT)
        self.lots = _tags(self.proposal.lots, first)
        rows = [
            NEW_LOT.row(lot, self.names, id=number, document_id=self.number)
            for number, lot in enumerate(self.proposal.lots, first)
        ]
        put(self.connection, _LOT, rows)

    def _purchases(self) -> None:
        first = next_number(self.connection, _PURCHASE)
        self.purchases = _tags(self.proposal.purchases, first)
        rows = [
            NEW_PURCHASE.row(bought, self.names, id=number, document_id=self.number)
            for number, bought in enumerate(self.proposal.purchases, first)
        ]
        put(self.connection, _PURCHASE, rows)

    def _lines(self) -> None:
        tally = Tally()
        for lot in self.proposal.lots:
            tally.part_of_lot[self.lots[lot.tag]] = self.names["part"].of(lot.part)
            tally.lots[self.lots[lot.tag]] = [0, 0, 0, 0]
        for bought in self.proposal.purchases:
            tally.part_of_due[self.purchases[bought.tag]] = self.names["part"].of(bought.part)
            tally.due[self.purchases[bought.tag]] = [0, 0, 0]
        rows = list(self._rows(next_number(self.connection, _LINE), tally))
        # first the balances: what is refused is refused with a sentence, before thousands of lines are written
        Balancer(self.connection, self.names, set(self.lots.values()), set(self.purchases.values())).apply(
            tally
        )
        for start in range(0, len(rows), _PORTION):
            put(self.connection, _LINE, rows[start : start + _PORTION])
            if self.progress is not None:
                self.progress(min(start + _PORTION, len(rows)), len(rows))

    def _rows(self, first: int, tally: Tally) -> Iterator[Values]:
        for number, line in enumerate(self.proposal.lines, first):
            part = self.names["part"].of(line.part)
            order = None if line.order is None else self.names["customer_order"].of(line.order)
            lot, purchase = self._number(self.lots, line.lot), self._number(self.purchases, line.purchase)
            tally.add(line.account, part, line.quantity, line.cost, lot, purchase, order, line.cost_from)
            known = {"part_id": part, "lot_id": lot, "purchase_id": purchase, "order_id": order}
            yield LINE.row(line, self.names, id=number, document_id=self.number, **known)

    @staticmethod
    def _number(tags: Mapping[str, int], named: int | str | None) -> int | None:
        return tags[named] if isinstance(named, str) else named

    def _order_states(self) -> None:
        states = {self.names["customer_order"].of(name): state for name, state in self.proposal.order_states}
        handed = {self.names["customer_order"].of(name): pieces for name, pieces in self.proposal.handed}
        put(
            self.connection,
            _STEP,
            [
                {
                    "document_id": self.number,
                    "order_id": order,
                    "state": state,
                    "handed": handed.get(order, 0),
                }
                for order, state in states.items()
            ],
        )
        change(
            self.connection, _ORDER, "id", [{"id": order, "state": state} for order, state in states.items()]
        )

    def _doubts(self) -> None:
        doubtful = {self.names["part"].of(name): False for name in self.proposal.counted}
        doubtful.update((self.names["part"].of(name), True) for name in self.proposal.to_count)
        put(
            self.connection,
            _DOUBT,
            [
                {"document_id": self.number, "part_id": part, "doubtful": doubt}
                for part, doubt in doubtful.items()
            ],
        )
        flags = [{"part_id": part, "to_count": doubt} for part, doubt in doubtful.items()]
        change(self.connection, _TOTAL, "part_id", flags)

    def _sessions(self) -> None:
        said = self.proposal
        if said.sessions or said.session_states or said.outcomes or said.observed or said.rate_words:
            from inventory.store.commit.sessions import put_sessions  # most documents say nothing of them

            put_sessions(self.connection, said, self.number, self.names)
        elif said.learned is not None:
            from inventory.store.commit.sessions import put_learned

            put_learned(self.connection, said.learned, self.names)

    def _changes(self) -> None:
        """Last of all: what went before speaks of things by the names they had."""
        said = self.proposal
        if said.changes or said.agreed or said.reverses is not None:
            from inventory.store.commit.changes import Changes  # most documents change nothing of the kind

            changes = Changes(self.connection, self.number)
            if said.changes:
                from inventory.store.commit.names import put_changes

                put_changes(self.connection, changes, said.changes, self.names)
            put_agreed(changes, said.agreed, self.names)
            if said.reverses is not None:
                from inventory.store.commit.merges import refuse_what_is_left

                changes.turn(said.reverses)
                refuse_what_is_left(self.connection, self.number)

    def _payments(self) -> None:
        rows = [
            {
                "document_id": self.number,
                "order_id": self.names["customer_order"].of(one.order),
                "amount": one.amount,
            }
            for one in self.proposal.payments
        ]
        if rows:
            put(self.connection, table("payment"), rows)

    def _expenses(self) -> None:
        rows = [
            {
                "document_id": self.number,
                "position": at,
                "on_date": one.on,
                "what": one.what,
                "amount": one.amount,
                "at": one.at,
                "order_id": None if one.order is None else self.names["customer_order"].of(one.order),
            }
            for at, one in enumerate(self.proposal.expenses)
        ]
        if rows:
            put(self.connection, table("expense"), rows)

    def _settings(self, settings: Mapping[str, str]) -> None:
        for key in settings:
            self.connection.execute(delete(_SETTING).where(_SETTING.c.key == key))
        put(self.connection, _SETTING, [{"key": key, "value": value} for key, value in settings.items()])


def _tags(brought: tuple[Any, ...], first: int) -> dict[str, int]:
    tags = {one.tag: number for number, one in enumerate(brought, first)}
    if len(tags) != len(brought):
        raise ValueError("two lots or purchases of one document have the same tag")
    return tags
