"""A book begun, or added to, from a sheet of the maker's own: questions, and what became of the answers."""
