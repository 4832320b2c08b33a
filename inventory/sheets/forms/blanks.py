"""The blanks of sheets that come back: what each asks, what a tick means, which words make another number of it."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from inventory.errors import KitdrawerError
from inventory.measures import read_number
from inventory.sheets.forms.by_hand import ToFill
from inventory.sheets.forms.returned_tab import ReturnedRow

_PRAISE: Final = frozenset(
    {"good", "ok", "okay", "fine", "done", "finished", "made", "came", "out", "well", "all", "of", "them"}
    | {"piece", "pieces", "pen", "pens"}
)
_KEPT: Final = frozenset({"good", "ok", "okay", "fine", "left", "saved", "salvaged", "finished", "none"})
_AWAY: Final = frozenset({"lost", "spoiled", "bad", "broken", "gone", "missing", "short"})
_OTHER: Final = frozenset(
    ["missing", "short", "gone", "more", "less", "fewer", "used", "lost", "over", "ordered"]
)
SALVAGED: Final = ToFill("How many can be used again?", dash=True, turns=_AWAY)
FULL_ONES: Final = ToFill(
    "How many full ones are there?", dash=True, turns=frozenset({"empty", "gone", "used", "open", "opened"})
)
USED_UP: Final = ToFill(
    "How much was used?",
    dash=True,
    turns=frozenset({"left", "over", "still", "new", "remaining", "unused", "back", "there", "more", "less"}),
    measured=True,
)
WEIGHED: Final = ToFill(
    "What does the scale show?", turns=frozenset({"net", "without", "empty", "no"}), measured=True
)
DAMAGED: Final = ToFill(
    "How much came damaged?", dash=True, turns=frozenset({"good", "ok", "fine"}), measured=True
)
HOW_MANY: Final = ToFill(
    "How many, or how much?", turns=frozenset({"left", "over", "more", "less", "fewer"}), measured=True
)
PIECES: Final = replace(HOW_MANY, ask="How many pieces?", measured=False)
PACKS: Final = ToFill("How many packs were ordered?", dash=True, turns=_OTHER)


def good(row: ReturnedRow) -> ToFill:
    """Pieces that came out good, of those started."""
    return ToFill("How many came out good?", most=_whole(row, "starts"), whole=True, confirms=_PRAISE)


def spoiled(row: ReturnedRow, stage: str) -> ToFill:
    """Pieces spoiled at a stage, of those started."""
    return ToFill(f"How many were spoiled at {stage}?", most=_whole(row, "starts"), dash=True, turns=_KEPT)


def cut(row: ReturnedRow) -> ToFill:
    """Blanks cut; a tick says: as planned."""
    turns = frozenset({"left", "over", "more", "less", "not", "uncut", "fewer"})
    return ToFill("How many were cut?", tick=row.said("planned"), dash=True, turns=turns)


def counted(row: ReturnedRow, heading: str = "counted") -> ToFill:
    """What is there; a tick says: as the book has it, where the sheet shows that."""
    blank = ToFill("How much is there?", turns=_OTHER, measured=True)
    return replace(blank, tick=row.said("booked")) if heading == "counted" else blank


def arrived(row: ReturnedRow) -> ToFill:
    """What came; a tick says: all that was due."""
    turns = _OTHER | {"damaged", "broken", "back"}
    return ToFill("How much came?", tick=row.said("due"), turns=turns, measured=True)


def _whole(row: ReturnedRow, heading: str) -> int | None:
    """A figure of the plan; None where it is not there any more."""
    try:
        number = read_number(row.said(heading)) if row.said(heading) else None
    except KitdrawerError:
        return None
    return int(number) if number is not None and number.denominator == 1 else None
