"""The supplier lists as CSV, one file a supplier."""

from __future__ import annotations

from pathlib import Path

from inventory.jobs.shop import Shop
from inventory.jobs.shopping import Shopping
from inventory.measures import currency, show_amount
from inventory.sheets.lists_common import HEADINGS, titles
from inventory.sheets.lists_writing import coins
from inventory.sheets.writing import write_csv


def write_csv_lists(folder: Path, shop: Shop, result: Shopping, *, overwrite: bool = False) -> list[Path]:
    """Write the files into a folder, which is made where it is missing. Raises Refused. Returns them."""
    folder.mkdir(parents=True, exist_ok=True)
    names = titles(bill.supplier.name for bill in result.basket.bills)
    written = []
    for bill in result.basket.bills:
        coin = currency(bill.supplier.currency)
        rows = [
            (
                "",
                line.offer.part,
                line.offer.code,
                show_amount(line.offer.pack, shop.catalogue.part(line.offer.part).unit),
                line.packs,
                coins(line.price, coin),
                coins(line.cost, coin),
                line.needed_by,
                "; ".join(line.reasons),
            )
            for line in bill.lines
        ]
        path = folder / f"{names[bill.supplier.name]}.csv"
        write_csv(path, HEADINGS, rows, overwrite=overwrite)
        written.append(path)
    return written
