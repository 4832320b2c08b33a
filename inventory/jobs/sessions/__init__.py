"""Making sessions before they happen: planned, laid out, put on a sheet."""
