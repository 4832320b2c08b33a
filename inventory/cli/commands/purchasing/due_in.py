"""`due-in`: what is bought and has not arrived."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from inventory.catalogue import fold
from inventory.cli.drawing.draw import command
from inventory.cli.drawing.texts import pasted, wrapped
from inventory.cli.json.exact import Exact, Value, dumps
from inventory.cli.rates import RateOption, with_rates
from inventory.cli.screens.purchasing.parcels import due_screen
from inventory.cli.session import AllOption, JsonOption, StoreOption, opened, say, shop_of
from inventory.ledger import DueIn
from inventory.ledger.lateness import counted_on, days_late
from inventory.ledger.shop import Shop


def due_in(
    supplier: Annotated[str, typer.Option(help="Only from this supplier.")] = "",
    save: Annotated[
        Path | None,
        typer.Option(
            readable=False,
            metavar="FILE.xlsx",
            help="Write a delivery sheet to fill when the parcel is open: a workbook, or a folder of CSV files.",
        ),
    ] = None,
    rate: RateOption = None,
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace the file if it is there.")] = False,
    every: AllOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """What is on its way, and what of it is late.

    For example:
    kitdrawer due-in
    kitdrawer due-in --save parcel.xlsx
    """
    with opened(store) as found, found.reading() as read:
        shop = with_rates(shop_of(read, lambda _: (), offers=False), rate or [])
        name = shop.catalogue.supplier(supplier).name if supplier else ""
    rows = [row for row in shop.book.due if not name or fold(row.supplier) == fold(name)]
    written = save is not None and _write(save, shop, rows, overwrite)
    if as_json:
        say(dumps({"currency": shop.currency.code, "due_in": [_json(shop, row) for row in rows]}))
        return
    say(due_screen(shop, rows, everything=every))
    if save is not None and not written:
        text = (
            "No sheet was written. Book what came unordered: kitdrawer arrived PART --supplier S --quantity N"
        )
        say(wrapped(text))
    elif save is not None:
        fill = command("Fill it and book it", f"kitdrawer arrived {pasted(str(save))}")
        say([f"Saved: {save}", *_unpriced(shop, rows), *fill])


def _write(path: Path, shop: Shop, rows: Sequence[DueIn], overwrite: bool) -> bool:
    """Whether there was anything to write. Raises Refused for a name no sheet may have."""
    from inventory.sheets.saving import is_workbook

    workbook = is_workbook(path)
    if not rows:
        return False
    if workbook:
        from inventory.sheets.purchasing.parcel_writing import write_delivery_sheet

        write_delivery_sheet(path, shop, rows, overwrite=overwrite)
    else:
        from inventory.sheets.purchasing.parcel_writing import write_delivery_csv

        write_delivery_csv(path, shop, rows, overwrite=overwrite)
    return True


def _unpriced(shop: Shop, rows: Sequence[DueIn]) -> list[str]:
    """The suppliers whose agreed prices cannot be told: the book keeps costs in the shop's own coin."""
    lines: list[str] = []
    for name in dict.fromkeys(row.supplier for row in rows):
        code = shop.catalogue.supplier(name).currency
        if shop.rate(code) is None:
            text = (
                f"{name}: agreed prices are left out, as no rate for {code} is known. Say --rate {code}=0.92."
            )
            lines += wrapped(text)
    return lines


def _json(shop: Shop, row: DueIn) -> Value:
    exact = Exact(shop.currency.exponent)
    return {
        "part": row.part,
        "supplier": row.supplier,
        "quantity": exact.amount(row.quantity),
        "claimed": exact.amount(row.claimed),
        "cost": exact.money(row.cost),
        "expected": row.expected_on,
        "days_late": days_late(row, shop.today),
        "counted_on": counted_on(shop.book, row, shop.today),
    }
