"""The derived tables brought up to date with one document, in sets, and refused where there is not enough."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from typing import Any

from sqlalchemy import Connection, Table, select

from inventory.errors import BadInput, BookMoved, NotEnough
from inventory.ledger.costs import BY_OFFER, SAID, UNKNOWN
from inventory.measures import exact
from inventory.store.commit.tally import (
    CLAIMED,
    DUE_CLAIMED,
    DUE_IN,
    LAYER,
    LOT_LAYER,
    ON_HAND,
    TO_BUY,
    TOTALS,
    ClaimKey,
    Tally,
)
from inventory.store.mapping.bulk import Values, change, drop, put
from inventory.store.mapping.names import Names, next_number
from inventory.store.schema.core import table

_PART, _TOTAL, _LEFT = table("part"), table("part_balance"), table("lot_balance")
_DUE, _CLAIM = table("due_balance"), table("claim_balance")
_MOST = 2**62  # sums of two still fit 64 bits, which SQLite would otherwise turn into floats unasked


class Balancer:
    """Applies one document's sums; `new_lots` and `new_purchases` are those the document itself brings."""

    def __init__(
        self, connection: Connection, names: Names, new_lots: set[int], new_purchases: set[int]
    ) -> None:
        self.connection, self.names = connection, names
        self.new_lots, self.new_purchases = new_lots, new_purchases

    def apply(self, tally: Tally) -> None:
        """Bring every derived table up to date. Raises NotEnough or BookMoved; the caller rolls back."""
        self._parts(tally)
        self._layers(tally, _LEFT, "lot_id")
        self._layers(tally, _DUE, "purchase_id")
        self._claims(tally)

    def _parts(self, tally: Tally) -> None:
        rows = []
        for part, *there in _found(self.connection, _TOTAL, "part_id", TOTALS, tally.parts):
            now = [self._sum(part, have, more) for have, more in zip(there, tally.parts[part], strict=True)]
            self._check_part(part, there, now)
            rows.append({"part_id": part, **dict(zip(TOTALS, now, strict=True))})
        change(self.connection, _TOTAL, "part_id", rows)

    def _check_part(self, part: int, there: Sequence[int], now: Sequence[int]) -> None:
        if now[ON_HAND] < 0 or now[CLAIMED] > now[ON_HAND]:
            free = there[ON_HAND] - there[CLAIMED]
            wanted = free - (now[ON_HAND] - now[CLAIMED])
            self._refuse(
                part, f"{{free}} free, and {{wanted}} {_are(wanted)} wanted", free=free, wanted=wanted
            )
        if now[DUE_IN] < 0 or now[DUE_CLAIMED] > now[DUE_IN]:
            free = there[DUE_IN] - there[DUE_CLAIMED]
            wanted = free - (now[DUE_IN] - now[DUE_CLAIMED])
            self._refuse(part, "{free} due in and nobody's, and {wanted} wanted", free=free, wanted=wanted)
        for which, word in (
            (CLAIMED, "set aside"),
            (DUE_CLAIMED, "set aside of what is due in"),
            (TO_BUY, "to buy"),
        ):
            if now[which] < 0:
                taken = there[which] - now[which]
                self._refuse(
                    part, "{there} " + word + ", and {taken} to be taken off", there=there[which], taken=taken
                )

    def _layers(self, tally: Tally, of: Table, key: str) -> None:
        lots = of is _LEFT
        sums, parts = (tally.lots, tally.part_of_lot) if lots else (tally.due, tally.part_of_due)
        new = self.new_lots if lots else self.new_purchases
        layer = LOT_LAYER if lots else LAYER
        rows = []
        for number, part, *there in _found(self.connection, of, key, ("part_id", *layer), sums.keys() - new):
            if parts[number] != part:
                raise ValueError(f"{key} {number} is of another part")
            now = [self._sum(part, have, more) for have, more in zip(there, sums[number], strict=True)]
            self._check_layer(part, number, there, now, lots=lots)
            rows.append({key: number, **dict(zip(layer, now, strict=True))})
        if len(rows) != len(sums.keys() - new):
            raise ValueError(f"a line names a {key} that is not in the book")
        change(self.connection, of, key, rows)
        fresh = [(number, parts[number], sums[number]) for number in sorted(sums.keys() & new)]
        for number, part, now in fresh:
            self._check_layer(part, number, (0, 0, 0, 0), now, lots=lots)
        put(
            self.connection,
            of,
            [{key: n, "part_id": part, **dict(zip(layer, s, strict=True))} for n, part, s in fresh],
        )

    def _check_layer(
        self, part: int, number: int, there: Sequence[int], now: Sequence[int], *, lots: bool
    ) -> None:
        quantity, cost, claimed, *mark = now
        where = f"in lot {number}" if lots else f"due in from purchase {number}"
        if quantity < 0:
            self._refuse(
                part, f"{{there}} {where}, and {{taken}} wanted", there=there[0], taken=there[0] - quantity
            )
        if claimed > quantity:
            free = there[0] - there[2]
            self._refuse(
                part,
                f"{{free}} free {where}, and {{wanted}} wanted",
                free=free,
                wanted=free + claimed - quantity,
            )
        if claimed < 0:
            self._refuse(
                part,
                f"{{there}} set aside {where}, and {{taken}} to be taken off",
                there=there[2],
                taken=there[2] - claimed,
            )
        if cost < 0 or (cost and not quantity) or not set(mark) <= {SAID, BY_OFFER, UNKNOWN}:
            raise BookMoved(
                f"What “{self.names['part'].names[part]}” cost {where} is not what it was when this was worked out.",
                hint="Nothing was booked. Look again, then repeat it.",
            )

    def _claims(self, tally: Tally) -> None:
        changes = {key: more for key, more in tally.claims.items() if more}
        if not changes:
            return
        there = self._claims_of({key[0] for key in changes})
        fresh = iter(range(next_number(self.connection, _CLAIM), 2**31))
        gone, rows = [], []
        for key, more in changes.items():
            number, have = there.get(key, (None, 0))
            if have + more < 0:
                order = self.names["customer_order"].names[key[0]]
                self._refuse(
                    key[1],
                    f"{{there}} for the order “{order}” ({key[2]}), and {{taken}} to be taken off",
                    there=have,
                    taken=-more,
                )
            if number is not None:
                gone.append(number)
            if have + more:
                rows.append(_claim_row(number if number is not None else next(fresh), key, have + more))
        drop(self.connection, _CLAIM, "id", gone)
        put(self.connection, _CLAIM, rows)

    def _claims_of(self, orders: set[int]) -> dict[ClaimKey, tuple[int, int]]:
        fields = ("part_id", "account", "lot_id", "purchase_id", "id", "quantity")
        rows = _found(self.connection, _CLAIM, "order_id", fields, orders)
        return {tuple(row[:5]): (row[5], row[6]) for row in rows}

    def _sum(self, part: int, have: int, more: int) -> int:
        if abs(have + more) >= _MOST:
            raise BadInput(
                f"“{self.names['part'].names[part]}” would come to more than a book can hold.",
                hint="Check the quantity and the cost; the last digits may be a slip.",
            )
        return have + more

    def _refuse(self, part: int, sentence: str, **amounts: int) -> None:
        unit = self.connection.execute(select(_PART.c.unit).where(_PART.c.id == part)).scalar_one()
        shown = {
            name: f"{exact(amount, 1000)}{'' if unit == 'piece' else ' ' + unit}"
            for name, amount in amounts.items()
        }
        raise NotEnough(
            f"Of “{self.names['part'].names[part]}” there is {sentence.format(**shown)}.",
            hint="Nothing was booked. Look again, then repeat it with what is there.",
        )


def _are(quantity: int) -> str:
    return "is" if quantity == 1000 else "are"


def _claim_row(number: int, key: ClaimKey, quantity: int) -> Values:
    order, part, account, lot, purchase = key
    return {
        "id": number,
        "order_id": order,
        "part_id": part,
        "account": account,
        "lot_id": lot,
        "purchase_id": purchase,
        "quantity": quantity,
    }


def _found(
    connection: Connection, of: Table, key: str, fields: Sequence[str], numbers: Iterable[int]
) -> Iterator[Sequence[Any]]:
    query = select(of.c[key], *(of.c[name] for name in fields))
    for some in _portions(sorted(numbers)):
        yield from connection.execute(query.where(of.c[key].in_(some)))


def _portions(numbers: Sequence[int], size: int = 5_000) -> Iterator[list[int]]:
    rest = iter(numbers)  # a statement takes only so many values: 32 766 on SQLite
    while some := list(islice(rest, size)):
        yield some
