"""What is usual of a thing, said shortly."""

from __future__ import annotations

from collections.abc import Iterable

WARNS = frozenset({"caution", "listed species", "hazards"})
"""Keys of what is told at the bench and gives no figure of an answer."""


_SHORT = {
    "finished a": "finished diameters",
    "finished b": "finished diameters",
    "outside diameter": "diameter",
    "tubes inside": "tubes included",
    "listed species": "protected species",
    "keeps sealed": "shelf life",
    "keeps opened": "shelf life",
}


def shortened(headings: Iterable[str]) -> tuple[str, ...]:
    """Keys of columns in few words: what is spoiled at seven stages is “losses”, two finished ends are one."""
    return tuple(
        dict.fromkeys("losses" if one.startswith("lost at ") else _SHORT.get(one, one) for one in headings)
    )
