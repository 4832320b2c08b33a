"""What the tabs of a session sheet and of a count sheet hold: their columns, and the rows that go out."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from inventory.catalogue.stages import STAGES
from inventory.measures import STEPS, show_date
from inventory.reports.session_sheet import (
    BottleRow,
    CountRow,
    CountSheet,
    PlannedBlanks,
    PlannedPieces,
    SessionSheet,
    UseRow,
)
from inventory.sheets.drawing import SheetColumn
from inventory.sheets.forms.tables import BOXES, Cells, Form, asked, told

SESSION, PIECES, CUTTING, BOTTLES, USED, COUNTS, NOTES = (
    "session",
    "pieces",
    "cutting",
    "bottles",
    "used",
    "counts",
    "notes",
)
OF: Final = "sheet of"
"""The column that says which book and which session or count a row is of, so that a single file knows it too."""
LOST_STAGES: Final = tuple(stage for stage in STAGES if stage != "pack")
"""Stages a piece can be spoiled at: a packed one is finished."""
TUBES, KITS, IN_PART = "tube sets salvaged", "kits salvaged", "kits salvaged in part"
_SESSION = re.compile(r"(.*?) ?session ([0-9]{1,9}) plan ([0-9]{1,9})")
_COUNT = re.compile(r"(.*?) ?count ([0-9]{1,18})")


def lost_at(stage: str) -> str:
    """The heading of pieces spoiled at a stage."""
    return f"spoiled at {stage}"


ONCE: Final = {
    **{f"lost at {stage}": lost_at(stage) for stage in STAGES},
    "tube sets saved": TUBES,
    "kits saved": KITS,
    "kits saved in part": IN_PART,
}
"""Headings of earlier versions, which are read like those they have now."""


PIECE_COLUMNS: Final = (
    told("row", 6, "The row of the plan. Leave it empty for pieces nobody planned.", right=True),
    told("order", 18, "For which order. Leave it empty for pieces for the stall."),
    told("pattern", 18),
    told("plating", 10),
    told("blank", 15),
    told("refill", 13, "Where it is another than the usual one."),
    told("extra diameter", 9, "How much thicker the barrel is wanted."),
    told("starts", 8, "Pieces to start, so that enough come out good.", right=True),
    told("wanted", 9, "Good pieces needed.", right=True),
    asked("good", 8, "How many came out good. Write 0 where none did.", right=True),
    *(
        asked(
            lost_at(stage),
            11 if stage == "assemble" else 8.5,
            f"Pieces spoiled at this stage: {stage}.",
            right=True,
        )
        for stage in LOST_STAGES
    ),
    asked(TUBES, 8, "Of the spoiled pieces, how many sets of tubes can be used again.", right=True),
    asked(KITS, 8, "Of the spoiled pieces, how many kits are whole.", right=True),
    asked(IN_PART, 10, "Kits that are no longer whole, but have fittings worth keeping.", right=True),
    asked("note", 16),
    told("kit", 26, own=True),
    told(OF, 22, own=True),
)
FULL, BEFORE, GROSS, AFTER, OPEN = "full ones", "before g", "gross g", "after g", "open one g"
REASON: Final = "reason"
_OTHER_REASON: Final = "Why more is gone than was used, if you know: one of the list, or in your own words."
CUT_COLUMNS: Final = (
    told("part", 26),
    told("blank", 14, "Which one, where each is measured."),
    told("pieces", 40, "What the plan cuts from them."),
    told("planned", 10, "Blanks to cut by the plan.", right=True),
    asked(
        "cut",
        10,
        "How many were really cut. Empty: as it takes for the pieces that were started.",
        right=True,
    ),
    told("lot", 8, own=True),
    told(OF, 22, own=True),
)
BOTTLE_COLUMNS: Final = (
    told("part", 28),
    told("bottle", 18),
    told("use by", 11),
    told("tare g", 7, "The empty bottle, with its cap.", right=True),
    asked(FULL, 7, "Bottles of this lot that nobody has opened.", right=True),
    asked(
        BEFORE, 10, "The open one before the session, cap on: what is in it may go into the air.", right=True
    ),
    asked(
        GROSS,
        10,
        "What the scale shows of the open one, cap on. Grams, or with another unit: 2.1 oz.",
        right=True,
    ),
    told("left", 9, "Worked out from the weight.", right=True),
    told("unit", 6),
    told("by the book", 10, "What the book says was there before the session, in all of them.", right=True),
    asked(REASON, 16, _OTHER_REASON),
    told("lot", 8, own=True),
    told(OF, 22, own=True),
)
USE_COLUMNS: Final = (
    told("part", 40),
    told("unit", 9),
    told("expected", 12, "What the planned pieces are expected to use.", right=True),
    asked("used", 14, "How much was used up, in this unit or with another one.", right=True),
    asked(REASON, 18, _OTHER_REASON),
    told(OF, 22, own=True),
)
COUNT_COLUMNS: Final = (
    told("drawer", 14),
    told("part", 29),
    told("bottle", 13),
    told("why", 14),
    told("unit", 7),
    told("booked", 9, "What the book says.", right=True),
    asked(
        "counted",
        10,
        "What is there, 0 where nothing is. With a unit if you like: 1 bottle, 50 ml.",
        right=True,
    ),
    asked(FULL, 7, "Full ones, where it comes in bottles. Then write nothing under “counted”.", right=True),
    asked(OPEN, 8, "What the scale shows of the open one, cap on, in grams.", right=True),
    asked("second count", 9, "Counted once more, where the first count surprises.", right=True),
    asked(REASON, 18, _OTHER_REASON),
    told("lot", 8, own=True),
    told(OF, 22, own=True),
)
NOTE_COLUMNS: Final = (asked("notes", 84),)
SESSION_COLUMNS: Final = (told("what", 18), told("said", 76))


def of_session(sheet: SessionSheet) -> str:
    """What every row of a session sheet says of where it belongs."""
    return f"{sheet.mark} session {sheet.session} plan {sheet.document}".strip()


def session_of(text: str) -> tuple[str, int, int] | None:
    """Mark, session and plan of what `of_session` wrote; None for anything else."""
    found = _SESSION.fullmatch(text)
    return (found[1], int(found[2]), int(found[3])) if found else None


def count_of(text: str) -> tuple[str, int] | None:
    """Mark and book version of a row of a count sheet; None for anything else."""
    found = _COUNT.fullmatch(text)
    return (found[1], int(found[2])) if found else None


def session_forms(sheet: SessionSheet) -> list[Form]:
    """Every tab of a session sheet, in the order they stand."""
    day, of = show_date(sheet.on), of_session(sheet)
    title = f"Session {sheet.session}, {day}{'' if sheet.name == day else f': {sheet.name}'}"
    bottles = [_bottle(row, of) for row in sheet.bottles]
    uses = [_use(row, of) for row in sheet.uses]
    return [
        Form(SESSION, SESSION_COLUMNS, _facts(sheet), 0, title, look=replace(BOXES, least=20)),
        Form(
            PIECES,
            PIECE_COLUMNS,
            [_piece(row, of) for row in sheet.pieces],
            6,
            title,
            2,
            landscape=True,
            look=replace(BOXES, least=36),
        ),
        Form(CUTTING, CUT_COLUMNS, [_blank(row, of) for row in sheet.blanks], 2, title),
        Form(BOTTLES, bottle_columns(sheet.bottles), bottles, 3, title, landscape=True),
        Form(USED, USE_COLUMNS, uses, 4, title),
        count_form(sheet.counts, of, 4, title, reasons=True),
        Form(NOTES, NOTE_COLUMNS, (), 14, title),
    ]


def counts_of_stock(sheet: CountSheet) -> Form:
    """The one tab of a count sheet."""
    how = "the book's figure is left out" if sheet.blind else "with the book's figure"
    title = f"Count of {show_date(sheet.on)}, {how}"
    return count_form(sheet.rows, f"{sheet.mark} count {sheet.version}".strip(), 6, title)


def bottle_columns(rows: Sequence[BottleRow]) -> tuple[SheetColumn, ...]:
    """Columns of the bottles: full ones and the weight before only where they are asked for."""
    done = []
    before = any(row.before for row in rows)
    for one in BOTTLE_COLUMNS:
        if one.heading == GROSS and before:
            done.append(replace(one, heading=AFTER))
        elif (one.heading != BEFORE or before) and (one.heading != FULL or any(row.several for row in rows)):
            done.append(one)
    return tuple(done)


def count_form(rows: Sequence[CountRow], of: str, spare: int, title: str, *, reasons: bool = False) -> Form:
    """Parts to count. A column nobody has anything to say in is left out. reasons: whether they are asked for."""
    unsaid = {
        FULL: not any(row.containers for row in rows),
        OPEN: not any(row.containers for row in rows),
        REASON: not reasons,
        "booked": all(row.booked is None for row in rows),
        "why": not any(row.why for row in rows),
        "drawer": not any(row.drawer for row in rows),
        "bottle": not any(row.lot for row in rows),
    }
    columns = tuple(one for one in COUNT_COLUMNS if not unsaid.get(one.heading))
    return Form(COUNTS, columns, [_count(row, of) for row in rows], spare, title)


def _facts(sheet: SessionSheet) -> list[Cells]:
    facts = [
        ("session", str(sheet.session)),
        ("name", sheet.name),
        ("day", show_date(sheet.on)),
        *((stage, what) for stage, what in sheet.setup_list),
        *(("mind", caution) for caution in sheet.cautions),
        *(("safety", sentence) for sentence in sheet.safety.sentences),
        ("plan", str(sheet.document)),
        ("mark", sheet.mark),
    ]
    return [{"what": what, "said": said} for what, said in facts]


def _piece(row: PlannedPieces, of: str) -> Cells:
    return {
        "row": row.row,
        "order": row.order,
        "pattern": row.pattern,
        "plating": row.plating,
        "blank": row.blank,
        "refill": row.refill,
        "extra diameter": "" if row.extra_diameter is None else row.extra_diameter.written,
        "starts": row.starts,
        "wanted": row.wanted,
        "kit": row.kit,
        OF: of,
    }


def _blank(row: PlannedBlanks, of: str) -> Cells:
    return {
        "part": row.part,
        "blank": row.name,
        "pieces": row.pieces,
        "planned": row.planned,
        "lot": row.lot or None,
        OF: of,
    }


def _bottle(row: BottleRow, of: str) -> Cells:
    return {
        "part": row.part,
        "bottle": row.name,
        "use by": row.use_by,
        "tare g": Fraction(row.tare, STEPS),
        "unit": row.unit,
        "by the book": Fraction(row.quantity, STEPS),
        "lot": row.lot or None,
        OF: of,
    }


def _use(row: UseRow, of: str) -> Cells:
    return {"part": row.part, "unit": row.unit, "expected": Fraction(row.expected, STEPS), OF: of}


def _count(row: CountRow, of: str) -> Cells:
    return {
        "drawer": row.drawer,
        "part": row.part,
        "bottle": row.name if row.lot else "",
        "why": row.why,
        "unit": row.unit,
        "booked": None if row.booked is None else Fraction(row.booked, STEPS),
        "lot": row.lot or None,
        OF: of,
    }
