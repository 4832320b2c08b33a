"""Copies of a book: backups, another place, a newer version; and who may use one."""
