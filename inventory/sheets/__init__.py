"""Workbooks and CSV files, in and out.

Each module loads when one of its names is first asked for: who saves a file needs none that reads them.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inventory.sheets.stock.columns import StockColumn, Tab
    from inventory.sheets.stock.reader import read_sheets
    from inventory.sheets.stock.tabs import TABS
    from inventory.sheets.stock.template import write_template
    from inventory.sheets.writing import write_csv

__all__ = ["TABS", "StockColumn", "Tab", "read_sheets", "write_csv", "write_template"]

_HOMES = {
    "StockColumn": "stock.columns",
    "Tab": "stock.columns",
    "read_sheets": "stock.reader",
    "TABS": "stock.tabs",
    "write_template": "stock.template",
    "write_csv": "writing",
}


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found = globals()[name] = getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
    return found
