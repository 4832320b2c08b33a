"""A delivery sheet as CSV files: the parcels, and a file a supplier with what is due in from it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from inventory.jobs.shop import Shop
from inventory.ledger import DueIn
from inventory.measures import currency, show_amount
from inventory.sheets.purchasing.parcel_writing import COLUMNS, PARCEL, PARCELS, by_supplier, together
from inventory.sheets.purchasing.supplier_tabs import titles_of
from inventory.sheets.values import coins
from inventory.sheets.writing import CsvTable, Value, write_csv_folder


def write_delivery_csv(
    folder: Path, shop: Shop, rows: Sequence[DueIn], *, overwrite: bool = False
) -> list[Path]:
    """`delivery.csv` and one file a supplier, in a folder that is made where it is missing; `read_delivery` reads it.

    Returns the files. Raises Refused, before anything is written, where one of them is there already (unless
    `overwrite`) or the folder cannot be made.
    """
    found, names = by_supplier(rows), titles_of(shop.catalogue)
    senders = [(shop.catalogue.suppliers[key].name, *[None] * (len(PARCEL) - 1)) for key in found]
    tables: dict[str, CsvTable] = {PARCELS: (list(PARCEL), senders)}
    tables |= {names[key]: (list(COLUMNS), _rows(shop, key, mine)) for key, mine in found.items()}
    return write_csv_folder(folder, tables, overwrite=overwrite)


def _rows(shop: Shop, key: str, rows: Sequence[DueIn]) -> list[Sequence[Value]]:
    supplier = shop.catalogue.suppliers[key]
    coin = currency(supplier.currency or shop.currency.code)
    done: list[Sequence[Value]] = []
    for one in together(shop, rows):
        unit = shop.catalogue.part(one.part).unit
        cells: dict[str, Value] = {
            "part": one.part,
            "supplier code": one.code,
            "due": show_amount(one.quantity, unit),
            "pack": show_amount(one.pack, unit),
            "agreed price": None if one.price is None else coins(one.price, coin),
            "expected": one.expected,
            "supplier": supplier.name,
        }
        done.append([cells.get(name) for name in COLUMNS])
    return done
