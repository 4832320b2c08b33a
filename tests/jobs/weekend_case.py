"""One planned Saturday for the tests of sessions: three orders, stall pieces, and a look at everything in the book."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from inventory.jobs.orders.requests import OrderRequest
from inventory.store import Store, open_store
from jobs import goods
from jobs.sessions import SATURDAY, here
from jobs.shop import order

REED, TERN, KNOT = (
    order("Reed", 5),
    order("Tern", 3, pattern="Avocet gloss", platings=("gunmetal",)),
    order("Knot", 2, pattern="Godwit plain", blank=goods.THICK),
)
STALL = OrderRequest("Turnstone gloss", ("chrome",), goods.OLIVE, 2, SATURDAY)


@contextmanager
def copied(template: Path) -> Iterator[Store]:
    """A copy of it, gone afterwards."""
    with tempfile.TemporaryDirectory() as folder, open_store(shutil.copy(template, folder)) as store:
        yield store


def rows_of(store: Store) -> dict[str, int]:
    """The number of each order in the plan."""
    with store.reading() as read:
        return {row.order: at for at, row in enumerate(read.sessions()[0].rows, 1)}


def picture(store: Store) -> tuple[Any, ...]:
    """Balances, lots, claims, what is due, states of orders and sessions: everything an undo has to bring back."""
    with store.reading() as read:
        book = read.book()
        balances = {key: one for key, one in book.balances.items() if one.on_hand or one.to_buy}
        lots = {key: several for key, several in book.lots.items() if several}
        states = {key: one.state for key, one in book.orders.items() if not one.name.startswith("stall")}
        sessions = tuple((one.number, one.state) for one in read.sessions())
        key = [(c.order, c.part, c.account, c.quantity, c.lot, c.purchase) for c in book.claims]
        return balances, lots, sorted(key, key=str), book.due, states, sessions, set(book.to_count)


def on_hand(store: Store, part: str) -> int:
    """Thousandths on the shelf."""
    return here(store).book.balance(part).on_hand
