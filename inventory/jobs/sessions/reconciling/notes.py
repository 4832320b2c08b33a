"""What a hand wrote for people: kept with the entry, and asked about where it looks like a count."""

from __future__ import annotations

import re
from typing import Final

from inventory.ledger.sessions import Session
from inventory.reports.filled import FilledSession

_NUMBER: Final = re.compile(r"\b(?:[0-9]+|one|two|three|four|five|six|seven|eight|nine|ten)\b")
_HAPPENED: Final = re.compile(
    r"\b(?:blew|blown|crack(?:ed)?|split|broke|broken|chipped|spoiled|spoilt|lost|ruined|bad|good|finished|used|left"
    r"|spilt|spilled|missing|short)\b"
)


def notes_of(filled: FilledSession) -> tuple[str, ...]:
    """Every note of a sheet, those of rows behind what the row is of."""
    rows = (
        f"{one.order or one.pattern or f'row {one.row}'}: {one.note}" for one in filled.pieces if one.note
    )
    return tuple(dict.fromkeys(" ".join(one.split()) for one in (*filled.notes, *rows)))


def title_of(session: Session, filled: FilledSession) -> str:
    """What the entry of a session is called, its notes with it: so `entries` shows them for good."""
    notes = "; ".join(notes_of(filled))
    return f"Session of {session.name} (notes: {notes})" if notes else f"Session of {session.name}"


def about_notes(filled: FilledSession) -> list[str]:
    """A sentence of each note that looks like a count, for nothing is counted by it.

    >>> about_notes(FilledSession("", 0, 0, notes=("2 blew up", "accelerator low")))
    ['The note “2 blew up” looks like a count. Nothing was counted by it: if it is one, write the number in its row.']
    """
    return [
        f"The note “{one}” looks like a count. Nothing was counted by it: if it is one, write the number in its row."
        for one in filled.notes
        if counts_something(one)
    ]


def counts_something(note: str) -> bool:
    """Whether a note has a number and a word for what becomes of pieces or stock."""
    low = note.casefold()
    return bool(_NUMBER.search(low) and _HAPPENED.search(low))
