"""One module a schema version, in order."""
