"""Finishing schedules as ready bills: the lines of a pattern nobody wrote a bill for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from inventory.catalogue.families import PERS, Per
from inventory.catalogue.usual.tables import rows

GLUING, NONE = "gluing", "none"


@dataclass(frozen=True, slots=True)
class UsualLine:
    """One line of a schedule; supply: a usual supply's name. main: without it there is no such finish."""

    stage: str
    supply: str
    quantity: str
    per: Per
    main: bool
    source: str


def finishes() -> tuple[str, ...]:
    """The names of the schedules, the plain ones last."""
    return tuple(dict.fromkeys(row["finish"] for row in rows("finishes") if row["finish"] != GLUING))


def schedule(finish: str) -> tuple[UsualLine, ...]:
    """The lines of a schedule; none of one that is not known."""
    return tuple(_line(row) for row in rows("finishes") if row["finish"] == finish and row["supply"])


def _line(row: Mapping[str, str]) -> UsualLine:
    per = next(one for one in PERS if one == row["per"])
    return UsualLine(row["stage"], row["supply"], row["quantity"], per, row["main"] == "yes", row["source"])


def finish_for(supplies: Iterable[str]) -> str:
    """The first schedule whose main supplies are all there; `none` where no schedule's are."""
    there = set(supplies)
    for finish in finishes():
        main = {line.supply for line in schedule(finish) if line.main}
        if main and main <= there:
            return finish
    return NONE
