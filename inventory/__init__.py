"""Kitdrawer: what is left, what can be promised, and what to buy, for makers of small turned things."""

__version__ = "0.1.0"
