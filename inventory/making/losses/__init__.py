"""Pieces that are lost: how many to start, and what the shop has learned of it."""
