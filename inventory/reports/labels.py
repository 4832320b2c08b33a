"""What stands on labels: of drawers, of bottles, of finished pieces; and on which sheet they are printed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from inventory.measures.labels import LabelSheet

LabelKind = Literal["drawers", "bottles", "pieces"]
LABEL_KINDS: tuple[LabelKind, ...] = ("drawers", "bottles", "pieces")


@dataclass(frozen=True, slots=True)
class PartLabel:
    """One label. code: the part's own; lines: below its name, the most important first; small: in small letters.

    price: empty but on a piece that has one.
    """

    part: str
    code: str
    lines: Sequence[str] = ()
    small: str = ""
    price: str = ""


@dataclass(frozen=True, slots=True)
class LabelRun:
    """Labels on their way to paper. first: the place of the first one, from 1; those before are used up already."""

    kind: LabelKind
    sheet: LabelSheet
    first: int
    labels: Sequence[PartLabel]

    @property
    def sheets(self) -> int:
        """How many sheets it takes."""
        return -(-(self.first - 1 + len(self.labels)) // self.sheet.each)

    def by_sheet(self) -> list[list[tuple[int, PartLabel]]]:
        """For each sheet its labels with their place on it, from 0."""
        found: list[list[tuple[int, PartLabel]]] = [[] for _ in range(self.sheets)]
        for number, label in enumerate(self.labels, start=self.first - 1):
            sheet, place = divmod(number, self.sheet.each)
            found[sheet].append((place, label))
        return found
