"""Workbooks and CSV files, in and out."""

from inventory.sheets.columns import Column, Tab
from inventory.sheets.reading import read_sheets
from inventory.sheets.tabs import TABS
from inventory.sheets.template import write_template
from inventory.sheets.writing import Table, write_csv, write_tables

__all__ = ["TABS", "Column", "Tab", "Table", "read_sheets", "write_csv", "write_tables", "write_template"]
