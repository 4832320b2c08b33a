"""The jobs, on an invented shop made in code."""
