"""The tables of the store, as SQLModel classes: the only place where a column is declared."""

from inventory.store.schema.models import balances, book, changes, making, patterns, supply, things
from inventory.store.schema.models.base import METADATA

__all__ = ["METADATA", "balances", "book", "changes", "making", "patterns", "supply", "things"]
