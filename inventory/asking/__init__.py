"""One's own questions to a book: read-only, as pandas frames or through SQLModel."""
