"""Workbooks and CSV files, in and out."""

from inventory.sheets.stock.columns import Column, Tab
from inventory.sheets.stock.reader import read_sheets
from inventory.sheets.stock.tabs import TABS
from inventory.sheets.stock.template import write_template
from inventory.sheets.writing import Table, write_csv, write_tables

__all__ = ["TABS", "Column", "Tab", "Table", "read_sheets", "write_csv", "write_tables", "write_template"]
