"""What can hurt, on a screen: one line that names it, or each statement once at its moment."""

from __future__ import annotations

from inventory.catalogue.safety import GOVERNS, MOMENTS, REGULATION, Safety
from inventory.cli.drawing.texts import wrapped

MARKED = f"H and EUH: {REGULATION}. What names no source is common practice."


def kinds_said(safety: Safety) -> str:
    """The kinds of danger in this job, in one line; empty where nothing is made."""
    return f"{', '.join(safety.kinds)}: --safety. Data sheets govern" if safety.kinds else ""


def safety_screen(safety: Safety) -> list[str]:
    """Every statement below its moment, in the order of the work, and what governs."""
    lines = ["Safety"]
    for moment, title in MOMENTS.items():
        said = safety.at(moment)
        if said:
            lines += ["", title]
        for one in said:
            lines += wrapped(one.says, "· ")
    if len(lines) == 1:
        return [*lines, "", "Nothing is made, so nothing is to be said."]
    return [*lines, "", *wrapped(MARKED), *wrapped(GOVERNS)]
