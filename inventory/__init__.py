"""Kitdrawer: what is left, what can be promised, and what to buy, for makers of small turned things."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date
    from pathlib import Path

    from inventory.asking.book import AskedBook

__version__ = "0.1.0"


def open_book(where: str | Path | None = None, *, today: date | None = None) -> AskedBook:
    """Open a book to ask it one's own questions; nothing can be written through it. Use it in a `with`.

    where: a file or a database URL; None: KITDRAWER_STORE, else the book in the user's own folder. today: the day
    that `free` is told for; None: the one of the calendar. `frame("parts")` gives a pandas frame, `session()` a
    SQLModel session over the tables of `inventory.models`. Raises NoStore, NotAStore, NewerStore or StoreTrouble.
    """
    from inventory.asking.book import open_book as opened

    return opened(where, today=today)
