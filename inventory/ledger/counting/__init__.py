"""Counts: what was found, of which lots, and the movements that follow."""
