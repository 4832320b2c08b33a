"""The shop of the trials: the sample stock with promises, an order on its way and a planned session, and its sheets."""

from __future__ import annotations

import csv
import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import postgres
from sqlalchemy import make_url

from inventory.store import open_store
from inventory.store.copies.transfer import carry

from .warm import TESTS, TODAY, Warm

SAMPLE = TESTS.parent / "sample_stock"
SALT = "Saltmarsh Turning Supplies"
BOOK = "book.kitdrawer"
ENGINES = ("sqlite", "postgresql")
SO_FAR = (
    ("begin", "--rate", "USD=0.92"),
    ("load", str(SAMPLE), "--yes"),
    ("promise", "S41", "--yes"),
    ("promise", "S42", "--yes"),
    ("placed", "--supplier", SALT, "--yes"),
    ("plan", "--on", TODAY, "--yes"),
)
"""What was booked before: documents 1 to 5."""
SMALL = 3
"""How many of these a small shop has."""


@dataclass(frozen=True)
class Shop:
    """A closed store in `folder`, the sheets beside it, and the name of a database that holds the same on a server."""

    folder: Path
    server: str = ""
    database: str = ""

    @property
    def book(self) -> Path:
        """The file of the store; never worked on, only copied."""
        return self.folder / BOOK

    @property
    def sheets(self) -> Path:
        """The folder of filled sheets."""
        return self.folder / "sheets"

    @contextmanager
    def copied(self, engine: str, folder: Path, *, empty: bool = False) -> Iterator[str]:
        """A store of a trial's own, by its path or URL; empty: the place for one."""
        if engine == "postgresql":
            with postgres.database(self.server, "template1" if empty else self.database) as url:
                yield url
            return
        if not empty:
            shutil.copy(self.book, folder / BOOK)
        yield str(folder / BOOK)


def made(warm: Warm, folder: Path, *, small: bool = False) -> Shop:
    """The shop in a file, made by the commands themselves. small: one promise, no order placed and nothing planned."""
    shop = Shop(folder)
    shop.sheets.mkdir()
    for words in SO_FAR[:SMALL] if small else SO_FAR:
        answer = warm.call(str(shop.book), *words, folder=folder)
        assert answer.code in (0, 3), answer
        if words[0] == "load":
            backup = warm.call(str(shop.book), "backup", str(shop.sheets / "earlier"), folder=folder)
            assert backup.code == 0, backup
    _plain_sheets(shop)
    if not small:
        _filled_sheets(warm, shop)
    return shop


def _plain_sheets(shop: Shop) -> None:
    orders = "order,pattern,blank,count,due,platings\nN1,Dunlin pen,walnut blank,1,2027-02-01,chrome\n"
    (shop.sheets / "orders.csv").write_text(orders, encoding="utf-8")
    (shop.sheets / "next").mkdir()
    (shop.sheets / "next" / "materials.csv").write_text("material,allowance\nyew,3 mm\n", encoding="utf-8")
    days = "what,part,how many,why\nfound,walnut blank,2,\ntook,walnut blank,1,broke\n"
    (shop.sheets / "market.csv").write_text(days, encoding="utf-8")
    counts = "".join(f"CA thin,{number % 40 + 1},lot {number}\n" for number in range(400))
    (shop.sheets / "counts.csv").write_text(f"part,quantity,lot\n{counts}", encoding="utf-8")


def _filled_sheets(warm: Warm, shop: Shop) -> None:
    for words in (
        ("weekend", "sheet", "--save", str(shop.sheets / "saturday")),
        ("count", "sheet", "--kind", "kits", "--save", str(shop.sheets / "kits.csv")),
        ("due-in", "--save", str(shop.sheets / "parcel")),
        ("shopping", "--save", str(shop.sheets / "list.xlsx")),
    ):
        assert warm.call(str(shop.book), *words, folder=shop.folder).code in (0, 3)
    pieces = {"S41": {"good": "2"}, "S42": {"good": "4", "spoiled at turn": "1"}}
    fill(shop.sheets / "saturday" / "pieces.csv", pieces)
    fill(shop.sheets / "kits.csv", {"Dunlin kit chrome": {"counted": "9", "second count": "9"}}, "part")
    came(shop.sheets / "parcel")


@contextmanager
def on_server(shop: Shop, server: str) -> Iterator[Shop]:
    """The same shop on a server as well, in a database to make others after."""
    with postgres.database(server) as url:
        with open_store(shop.book) as store:
            carry(store, url)
        yield Shop(shop.folder, server, str(make_url(url).database))


def fill(path: Path, said: Mapping[str, Mapping[str, str]], by: str = "order") -> None:
    """Write into the rows of a CSV sheet what a maker would have written, by what stands in the column `by`."""
    rows = _read(path)
    for row in rows:
        assert not set(said.get(row[by], {})) - set(row), row
        row.update(said.get(row[by], {}))
    _write(path, rows)


def came(folder: Path) -> None:
    """Write into a delivery sheet that all of it came."""
    path = folder / f"{SALT}.csv"
    _write(path, [{**row, "arrived": row["due"]} for row in _read(path)])


def _read(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def _write(path: Path, rows: list[dict[str, str]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, rows[0].keys())
        writer.writeheader()
        writer.writerows(rows)
