"""The supplier lists as CSV, one file a supplier."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from inventory.buying import Bill
from inventory.catalogue import fold
from inventory.jobs.purchasing.shopping import Shopping
from inventory.jobs.shop import Shop
from inventory.measures import currency, show_amount
from inventory.sheets.purchasing.supplier_tabs import HEADINGS, titles_of
from inventory.sheets.values import coins
from inventory.sheets.writing import CsvTable, Value, write_csv_folder


def write_csv_lists(folder: Path, shop: Shop, result: Shopping, *, overwrite: bool = False) -> list[Path]:
    """One file a supplier (UTF-8 with its mark, RFC 4180), in a folder that is made where it is missing.

    Prices and costs are in the supplier's currency. Returns the files. Raises Refused, before anything is written,
    where one of them is there already (unless `overwrite`) or the folder cannot be made.
    """
    names = titles_of(shop.catalogue)
    bills = {names[fold(bill.supplier.name)]: bill for bill in result.basket.bills}
    tables: dict[str, CsvTable] = {name: (HEADINGS, _rows(shop, bill)) for name, bill in bills.items()}
    return write_csv_folder(folder, tables, overwrite=overwrite)


def _rows(shop: Shop, bill: Bill) -> list[Sequence[Value]]:
    coin = currency(bill.supplier.currency)
    return [
        (
            None,
            line.offer.part,
            line.offer.code,
            show_amount(line.offer.pack, shop.catalogue.part(line.offer.part).unit),
            line.packs,
            coins(line.price, coin),
            coins(line.cost, coin),
            line.needed_by,
            "; ".join(line.reasons),
            bill.supplier.name,
        )
        for line in bill.lines
    ]
