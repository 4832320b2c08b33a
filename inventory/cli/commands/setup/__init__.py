"""Set up: a shop's sheet begun, and loaded."""
