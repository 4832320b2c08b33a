"""A shop with many promised orders for scripts/bench.py: the sample's things, a well-filled shelf, made-up orders.

Orders are promised one by one, each from what the earlier ones left, so that the book is such as years of use make it.
"""

from __future__ import annotations

import csv
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from datetime import date, timedelta
from itertools import cycle, islice
from pathlib import Path

from big_store import digest

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import PYTHON, ROOT, surroundings

from inventory.catalogue import Blank, Catalogue, Kit, Order, fold
from inventory.errors import KitdrawerError
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.promising import promise
from inventory.jobs.orders.requests import request_of
from inventory.ledger.shop import Shop
from inventory.measures import currency
from inventory.store import Read, Store, begin, open_store

SAMPLE = ROOT / "sample_stock"
PLENTY = 8
"""Times the sample's shelf: what many orders can draw on, and yet runs short for the last of them."""
ONE_OFF = ("smallest diameter", "length")


def make_shop(orders: int, today: str) -> Path:
    """A store with so many promised orders, made once for each state of the schema and kept."""
    folder = Path(tempfile.gettempdir()) / f"kitdrawer-bench-{digest()}"
    file = folder / f"{orders}-orders.store"
    if not file.exists():
        folder.mkdir(exist_ok=True)
        fresh = file.with_suffix(".new")
        fresh.unlink(missing_ok=True)
        begin(fresh, "EUR").close()
        with tempfile.TemporaryDirectory() as sheets:
            _sheets(Path(sheets) / "shop", orders)
            load = [str(PYTHON), "-m", "inventory.cli", "load", str(Path(sheets) / "shop"), "--yes"]
            words = [*load, "--store", str(fresh)]
            env = surroundings(KITDRAWER_TODAY=today)
            subprocess.run(words, env=env, capture_output=True, check=True)
        with open_store(fresh) as store:
            _promise(store, orders, date.fromisoformat(today))
        fresh.rename(file)
    return file


def _sheets(folder: Path, orders: int) -> None:
    """The sample's sheets with a fuller shelf and no orders. Measured blanks stay the one-offs they are."""
    shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns("orders.csv", "*.md"))
    with (folder / "counts.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    for row in rows:
        if row["quantity"].isdecimal() and not any(row[one] for one in ONE_OFF):
            row["quantity"] = str(int(row["quantity"]) * (1 + PLENTY * orders // 100))
    with (folder / "counts.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, rows[0])
        writer.writeheader()
        writer.writerows(rows)


def _promise(store: Store, orders: int, today: date) -> None:
    """So many promised orders; what cannot be made at all is passed over."""
    with store.reading() as read:
        requests = cycle(_wishes(read.catalogue(), today))
    taken = 0
    for request in islice(requests, 20 * orders):
        with store.reading() as read:
            shop = _shop(read, today)
        order = Order(f"B{taken + 1:03}", *request)
        try:
            report = check(shop, request_of(order))
        except KitdrawerError:
            continue
        if report.verdict != "cannot":
            store.commit(promise(shop, order, report))
            taken += 1
        if taken == orders:
            return
    raise RuntimeError(f"only {taken} orders can be promised")


def _shop(read: Read, today: date) -> Shop:
    return Shop(
        read.catalogue(), read.book(None), currency(read.currency), today, read.settings(), read.offers(None)
    )


def _wishes(catalogue: Catalogue, today: date) -> Iterator[tuple[str, str, int, date, tuple[str, ...]]]:
    """Every pattern in every plating it comes in, from one blank after another, due within two months."""
    blanks = cycle(sorted(part.name for part in catalogue.parts.values() if isinstance(part.detail, Blank)))
    kits = [part.detail for part in catalogue.parts.values() if isinstance(part.detail, Kit)]
    for number, pattern in enumerate(catalogue.patterns.values()):
        for kit in kits:
            if fold(kit.family) == fold(pattern.family):
                due = today + timedelta(days=14 + number * 7 % 45)
                yield pattern.name, next(blanks), 1 + number % 4, due, (kit.plating,)
