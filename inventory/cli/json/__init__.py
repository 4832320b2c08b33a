"""Answers as JSON. Their fields are promises (see guide/reference.md)."""
