"""Ordinary days: what comes, goes and is sold without a plan."""
