"""Look: what is there, what fits, where things came from."""
