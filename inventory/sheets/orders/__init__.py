"""Orders on a sheet."""
