"""Ordinary days: what comes and goes by hand, one line each."""
