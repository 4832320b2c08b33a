"""A small sound shop on sheets, and the ways to put it into files."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from copy import deepcopy
from datetime import date, datetime
from pathlib import Path

from inventory.catalogue import Catalogue, Order
from inventory.errors import BadSheet, Place
from inventory.ledger import Intake
from inventory.measures import currency
from inventory.sheets import read_sheets

TODAY = date(2026, 11, 25)
EUR = currency("EUR")
Rows = list[list[object]]
Tabs = dict[str, Rows]


def _heads(*headings: str) -> list[object]:
    return list(headings)


_SHOP: Tabs = {
    "suppliers": [
        [
            "supplier",
            "lead days",
            "postage",
            "free postage from",
            "minimum order",
            "currency",
            "email",
            "note",
        ],
        ["Saltmarsh Turning", 5, 4.9, 60, None, "EUR", "orders@saltmarsh.example.com", "closed in August"],
        ["Far Shore Fittings", 30, "1250", None, None, "JPY", None, None],
    ],
    "offers": [
        [
            *("supplier", "part", "pack", "price", "supplier code", "from packs", "price group", "seen on"),
            "at most packs",
        ],
        ["Saltmarsh Turning", "Dunlin kit chrome", 5, 21.5, "SM-10", None, "slim", date(2026, 3, 14), 40],
        ["Saltmarsh Turning", "Dunlin kit chrome", 5, 19.9, "SM-10", 10, "slim", None, None],
        ["Far Shore Fittings", "thin CA", "2 bottles", 3200, None, None, None, None, None],
    ],
    "materials": [
        _heads(
            *(
                "material",
                "allowance",
                "spoiled at cut",
                "spoiled at drill",
                "spoiled at glue",
                "spoiled at trim",
            ),
            *("spoiled at turn", "spoiled at finish", "spoiled at assemble", "caution", "protected species"),
        ),
        ["olive wood", "3.2 mm", 0, "2 %", 0, 0, 0.04, 0, 0, "fine dust", None],
        ["antler", "6.4 mm", 0, 0, 0, 0, "12 %", 0, 0, None, None],
    ],
    "platings": [
        ["plating", "substitutes"],
        ["chrome", "rhodium"],
        ["rhodium", "chrome"],
        ["gunmetal", None],
    ],
    "tubes": [
        ["part", "outside diameter", "length", "drill", "reorder level"],
        ["tube 7 x 53", "6.85 mm", "53 mm", "7 mm", 10],
        ["tube 27/64", "10.3 mm", "55.8 mm", "27/64", None],
    ],
    "families": [
        ["family", "makes", "refill", "bushings", "trimmer pilot", "note"],
        ["Dunlin", "pen", "slim refill", "Dunlin bushings", "7 mm pilot", None],
        ["Redshank", "stopper", None, None, None, None],
    ],
    "barrels": [
        [
            "family",
            "barrel",
            "tube",
            "drill",
            "finished diameter, end A",
            "finished diameter, end B",
            "length",
        ],
        ["Dunlin", "upper", "tube 7 x 53", "7 mm", "8.4 mm", "8.4 mm", None],
        ["Dunlin", "lower", "tube 7 x 53", None, "8.4 mm", "8.4 mm", None],
        ["Redshank", "stopper", "none", "5/16", "34 mm", "14 mm", "58 mm"],
    ],
    "kits": [
        ["part", "family", "plating", "tubes included", "note"],
        ["Dunlin kit chrome", "Dunlin", "chrome", "no", None],
        ["Dunlin kit rhodium", "Dunlin", "rhodium", None, None],
        ["Redshank kit", "Redshank", "chrome", True, None],
    ],
    "blanks": [
        ["part", "material", "shape", "width", "length", "note"],
        ["olive blank", "olive wood", "square", "19 mm", "127 mm", None],
        ["antler tip", "antler", "natural", None, None, "one-offs"],
    ],
    "supplies": [
        _heads(
            "part",
            "type",
            "unit",
            "net",
            "tare",
            "shelf life sealed",
            "shelf life opened",
            "hazards",
            "density",
        ),
        ["thin CA", "adhesive", "ml", "59 ml", "12 g", "12 months", "8 weeks", "H315; H319", 1.05],
        ["slim refill", "refill", "piece", None, None, None, None, None, None],
        ["polishing pads", "abrasive", "pad", None, None, None, None, None, None],
    ],
    "tools": [
        ["part", "type", "size", "inspect after, in uses"],
        ["Dunlin bushings", "bushings", None, 50],
        ["7 mm pilot", "trimmer pilot", "7 mm", None],
        ["7 mm drill", "drill", "7 mm", 300],
        ["band saw", "saw", "1 mm", None],
    ],
    "patterns": [
        ["pattern", "family", "minutes", "note"],
        ["Dunlin slim", "Dunlin", 35, None],
        ["Dunlin finish", "Dunlin", None, None],
        ["Redshank plain", "Redshank", None, None],
    ],
    "bills": [
        ["pattern", "stage", "part", "quantity", "per"],
        ["Dunlin slim", "cut", "the blank", 1, "piece"],
        ["Dunlin slim", "glue", "the tubes", 1, "piece"],
        ["Dunlin slim", "glue", "thin CA", "1.3 ml", "tube glue volume"],
        ["Dunlin slim", "finish", "Dunlin finish", 1, "piece"],
        ["Dunlin slim", "assemble", "the kit", 1, "piece"],
        ["Dunlin slim", "assemble", "the refill", 1, "piece"],
        ["Dunlin finish", "finish", "thin CA", 1.1, "barrel"],
        ["Dunlin finish", "finish", "polishing pads", 0.02, "piece"],
        ["Redshank plain", "cut", "the blank", 1, "piece"],
        ["Redshank plain", "assemble", "the kit", 1, "piece"],
    ],
    "counts": [
        _heads(
            "part",
            "quantity",
            "unit cost",
            "lot",
            "received on",
            "opened on",
            "use by",
            "smallest diameter",
            "length",
        ),
        ["Dunlin kit chrome", 12, 4.3, "March", date(2026, 3, 14), None, None, None, None],
        ["tube 7 x 53", 40, 0.125, None, None, None, None, None, None],
        [
            "thin CA",
            "2 bottles",
            None,
            None,
            date(2026, 3, 14),
            date(2026, 4, 1),
            date(2027, 3, 1),
            None,
            None,
        ],
        ["antler tip", 1, 3, None, None, None, None, "17.5 mm", "110 mm"],
        ["olive blank", 8, 1.5, None, None, None, None, None, None],
    ],
    "orders": [
        [
            "order",
            "pattern",
            "blank",
            "count",
            "due",
            "platings",
            "customer",
            "refill",
            "extra diameter",
            "price",
        ],
        [
            "harbour",
            "Dunlin slim",
            "olive blank",
            4,
            date(2026, 12, 1),
            "chrome; rhodium",
            "ferry",
            None,
            "1 mm",
            48,
        ],
        ["stopper", "Redshank plain", "antler tip", 1, date(2026, 12, 9), None, None, None, None, None],
    ],
}


def shop(**changed: Rows) -> Tabs:
    """The sound shop, with whole tabs put in the place of its own."""
    return {**deepcopy(_SHOP), **changed}


def with_cell(tab: str, row: int, column: str, value: object) -> Tabs:
    """The sound shop with one cell changed; row 2 is the first below the heading."""
    tabs = shop()
    headings = tabs[tab][0]
    if column not in headings:
        tabs[tab] = [[*line, column if number == 0 else None] for number, line in enumerate(tabs[tab])]
        headings = tabs[tab][0]
    tabs[tab][row - 1][headings.index(column)] = value
    return tabs


def with_row(tab: str, *cells: object) -> Tabs:
    """The sound shop with one row more at the foot of a tab."""
    tabs = shop()
    tabs[tab].append([*cells, *[None] * (len(tabs[tab][0]) - len(cells))])
    return tabs


def write_xlsx(path: Path, tabs: Mapping[str, Sequence[Sequence[object]]]) -> Path:
    """A workbook of these tabs, as a person's spreadsheet program would hold them."""
    from openpyxl import Workbook

    workbook = Workbook(write_only=True)
    for tab, rows in tabs.items():
        sheet = workbook.create_sheet(tab)
        for row in rows:
            sheet.append(list(row))
    workbook.save(path)
    return path


def write_csvs(
    folder: Path,
    tabs: Mapping[str, Sequence[Sequence[object]]],
    *,
    encoding: str = "utf-8",
    separator: str = ",",
) -> Path:
    """A folder of CSV files of these tabs."""
    folder.mkdir(exist_ok=True)
    for tab, rows in tabs.items():
        text = io.StringIO(newline="")
        csv.writer(text, delimiter=separator).writerows([[_plain(cell) for cell in row] for row in rows])
        (folder / f"{tab}.csv").write_bytes(text.getvalue().encode(encoding))
    return folder


def read(
    *paths: Path,
    known: Catalogue | None = None,
    orders: Mapping[str, Order] | None = None,
    today: date = TODAY,
) -> Intake:
    """What these files bring."""
    return read_sheets(paths, known or Catalogue(), orders or {}, EUR, today=today)


def problems(
    *paths: Path, known: Catalogue | None = None, orders: Mapping[str, Order] | None = None
) -> list[Place]:
    """Everything wrong with these files; nothing where they are good."""
    try:
        read(*paths, known=known, orders=orders)
    except BadSheet as error:
        return list(error.where)
    return []


def _plain(cell: object) -> str:
    if isinstance(cell, (date, datetime)):
        return cell.isoformat()
    return "" if cell is None else str(cell)
