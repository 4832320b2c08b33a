"""Rows of the shop's sheets made into catalogue entries."""
