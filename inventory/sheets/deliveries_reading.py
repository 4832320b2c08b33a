"""A filled delivery sheet, back again."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from inventory.catalogue import Catalogue, Part, fold
from inventory.errors import BadMeasure, BadSheet, Place
from inventory.jobs.arriving import Arrived, Delivery
from inventory.measures import Currency, currency, read_amount, read_date, read_money
from inventory.sheets.columns import fold_heading
from inventory.sheets.filled import FilledRow, FilledTab, filled_tabs, finish
from inventory.sheets.lists_common import RESERVED, titles


def read_delivery(path: Path, known: Catalogue, own: Currency, today: date) -> tuple[Delivery, ...]:
    """One delivery a supplier whose tab says that something arrived, was damaged or will not come.

    Raises BadSheet with every cell that cannot be taken, or where nothing is filled in.
    """
    problems: list[Place] = []
    tabs = filled_tabs(path, problems)
    parcels = {
        fold(row.said("supplier")): row for tab in tabs if fold(tab.name) == "delivery" for row in tab.rows
    }
    names = {fold(title): name for name, title in titles(s.name for s in known.suppliers.values()).items()}
    done = []
    for tab in tabs:
        if fold(tab.name) in RESERVED:
            continue
        supplier = names.get(fold(tab.name))
        if supplier is None or fold_heading("arrived") not in tab.headings:
            problems.append(
                Place(tab.file, tab.name, problem="No tab of a delivery sheet: nobody is called that.")
            )
            continue
        coin = currency(known.supplier(supplier).currency or own.code)
        lines = _lines(tab, known, coin)
        if lines:
            done.append(_delivery(supplier, lines, parcels.get(fold(supplier)), coin, today))
    finish(problems, path.name)
    if not done:
        raise BadSheet(f"{path.name} says of nothing that it arrived.", hint="Fill the column `arrived`.")
    return tuple(done)


def _lines(tab: FilledTab, known: Catalogue, coin: Currency) -> tuple[Arrived, ...]:
    lines = [_line(row, known, coin) for row in tab.rows]
    return tuple(line for line in lines if line is not None)


def _line(row: FilledRow, known: Catalogue, coin: Currency) -> Arrived | None:
    if not any(row.said(name) for name in ("arrived", "damaged", "rest cancelled")):
        return None
    part = row.read("part", known.part, None)
    if part is None:
        if not row.said("part"):
            row.refuse("part", "What arrived? Name the part.")
        return None
    instead = row.read("instead of", known.part, None)
    return Arrived(
        part.name,
        _amount(row, "arrived", part),
        _amount(row, "damaged", part),
        row.read("price", lambda text: read_money(text, coin), None),
        instead.name if instead else "",
        row.read("rest cancelled", _yes, False),
        row.said("lot"),
        row.read("use by", read_date, None),
        row.place(),
    )


def _amount(row: FilledRow, heading: str, part: Part) -> int:
    return row.read(heading, lambda text: read_amount(text, part.unit), 0)


def _yes(text: str) -> bool:
    word = fold(text)
    if word not in ("yes", "no", "y", "n", "x"):
        raise BadMeasure(f"“{text}” is neither yes nor no.", hint="Write yes or no.")
    return word in ("yes", "y", "x")


def _delivery(
    supplier: str, lines: tuple[Arrived, ...], parcel: FilledRow | None, coin: Currency, today: date
) -> Delivery:
    if parcel is None:
        return Delivery(supplier, today, lines)
    return Delivery(
        supplier,
        parcel.read("date", read_date, today),
        lines,
        parcel.read("postage", lambda text: read_money(text, coin), 0),
        parcel.said("delivery note"),
    )
