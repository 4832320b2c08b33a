"""Sheets of labels by their measures, in millimetres: where each label lies on the paper."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Final

from inventory.errors import BadMeasure
from inventory.measures.tables import rows

PAPERS: Final[Mapping[str, tuple[Decimal, Decimal]]] = {
    "A4": (Decimal(210), Decimal(297)),
    "letter": (Decimal("215.9"), Decimal("279.4")),
}
"""Width and height: ISO 216, and 8½ × 11 inches."""
LEAST: Final = Decimal(10)
"""Millimetres a label has at least each way: less holds no code that a telephone reads."""
_ACCEPTED = (
    "Write columns x rows, width x height, left + top, gap x gap and the paper: "
    "3x7, 63.5x38.1, 7.2+15.1, 2.5x0, A4."
)
_NUMBER = r"([0-9]{1,3}(?:\.[0-9]{1,2})?)"
_OWN = re.compile(
    rf"([0-9]{{1,2}})x([0-9]{{1,2}}),{_NUMBER}x{_NUMBER},{_NUMBER}\+{_NUMBER}(?:,{_NUMBER}x{_NUMBER})?(?:,(a4|letter))?"
)


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """left, top: from the paper's edge to the first label; across, down: gaps between labels; all in millimetres."""

    paper: str
    columns: int
    rows: int
    width: Decimal
    height: Decimal
    left: Decimal
    top: Decimal
    across: Decimal
    down: Decimal

    @property
    def size(self) -> str:
        """A label's measures, by which its sheet is called."""
        return f"{_said(self.width)}x{_said(self.height)}"

    @property
    def each(self) -> int:
        """Labels on a sheet."""
        return self.columns * self.rows

    def place(self, number: int) -> tuple[Decimal, Decimal]:
        """Millimetres from the left and from the top of the paper to a label, counted from 0 row by row."""
        row, column = divmod(number, self.columns)
        return self.left + column * (self.width + self.across), self.top + row * (self.height + self.down)


def _said(length: Decimal) -> str:
    return format(length.normalize(), "f")


@cache
def label_sheets() -> tuple[LabelSheet, ...]:
    """The sheets of the table."""
    return tuple(
        LabelSheet(
            row["paper"],
            int(row["columns"]),
            int(row["rows"]),
            *(Decimal(row[name]) for name in ("width", "height", "left", "top", "across", "down")),
        )
        for row in rows("labels")
    )


def read_label_sheet(text: str) -> LabelSheet:
    """A sheet by a label's measures (`63.5x38.1`), or by all its own (see `_ACCEPTED`). Raises BadMeasure."""
    tidy = text.casefold().replace("×", "x").replace("mm", "").replace(" ", "")
    known = {one.size: one for one in label_sheets()}
    if tidy in known:
        return known[tidy]
    found = _OWN.fullmatch(tidy)
    if found is None:
        hint = f"Sheets known by a label's width x height: {', '.join(known)}. {_ACCEPTED}"
        raise BadMeasure(f"“{text}” is no sheet of labels.", hint=hint)
    columns, many, *lengths, paper = found.groups()
    width, height, left, top, across, down = (Decimal(one or 0) for one in lengths)
    called = next(name for name in PAPERS if name.casefold() == (paper or "a4"))
    return _checked(LabelSheet(called, int(columns), int(many), width, height, left, top, across, down))


def _checked(sheet: LabelSheet) -> LabelSheet:
    if not sheet.columns or not sheet.rows or min(sheet.width, sheet.height) < LEAST:
        raise BadMeasure(
            f"A label is at least {LEAST} mm wide and high, and a sheet has at least one.", hint=_ACCEPTED
        )
    across, down = sheet.place(sheet.each - 1)
    paper = PAPERS[sheet.paper]
    for what, need, there in (
        ("wide", across + sheet.width, paper[0]),
        ("high", down + sheet.height, paper[1]),
    ):
        if need > there:
            raise BadMeasure(
                f"These labels are {_said(need)} mm {what} together, and {sheet.paper} is {_said(there)} mm.",
                hint="Measure from the paper's edge to the first label, the label, and the gap to the next.",
            )
    return sheet
