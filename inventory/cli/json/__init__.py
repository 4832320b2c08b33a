"""Answers as JSON. Their fields are promises (see README)."""
