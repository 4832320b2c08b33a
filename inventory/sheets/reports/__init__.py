"""Workbooks that are only looked at."""
