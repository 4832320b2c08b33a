"""The two printed pages of a session sheet: what is made, and what is weighed and counted afterwards."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import timedelta
from math import ceil
from typing import Final

from inventory.catalogue import STALL
from inventory.measures import STEPS, show_date
from inventory.measures.units import UNITS, plural
from inventory.reports.session_sheet import (
    BottleRow,
    CountRow,
    PlannedBlanks,
    PlannedPieces,
    SessionSheet,
    UseRow,
)
from inventory.sheets.counts import pages as counts
from inventory.sheets.drawing import Cell
from inventory.sheets.forms.pages import Band, Field, Item, Paragraph, PrintedTable, page_points
from inventory.sheets.forms.printed import Printed
from inventory.sheets.forms.returned_tab import EMPTY_CIRCLES
from inventory.sheets.paper import TITLE, room
from inventory.sheets.sessions.safety import safety_paragraphs
from inventory.sheets.sessions.tabs import (
    AFTER,
    BEFORE,
    FULL,
    IN_PART,
    KITS,
    LOST_STAGES,
    OF,
    REASON,
    TUBES,
    lost_at,
    of_session,
)
from inventory.sheets.values import days_said, show_day

MAKE, WEIGH = "make", "weigh and count"
"""The tabs, a page each."""
PAGE_MM = 248.0
"""Width of both pages, across: A4 and Letter have room for it between their margins."""
_ROOM = room(landscape=True)[1] / 25.4 * 72
"""Points of height on either paper."""
_CIRCLES = 6
"""Circles to fill for pieces spoiled at a stage; more are written as a number."""
_NOTES = (1, 5)
"""Lines for notes: at least, and at most where the page has room for them."""
_LITTLE = STEPS // 2
"""Of strips and the like of which less is planned, a page does not ask."""
_HOW = (
    "Write in the shaded boxes. Spoiled: fill a circle for each piece under the stage where it happened, or write the "
    "number; words beside it are fine (2 blew up). Good left empty: not made. Pieces nobody planned: the empty rows."
)
_HOW_TO_WEIGH = (
    "Cap on. Write numbers; words beside them are fine (2 spilt), a dash is none, empty is as planned."
)
DONE, BOTTLE_OF, STRIPS, COUNT, LAY_OUT = "done", "bottle of", "strips, pads", counts.COUNT, "lay out"
"""Headings by which a table of a page is known when it comes back."""
_TICKED = 19.0
"""Points of a row that is only ticked."""
_FIRST = 2
"""Paragraphs of safety that may stand on page 1: cutting, drilling and turning, then sanding."""
_NUMBERED: Final = re.compile(r"lot [0-9]+")
"""A lot nobody named: its number is for programs."""
_SOON = timedelta(days=14)
_ACROSS = 5
"""Tables of strips and counts side by side."""
_STAGE_MM: Final = {"assemble": 15.0, "finish": 10.5}
_FOR, _WHAT = "order, customer", "pattern"


def make_page(sheet: SessionSheet) -> list[Item]:
    """Page 1: a row a line of work, blanks to cut, tools and glue, parts by order, and safety where it has room."""
    items = _making(sheet)
    return [*items, *safety_paragraphs(sheet.safety)[: _room_for(items, safety_paragraphs(sheet.safety))]]


def _making(sheet: SessionSheet) -> list[Item]:
    return [
        Paragraph(f"Make, {show_day(sheet.on)}{_named(sheet)} (page 1 of 2)", TITLE, bold=True),
        Paragraph(_HOW),
        _pieces(sheet),
        _cutting(sheet),
        *_laid_out(sheet),
        *_paragraph("Check first", [days_said(one) for one in sheet.check_first]),
    ]


def _room_for(items: Sequence[Item], safety: Sequence[Item]) -> int:
    """Paragraphs of safety the first page has room for: those of the sharp work, which stand there, come first."""
    return max(
        (many for many in range(_FIRST + 1) if page_points([*items, *safety[:many]], PAGE_MM) <= _ROOM),
        default=0,
    )


def weigh_page(sheet: SessionSheet) -> list[Item]:
    """Page 2: bottles, strips, counts, notes and the rest of the session's safety; notes take the room that is left."""
    above = [
        Paragraph(f"Weigh and count, {show_day(sheet.on)}{_named(sheet)} (page 2 of 2)", TITLE, bold=True),
        Paragraph(_HOW_TO_WEIGH),
        *_bottles(sheet),
        *_strips_and_counts(sheet),
    ]
    safety = safety_paragraphs(sheet.safety)
    below = safety[_room_for(_making(sheet), safety) :]
    return [*above, _notes(page_points([*above, *below], PAGE_MM)), *below]


def one_page(items: Sequence[Item]) -> bool:
    """Whether it is one page, on A4 and on Letter."""
    return page_points(items, PAGE_MM) <= _ROOM


def _named(sheet: SessionSheet) -> str:
    return "" if sheet.name == show_date(sheet.on) else f": {sheet.name}"


def _paragraph(title: str, sentences: Sequence[str]) -> list[Item]:
    return [Paragraph(f"{title}: {' '.join(sentences)}")] if sentences else []


PRINTED: Final[Printed] = {
    DONE: {
        "done": "",
        _FOR: "order",
        "cut to, mm": "",
        "start": "starts",
        **{stage: lost_at(stage) for stage in LOST_STAGES},
        "tubes": TUBES,
        "kits": KITS,
        "kits in part": IN_PART,
    },
    "cut from": {"cut from": "part", "which": "blank", "plan": "planned"},
    LAY_OUT: None,
    BOTTLE_OF: {BOTTLE_OF: "part", "which": "bottle", "before": BEFORE, "after": AFTER},
    STRIPS: {STRIPS: "part"},
    **counts.PRINTED,
    "notes": {},
}
"""What the printed headings stand for."""


def piece_fields() -> tuple[Field, ...]:
    """The lines of work."""
    return (
        Field("done", 9, fill=True, side="center", points=TITLE),
        Field(_FOR, 28),
        Field(_WHAT, 24, bold=True),
        Field("plating", 16),
        Field("blank", 22),
        Field("cut to, mm", 22, "cut to"),
        Field("start", 11, "starts", side="center", bold=True, points=TITLE),
        Field("good", 11, fill=True, side="center", points=TITLE),
        *(
            Field(stage, _STAGE_MM.get(stage, 9.5), lost_at(stage), fill=True, side="center", grey=True)
            for stage in LOST_STAGES
        ),
        Field("tubes", 11, TUBES, fill=True, side="center"),
        Field("kits", 9.5, KITS, fill=True, side="center"),
        Field("kits in part", 11, IN_PART, fill=True, side="center"),
        Field("order", 0),
        Field("row", 0),
        Field("kit", 0),
        Field(OF, 0),
    )


def _pieces(sheet: SessionSheet) -> Band:
    fields = piece_fields()
    of = of_session(sheet)
    shut = {
        at: frozenset(lost_at(stage) for stage in LOST_STAGES if stage not in row.stages)
        for at, row in enumerate(sheet.pieces)
    }
    rows = [_piece(row, of) for row in sheet.pieces]
    blank: Mapping[str, Cell] = {"done": "□", OF: of}
    open_ = frozenset({_FOR, _WHAT, "plating", "blank"})
    at = {one.key: sum(other.mm for other in fields[:number]) for number, one in enumerate(fields)}
    kerf = f"kerf {sheet.kerf} mm" if sheet.kerf else ""
    over = (
        (kerf, at["cut to"], at["starts"]),
        ("Pieces", at["starts"], at[lost_at(LOST_STAGES[0])]),
        ("Pieces spoiled at: fill a circle for each", at[lost_at(LOST_STAGES[0])], at[TUBES]),
        ("Salvaged of spoiled", at[TUBES], at["order"]),
    )
    return Band((PrintedTable(fields, rows, 2, blank, open_, shut),), over)


def _piece(row: PlannedPieces, of: str) -> Mapping[str, Cell]:
    circles = EMPTY_CIRCLES[0] * min(row.starts, _CIRCLES)
    tally = "\n".join(circles[at : at + 3] for at in range(0, len(circles), 3))
    return {
        "done": "□",
        _FOR: _whose(row),
        _WHAT: row.pattern,
        "plating": row.plating,
        "blank": row.blank,
        "cut to": row.cut_to,
        "starts": row.starts,
        **{lost_at(stage): tally for stage in LOST_STAGES if stage in row.stages},
        "order": row.order,
        "row": row.row,
        "kit": row.kit,
        OF: of,
    }


def _whose(row: PlannedPieces) -> str:
    """Order, day and customer, and what is unusual about it; of the stall only that."""
    due = f", {show_day(row.due, year=False)}" if row.due else ""
    thicker = "" if row.extra_diameter is None else f"{row.extra_diameter.written} thicker"
    said = (STALL, thicker) if row.customer == STALL else (f"{row.order}{due}", row.customer, thicker)
    return "\n".join(one for one in said if one)


def _cutting(sheet: SessionSheet) -> Band:
    of = of_session(sheet)
    fields = (
        Field("cut from", 32, "part", bold=True),
        Field("which", 20),
        Field("pieces", 42),
        Field("plan", 10, "planned", side="center"),
        Field("cut", 13, fill=True, side="center"),
        Field("", 13, "unit", side="center"),
        Field("lot", 0),
        Field(OF, 0),
    )
    rows = [_blank(row, of) for row in sheet.blanks]
    lines = [{"tick": "□", "what": label, "which": text} for label, text in sheet.bench]
    tick = Field("", 8, "tick", side="center", points=TITLE)
    right = PrintedTable((tick, Field(LAY_OUT, 18, "what", bold=True), Field("", 92, "which")), lines)
    open_ = frozenset({"part", "which"})
    return Band((PrintedTable(fields, rows, 1, {"unit": "blanks", OF: of}, open_), right))


def _blank(row: PlannedBlanks, of: str) -> Mapping[str, Cell]:
    return {
        "part": row.part,
        "which": row.name,
        "pieces": row.pieces,
        "planned": row.planned,
        "unit": "blanks",
        "lot": row.lot or None,
        OF: of,
    }


def _laid_out(sheet: SessionSheet) -> list[Item]:
    if not sheet.by_order:
        return []
    rows = [{"tick": "□", "order": order, "parts": parts} for order, parts in sheet.by_order]
    fields = (
        Field("", 9, "tick", side="center", points=TITLE),
        Field("for", 30, "order", bold=True),
        Field("parts to lay out, by order", PAGE_MM - 39, "parts"),
    )
    return [Band((PrintedTable(fields, rows),), least=_TICKED)]


def bottle_fields(*, full: bool) -> tuple[Field, ...]:
    """Bottles: the open one's weight before and after; full: full ones too, where some have several."""
    ones = (Field("full ones", 10, FULL, fill=True, side="center"), Field("", 9, "full unit", side="center"))
    return (
        Field(BOTTLE_OF, 28, "part", bold=True),
        Field("which", 22 if full else 27, "bottle"),
        *(ones if full else ()),
        Field("before", 13, BEFORE, fill=True, side="center"),
        Field("", 5, "before unit", side="center"),
        Field("after", 13, AFTER, fill=True, side="center"),
        Field("", 5, "after unit", side="center"),
        Field(REASON, 19 if full else 33, fill=True),
        Field("lot", 0),
        Field(OF, 0),
    )


def _bottles(sheet: SessionSheet) -> list[Item]:
    """Two bottles in a row; without those the session hardly touches."""
    of, rows = of_session(sheet), [row for row in sheet.bottles if not row.idle]
    half = ceil(len(rows) / 2)
    blocks = tuple(_bottle_block(some, sheet, of) for some in (rows[:half], rows[half:]))
    return [Band(blocks)] if rows else []


def _bottle_block(rows: Sequence[BottleRow], sheet: SessionSheet, of: str) -> PrintedTable:
    shut = {
        at: frozenset(name for name, asked in ((FULL, row.several), (BEFORE, row.before)) if not asked)
        for at, row in enumerate(rows)
    }
    full = any(row.several for row in sheet.bottles if not row.idle)
    return PrintedTable(bottle_fields(full=full), [_bottle(row, sheet, of) for row in rows], shut=shut)


def _bottle(row: BottleRow, sheet: SessionSheet, of: str) -> Mapping[str, Cell]:
    which = f"opened {show_day(row.opened_on)}" if row.opened_on else _unnamed(row, sheet)
    if row.use_by is not None and row.use_by < sheet.on + _SOON:
        which = f"use by {show_day(row.use_by)}"
    return {
        "part": row.part,
        "bottle": which,
        "full unit": "full" if row.several else "",
        "before unit": "g" if row.before else "",
        "after unit": "g",
        "lot": row.lot or None,
        OF: of,
    }


def _unnamed(row: BottleRow, sheet: SessionSheet) -> str:
    """What a bottle without a day is told by: its name; of one nobody named, that it is not the open one."""
    others = any(one.part == row.part and one.opened_on for one in sheet.bottles)
    return _NUMBERED.sub("not opened" if others else "", row.name)


def use_fields() -> tuple[Field, ...]:
    """Strips and the like: what was used of each."""
    return (
        Field(STRIPS, 22, "part", bold=True),
        Field("used", 14, fill=True, side="center"),
        Field("", 13.6, "unit", side="center"),
        Field(OF, 0),
    )


def count_fields(*, which: bool) -> tuple[Field, ...]:
    """Parts worth counting. which: some are bottles, each with its name."""
    return (
        Field(COUNT, 14 if which else 24, "part", bold=True),
        *((Field("which", 10, "bottle"),) if which else ()),
        Field("there", 12, "counted", fill=True, side="center"),
        Field("", 13.6, "unit", side="center"),
        Field("lot", 0),
        Field(OF, 0),
    )


def _strips_and_counts(sheet: SessionSheet) -> list[Item]:
    """Five tables side by side, shared between the two kinds so that they take the fewest rows."""
    of = of_session(sheet)
    uses = [_use(row, of) for row in sheet.uses if row.expected >= _LITTLE]
    counted = [_count(row, of) for row in sheet.counts]
    if not uses and not counted:
        return []
    some = [many for many in range(_ACROSS + 1) if (many or not uses) and (many < _ACROSS or not counted)]
    of_uses = min(some, key=lambda many: max(_rows(uses, many), _rows(counted, _ACROSS - many)))
    return [
        Band(
            (
                *_shared(use_fields(), uses, of_uses),
                *_shared(
                    count_fields(which=any(row.lot for row in sheet.counts)), counted, _ACROSS - of_uses
                ),
            )
        )
    ]


def _rows(rows: Sequence[object], tables: int) -> int:
    return ceil(len(rows) / tables) if tables else 0


def _shared(
    fields: tuple[Field, ...], rows: Sequence[Mapping[str, Cell]], tables: int
) -> Iterable[PrintedTable]:
    each = _rows(rows, tables)
    return (PrintedTable(fields, rows[at * each : (at + 1) * each]) for at in range(tables))


def _use(row: UseRow, of: str) -> Mapping[str, Cell]:
    return {"part": row.part, "unit": _units(row.unit), OF: of}


def _count(row: CountRow, of: str) -> Mapping[str, Cell]:
    name = row.name if row.lot else ""
    return {"part": row.part, "bottle": name, "unit": _units(row.unit), "lot": row.lot or None, OF: of}


def _units(unit: str) -> str:
    return plural(unit) if UNITS[unit].kind == "count" else unit


def _notes(used: float) -> Band:
    """Lines for notes, as many as there is room for beside `used` points."""
    bands = [
        Band((PrintedTable((Field("notes", PAGE_MM, fill=True),), (), lines),))
        for lines in range(1, _NOTES[1] + 1)
    ]
    return max(
        (band for band in bands if used + page_points([band], PAGE_MM) <= _ROOM),
        key=lambda band: band.many,
        default=bands[_NOTES[0] - 1],
    )
