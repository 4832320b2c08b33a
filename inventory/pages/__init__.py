"""A page for a browser: one file that asks nothing of any network."""
