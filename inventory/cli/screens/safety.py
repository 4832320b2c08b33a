"""What can hurt, on a screen: one line that names it, or each statement once at its moment."""

from __future__ import annotations

from inventory.catalogue.safety import GOVERNS, MOMENTS, REGULATION, Safety
from inventory.cli.drawing.blocks import Group, Screen, Sentence
from inventory.cli.drawing.draw import draw

MARKED = f"H and EUH: {REGULATION}. What names no source is common practice."


def kinds_said(safety: Safety) -> str:
    """The kinds of danger in this job, in one line; empty where nothing is made."""
    return f"{', '.join(safety.kinds)}: --safety. Data sheets govern" if safety.kinds else ""


def safety_screen(safety: Safety, of: str) -> list[str]:
    """What can hurt in a job, then every statement once below its moment, in the order of the work. of: the job."""
    groups: list[Group] = [
        [Sentence(title), *(Sentence(one.says, "· ") for one in safety.at(moment))]
        for moment, title in MOMENTS.items()
        if safety.at(moment)
    ]
    if not groups:
        return draw(Screen(f"Nothing is made for {of}, so nothing of it can hurt."))
    kinds = f": {', '.join(safety.kinds)}" if safety.kinds else ""
    head = f"{of}{kinds}."
    return draw(Screen(head, (), [*groups, [Sentence(MARKED), Sentence(GOVERNS)]]))
