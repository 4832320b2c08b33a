"""Proof of the book."""
