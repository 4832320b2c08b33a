"""Workbooks and CSV files, in and out."""

from inventory.sheets.stock.columns import StockColumn, Tab
from inventory.sheets.stock.reader import read_sheets
from inventory.sheets.stock.tabs import TABS
from inventory.sheets.stock.template import write_template
from inventory.sheets.writing import write_csv

__all__ = ["TABS", "StockColumn", "Tab", "read_sheets", "write_csv", "write_template"]
