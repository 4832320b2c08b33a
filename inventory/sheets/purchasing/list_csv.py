"""The supplier lists as CSV, one file a supplier."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from inventory.buying import Bill
from inventory.catalogue import fold
from inventory.errors import Refused
from inventory.jobs.purchasing.shopping import Shopping
from inventory.jobs.shop import Shop
from inventory.measures import currency, show_amount
from inventory.sheets.purchasing.supplier_tabs import HEADINGS, coins, titles_of
from inventory.sheets.writing import Value, write_csv


def write_csv_lists(folder: Path, shop: Shop, result: Shopping, *, overwrite: bool = False) -> list[Path]:
    """One file a supplier (UTF-8 with its mark, RFC 4180), in a folder that is made where it is missing.

    Prices and costs are in the supplier's currency. Returns the files. Raises Refused, before anything is written,
    where one of them is there already (unless `overwrite`) or the folder cannot be made.
    """
    names = titles_of(shop.catalogue)
    paths = [folder / f"{names[fold(bill.supplier.name)]}.csv" for bill in result.basket.bills]
    there = [path.name for path in paths if path.exists()]
    if there and not overwrite:
        hint = "Give another folder, or say that they may be replaced."
        raise Refused(f"{folder} holds {', '.join(there)} already.", hint=hint)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise Refused(
            f"The folder {folder} cannot be made: {error.strerror}.",
            hint="Give a folder, or a file ending in .xlsx for a workbook.",
        ) from None
    for path, bill in zip(paths, result.basket.bills, strict=True):
        write_csv(path, HEADINGS, _rows(shop, bill), overwrite=overwrite)
    return paths


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
