"""How far a property is searched: everyday numbers, forty times those with `--hypothesis-profile long`."""

from __future__ import annotations

from typing import Any

from hypothesis import settings

EVERYDAY = 50


def register() -> None:
    """The two profiles. How long an example takes says more of what else the machine does than of the program."""
    settings.register_profile("kitdrawer", deadline=None, max_examples=EVERYDAY)
    settings.register_profile("long", deadline=None, max_examples=40 * EVERYDAY)
    settings.load_profile("kitdrawer")


def examples(many: int, **more: Any) -> settings:
    """So many on an ordinary day; and what else `settings` takes."""
    return settings(max_examples=many * settings().max_examples // EVERYDAY, **more)
