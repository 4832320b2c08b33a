"""Sheets of making sessions, out and back."""
