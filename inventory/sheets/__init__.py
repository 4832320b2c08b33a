"""Workbooks and CSV files, in and out."""
