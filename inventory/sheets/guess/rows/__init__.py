"""Rows of stock: headings, sub-headings, lists and matrices."""
