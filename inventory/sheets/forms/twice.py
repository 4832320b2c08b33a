"""Things a form may say only once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from inventory.errors import Place


def once(problems: list[Place], said: Sequence[tuple[tuple[object, ...], Place, str]]) -> None:
    """Refuse what is said twice. said: what makes it the same thing, its place, and what it is called."""
    seen: dict[tuple[object, ...], Place] = {}
    for key, place, what in said:
        if key in seen:
            problem = f"{what} stands here twice, first in {seen[key]}. Put both into one row."
            problems.append(replace(place, problem=problem))
        seen.setdefault(key, place)
