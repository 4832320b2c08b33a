"""The store, on SQLite always and on PostgreSQL where there is one to test with."""
