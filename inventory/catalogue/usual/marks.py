"""What is usual of a thing, said shortly."""

from __future__ import annotations

from collections.abc import Iterable

WARNS = frozenset({"caution", "listed species", "hazards"})
"""Headings of what is told at the bench and gives no figure of an answer."""


_SHORT = {
    "finished a": "finished diameters",
    "finished b": "finished diameters",
    "outside diameter": "diameter",
    "keeps sealed": "shelf life",
    "keeps opened": "shelf life",
}


def shortened(headings: Iterable[str]) -> tuple[str, ...]:
    """Headings of a sheet in few words: what is lost at seven stages is “losses”, two finished ends are one."""
    return tuple(
        dict.fromkeys("losses" if one.startswith("lost at ") else _SHORT.get(one, one) for one in headings)
    )
