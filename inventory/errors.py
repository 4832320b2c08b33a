"""Everything this program refuses, as one tree.

KitdrawerError                 exit 1, a sentence, a remedy and the places
├── BadInput                   what was typed or written cannot be read
│   ├── BadMeasure             a length, drill, grit, amount, date or sum of money
│   ├── UnknownName            no such part, plating, pattern …; the nearest names are offered
│   └── BadSheet               one or many cells of a workbook or CSV, all reported together
├── Refused                    read well, but the book says no
│   ├── AlreadyBooked          the same document a second time
│   ├── NotEnough              more asked than is there
│   ├── NeverMade              pieces go out that nobody booked as made
│   ├── StillNeeded            undo of something later lines depend on
│   ├── Doubtful               rows that are asked about, and nobody was there to answer
│   └── BookMoved              somebody booked between looking and writing; look again
└── StoreTrouble               the file or server that holds the book
    ├── NoStore                nothing there yet
    ├── NotAStore              a file, but not one of ours
    ├── NewerStore             written by a later version of this program
    ├── StoreBusy              another process holds it
    ├── StoreReadOnly          cannot be written here
    ├── StoreUnsure            the line broke, and whether it was booked could not be found out
    └── StoreFull              no room left

A refusal is never a bug: bugs keep their traceback.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class Place:
    """Where something stands: a file, its tab, a row as the person counts it (heading = 1), a column."""

    file: str = ""
    tab: str = ""
    row: int | None = None
    column: str = ""
    said: str = ""
    problem: str = ""

    def __str__(self) -> str:
        row = f"row {self.row}" if self.row is not None else ""
        return ", ".join(bit for bit in (self.file, self.tab, row, self.column) if bit)


@dataclass(frozen=True, slots=True)
class AskedCell(Place):
    """A cell that may be asked about. of: what it is of; ask: the question; guess: the likeliest answer, or empty.

    why: what is odd about it, in a few words.
    """

    of: str = ""
    ask: str = ""
    guess: str = ""
    why: str = ""

    def __str__(self) -> str:
        return Place.__str__(self)


class KitdrawerError(Exception):
    """A refusal: `message` says what, `where` the places, `hint` what is accepted or what to do."""

    kind: ClassVar[str] = "refused"
    exit_code: ClassVar[int] = 1

    def __init__(self, message: str, *, hint: str = "", where: Iterable[Place] = ()) -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint
        self.where = tuple(where)


class BadInput(KitdrawerError):
    """What was typed or written cannot be read."""

    kind = "bad input"


class BadMeasure(BadInput):
    """A length, drill, grit, amount, date or sum of money that cannot be read, or could mean two things."""

    kind = "bad measure"


FEW = 20
"""So many names of a kind are all said where none is like the one that was written."""


class UnknownName(BadInput):
    """A name nobody has given to anything; `nearest` holds the names it may have meant.

    few: so many names are all said where none is like it.
    """

    kind = "unknown name"

    def __init__(
        self, what: str, name: str, known: Iterable[str], *, where: Iterable[Place] = (), few: int = FEW
    ) -> None:
        known = tuple(known)
        self.nearest = nearest(name, known)
        near = " or ".join(f"“{other}”" for other in self.nearest)
        every = ", ".join(sorted(known)) if 0 < len(known) <= few else ""
        none = f"Known: {every}." if every else f"No {what} has a name like it." if known else ""
        hint = f"Did you mean {near}?" if near else none
        super().__init__(f"There is no {what} called “{name}”.", hint=hint, where=where)


class BadSheet(BadInput):
    """Cells that cannot be taken; every one of them is in `where`, and nothing was loaded."""

    kind = "bad sheet"


class Refused(KitdrawerError):
    """Read well, but the book says no."""


class AlreadyBooked(Refused):
    """The same document a second time."""

    kind = "already booked"


class NeverMade(Refused):
    """Pieces go out that nobody booked as made, and nobody said that they were made now."""

    kind = "never made"


class NotEnough(Refused):
    """More is asked than is there."""

    kind = "not enough"


class StillNeeded(Refused):
    """What is to be undone has later lines standing on it; they are named."""

    kind = "still needed"


class Doubtful(Refused):
    """Rows that are asked about before they are booked; they are named, and nobody said that they are right."""

    kind = "doubtful"


class BookMoved(Refused):
    """Somebody else booked between looking and writing."""

    kind = "book moved"


class StoreTrouble(KitdrawerError):
    """The file or server that holds the book."""

    kind = "store"


class NoStore(StoreTrouble):
    """Nothing there yet."""

    kind = "no store"


class NotAStore(StoreTrouble):
    """A file, but not one of ours."""

    kind = "not a store"


class NewerStore(StoreTrouble):
    """Written by a later version of this program."""

    kind = "newer store"


class StoreBusy(StoreTrouble):
    """Another process holds it."""

    kind = "store busy"


class StoreReadOnly(StoreTrouble):
    """It cannot be written here."""

    kind = "store read-only"


class StoreUnsure(StoreTrouble):
    """The line broke while a document was being booked, and what became of it could not be found out."""

    kind = "store unsure"

    def __init__(self, shown: str, ticket: str) -> None:
        self.ticket = ticket
        super().__init__(
            f"The line to the server of {shown} broke while this was being booked, and whether it is in the book "
            "could not be found out.",
            hint="The next command on this book looks it up and says which it is; the same command once more is not "
            "booked twice.",
        )


class StoreFull(StoreTrouble):
    """No room is left."""

    kind = "store full"


HINT, SLIP = 0.55, 0.75
"""How alike names are of which one may be meant, and of which one surely is: a slip of the pen. From 0 to 1."""


def nearest(
    name: str,
    known: Iterable[str],
    most: int = 3,
    *,
    alike: float = HINT,
    fold: Callable[[str], str] = str.casefold,
) -> tuple[str, ...]:
    """The known names closest to `name`, best first, by their folded forms; for a hint those too that hold it."""
    by_key = {fold(other): other for other in known}
    key = fold(name)
    found = get_close_matches(key, by_key, n=most, cutoff=alike)
    part = alike == HINT and len(key) > 1  # a single letter is in every other name
    inside = [other for other in by_key if key in other and other not in found] if part else []
    return tuple(by_key[key] for key in [*found, *inside][:most])
