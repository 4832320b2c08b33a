"""The book on disk or on a server: SQLite in one file, or PostgreSQL."""

from inventory.store.opening import Store, begin, open_store
from inventory.store.reading import Read

__all__ = ["Read", "Store", "begin", "open_store"]
