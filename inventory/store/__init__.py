"""The book on disk or on a server: SQLite in one file, or PostgreSQL."""

from inventory.store.care import backup, restore
from inventory.store.opening import Store, begin, open_store
from inventory.store.proof import verify
from inventory.store.reading import Read

__all__ = ["Read", "Store", "backup", "begin", "open_store", "restore", "verify"]
