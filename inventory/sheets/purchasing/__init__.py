"""Supplier lists and delivery sheets, out and back."""
