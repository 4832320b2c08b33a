"""A large made-up shop for scripts/bench.py: a store with as many lines in its book as one asks for.

Everything goes in through the project's own tables, in sets, and adds up: `kitdrawer verify` finds nothing.
"""

from __future__ import annotations

import hashlib
import sys
import tempfile
from collections.abc import Iterator
from datetime import date, timedelta
from itertools import islice
from pathlib import Path
from typing import Any

from big_catalogue import PROMISED, catalogue_rows

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import ROOT
from sqlalchemy import Connection, insert, update

from inventory.ledger import share
from inventory.store import begin
from inventory.store.schema.models import METADATA

Rows = dict[str, list[dict[str, Any]]]

USES = 19
"""Times a lot is drawn from until it is empty."""
LOTS_A_ROUND = 50
OPEN_LOTS_A_PART = 2
DUE = 40
FIRST_DAY, LAST_DAY = date(2016, 1, 2), date(2026, 11, 1)
BALANCES = ("on_hand", "claimed", "due_in", "to_buy")
BATCH = 20_000


def make_store(parts: int, movements: int) -> Path:
    """The store with this many parts and movements, made once for each state of the schema and kept."""
    folder = Path(tempfile.gettempdir()) / f"kitdrawer-bench-{digest()}"
    file = folder / f"{parts}-parts-{movements}-lines.store"
    if not file.exists():
        folder.mkdir(exist_ok=True)
        fresh = file.with_suffix(".new")
        fresh.unlink(missing_ok=True)
        with begin(fresh, "EUR") as store, store.writing() as connection:
            for name, rows in catalogue_rows(parts).items():
                _add(connection, name, rows)
            History(connection, parts).write(movements)
        fresh.rename(file)
    return file


class History:
    """Ten years of deliveries and weekends, then what lies on the shelf, is due in and is promised today."""

    def __init__(self, connection: Connection, parts: int) -> None:
        self.connection = connection
        self.parts = parts
        self.lines = self.lots = self.documents = 0
        self.totals = {part: dict.fromkeys(BALANCES, 0) for part in range(1, parts + 1)}
        self.days = 1

    def write(self, movements: int) -> None:
        """Write exactly so many lines; raises ValueError where that is fewer than today alone needs."""
        today = OPEN_LOTS_A_PART * self.parts + DUE + 3 * PROMISED
        closed, extra = divmod(movements - today, USES + 1)
        if movements < today or extra > self.parts:
            raise ValueError(f"at least {today} lines are needed")
        self.days = closed // LOTS_A_ROUND * (USES + 1) + 100
        for rows in self._rounds(closed):
            self._flush(rows)
        self._flush(self._shelf(extra))
        self._flush(self._due_in())
        self._flush(self._promises())
        balances = [
            {"part_id": part, **totals, "due_claimed": 0, "to_count": False}
            for part, totals in self.totals.items()
        ]
        _add(self.connection, "part_balance", balances)
        self.connection.execute(update(METADATA.tables["shop"]).values(version=self.documents))

    def _rounds(self, closed: int) -> Iterator[Rows]:
        """A delivery of fifty lots, and the weekends that use them up, again and again."""
        for first in range(0, closed, LOTS_A_ROUND):
            rows: Rows = {"document": [], "lot": [], "movement": [], "lot_balance": []}
            numbers = range(first, min(first + LOTS_A_ROUND, closed))
            delivery = self._document(rows, "arrival")
            left = {}
            for number in numbers:
                lot, part = self._lot(rows, delivery, number % self.parts + 1, quantity=0, cost=0)
                left[lot] = (part, USES * 1000, USES * (100 + part % 900) + 7)
                self._line(rows, delivery, "shelf", part, *left[lot][1:], lot_id=lot, reason="receipt")
            for _ in range(USES):
                weekend = self._document(rows, "weekend")
                for lot, (part, quantity, cost) in left.items():
                    gone = share(quantity, cost, 1000)
                    self._line(rows, weekend, "shelf", part, -1000, -gone, lot_id=lot, reason="used")
                    left[lot] = (part, quantity - 1000, cost - gone)
            yield rows

    def _shelf(self, extra: int) -> Rows:
        """The lots that still hold something; one use from the first `extra` of them."""
        rows: Rows = {"document": [], "lot": [], "movement": [], "lot_balance": []}
        delivery, weekend = self._document(rows, "arrival"), self._document(rows, "weekend")
        uses: list[tuple[int, int, int]] = []
        for number in range(OPEN_LOTS_A_PART * self.parts):
            part = number % self.parts + 1
            quantity, cost = 50_000, 50 * (100 + part % 900) + 3
            used = (1000, share(quantity, cost, 1000)) if number < extra else (0, 0)
            lot, _ = self._lot(rows, delivery, part, quantity=quantity - used[0], cost=cost - used[1])
            self._line(rows, delivery, "shelf", part, quantity, cost, lot_id=lot, reason="receipt")
            self.totals[part]["on_hand"] += quantity - used[0]
            if used[0]:
                uses.append((lot, part, used[1]))
        for lot, part, cost in uses:
            self._line(rows, weekend, "shelf", part, -1000, -cost, lot_id=lot, reason="used")
        return rows

    def _due_in(self) -> Rows:
        """Bought lines that are on their way."""
        rows: Rows = {"document": [], "purchase": [], "movement": [], "due_balance": []}
        document = self._document(rows, "placed")
        for number in range(1, DUE + 1):
            part = number * 7 % self.parts + 1
            bought = {"id": number, "document_id": document, "supplier_id": number % 4 + 1, "part_id": part}
            expected = LAST_DAY + timedelta(days=40)
            rows["purchase"].append({**bought, "expected_on": expected, "code": f"C{part}", "pack": 10_000})
            self._line(rows, document, "due", part, 10_000, 4000, purchase_id=number, reason="placed")
            due = {"purchase_id": number, "part_id": part, "quantity": 10_000, "cost": 4000, "claimed": 0}
            rows["due_balance"].append(due)
            self.totals[part]["due_in"] += 10_000
        return rows

    def _promises(self) -> Rows:
        """The promised orders: two parts set aside from the shelf, one still to buy."""
        rows: Rows = {"document": [], "movement": [], "claim_balance": [], "order_step": []}
        for request in range(1, PROMISED + 1):
            document = self._document(rows, "promise")
            rows["order_step"].append({"document_id": document, "order_id": request, "state": "promised"})
            for place, account in enumerate(("claim", "claim", "to buy")):
                part = (request * 31 + place * 400) % self.parts + 1
                self._line(rows, document, account, part, 2000, 0, order_id=request, reason="claimed")
                claim = {"id": len(rows["claim_balance"]) + 1, "order_id": request, "part_id": part}
                empty = {"lot_id": None, "purchase_id": None}
                rows["claim_balance"].append({**claim, **empty, "account": account, "quantity": 2000})
                self.totals[part]["claimed" if account == "claim" else "to_buy"] += 2000
        promised = METADATA.tables["customer_order"].c["id"] <= PROMISED
        self.connection.execute(
            update(METADATA.tables["customer_order"]).where(promised).values(state="promised")
        )
        return rows

    def _document(self, rows: Rows, kind: str) -> int:
        self.documents += 1
        span = (LAST_DAY - FIRST_DAY).days
        on = FIRST_DAY + timedelta(days=min(span, self.documents * span // self.days))
        said = {
            "kind": kind,
            "title": f"{kind} {self.documents}",
            "on_date": on,
            "booked_at": f"{on}T18:00:00",
        }
        rows["document"].append(
            {"id": self.documents, **said, "fingerprint": "", "reverses": None, "undo_depth": 0}
        )
        return self.documents

    def _lot(self, rows: Rows, document: int, part: int, *, quantity: int, cost: int) -> tuple[int, int]:
        self.lots += 1
        received = rows["document"][0]["on_date"]
        lot = {"id": self.lots, "document_id": document, "part_id": part, "received_on": received}
        rows["lot"].append({**lot, "name": ""})
        left = {"quantity": quantity, "cost": cost, "claimed": 0}
        rows["lot_balance"].append({"lot_id": self.lots, "part_id": part, **left})
        return self.lots, part

    def _line(
        self, rows: Rows, document: int, account: str, part: int, quantity: int, cost: int, **more: Any
    ) -> None:
        self.lines += 1
        line = {"id": self.lines, "document_id": document, "account": account, "part_id": part}
        unset = {"lot_id": None, "purchase_id": None, "order_id": None, "stage": ""}
        rows["movement"].append({**line, **unset, "quantity": quantity, "cost": cost, **more})

    def _flush(self, rows: Rows) -> None:
        for name, some in rows.items():
            _add(self.connection, name, some)


def _add(connection: Connection, name: str, rows: list[dict[str, Any]]) -> None:
    waiting = iter(rows)
    while some := list(islice(waiting, BATCH)):
        connection.execute(insert(METADATA.tables[name]), some)


def digest(*more: Path) -> str:
    """A digest of what the file depends on: the store's tables and steps, the scripts that fill it, and `more`."""
    store = ROOT / "inventory" / "store"
    files = [*store.glob("schema/**/*.py"), *ROOT.glob("scripts/bench/*.py")]
    files += more
    return hashlib.sha256(b"".join(path.read_bytes() for path in sorted(files))).hexdigest()[:12]
