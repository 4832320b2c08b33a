"""What stands on the sheet of a making session or of a count that came back.

Quantities are thousandths of the part's unit, weights thousandths of a gram.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from inventory.errors import Place

REASONS = ("used", "evaporated", "spilt", "thrown away", "counted wrong before")
"""Why something is missing, as the sheet offers it. Only the first is use; other words may be written too."""


@dataclass(frozen=True, slots=True)
class FilledPiece:
    """One filled row. row: its number in the plan, 0 for one that was added by hand; good: None where left empty."""

    where: Place
    row: int
    good: int | None
    lost: Mapping[str, int] = field(default_factory=dict)
    tubes_saved: int = 0
    kits_saved: int = 0
    in_part: int = 0
    order: str = ""
    pattern: str = ""
    plating: str = ""
    kit: str = ""
    blank: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class FilledBlank:
    """So many blanks of a kind were cut. lot, or else name: the measured one meant; none for the catalogue's size."""

    where: Place
    part: str
    cut: int
    lot: int = 0
    name: str = ""


@dataclass(frozen=True, slots=True)
class FilledBottle:
    """A lot after the session. lot: 0 where the row was added by hand; gross: of the open one, None: not weighed.

    step: the finest step the scale showed; full: full ones that are left, None where nothing is said of them; before:
    gross of the open one before the session; reason: why something is missing, in the maker's words.
    """

    where: Place
    part: str
    lot: int
    gross: int | None
    step: int = 1000
    full: int | None = None
    before: int | None = None
    reason: str = ""
    name: str = ""


@dataclass(frozen=True, slots=True)
class FilledUse:
    """So much of a part was used. reason: where some of it went otherwise, in the maker's words."""

    where: Place
    part: str
    used: int
    reason: str = ""


@dataclass(frozen=True, slots=True)
class FilledCount:
    """So much of a part (or of one very lot of it) is there; second: counted once more, None where not.

    full, inside: full containers and what is in the open one, where it was counted so; None where nothing is said of
    one of them. error: standard deviation of the weighing. reason: why it differs, in the maker's words.
    """

    where: Place
    part: str
    counted: int
    second: int | None = None
    lot: int = 0
    full: int | None = None
    inside: int | None = None
    error: int = 0
    reason: str = ""


@dataclass(frozen=True, slots=True)
class FilledSession:
    """A session sheet that came back. fingerprint: of what it says, whatever file or order of rows it came in.

    mark "" and session 0 where the sheet no longer says which book and session it is of. notes: what was written
    there for people; announced: what was read in a way the person should know of.
    """

    mark: str
    session: int
    document: int
    pieces: tuple[FilledPiece, ...] = ()
    bottles: tuple[FilledBottle, ...] = ()
    uses: tuple[FilledUse, ...] = ()
    counts: tuple[FilledCount, ...] = ()
    notes: tuple[str, ...] = ()
    fingerprint: str = ""
    announced: tuple[str, ...] = ()
    blanks: tuple[FilledBlank, ...] = ()


@dataclass(frozen=True, slots=True)
class FilledCounts:
    """A count sheet that came back."""

    mark: str
    version: int
    rows: tuple[FilledCount, ...]
    fingerprint: str = ""
    announced: tuple[str, ...] = ()
