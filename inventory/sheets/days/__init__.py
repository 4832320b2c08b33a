"""Sheets of ordinary days: many lines at once."""
