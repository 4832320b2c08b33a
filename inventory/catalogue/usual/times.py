"""How long a piece usually takes at each stage, and setting up for it once an evening, in minutes."""

from __future__ import annotations

from dataclasses import dataclass

from inventory.catalogue.usual.tables import rows


@dataclass(frozen=True, slots=True)
class UsualTime:
    """Minutes: of one piece, and once an evening."""

    minutes: int
    setting_up: int


def usual_time(stage: str, finish: str = "") -> UsualTime:
    """What is usual at a stage, of that finishing schedule where it differs."""
    several = [row for row in rows("times") if row["stage"] == stage and row["finish"] in (finish, "")]
    found = min(several, key=lambda row: row["finish"] != finish)
    return UsualTime(int(found["minutes"]), int(found["setting up"]))
