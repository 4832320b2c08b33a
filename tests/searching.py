"""How far is searched on an ordinary day, and how far by `python3 scripts/soak.py`.

A property is tried with three tenths of its examples, of a long table of like cases every nth is tried; the soak takes
all of them. `--hypothesis-profile long` searches forty times as far as that.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import pytest
from hypothesis import settings

EVERYDAY, THOROUGH = 15, 50


def register() -> None:
    """The profiles. How long an example takes says more of what else the machine does than of the program."""
    for name, many in (("kitdrawer", EVERYDAY), ("thorough", THOROUGH), ("long", 40 * THOROUGH)):
        settings.register_profile(name, deadline=None, max_examples=many)
    settings.load_profile("kitdrawer")


def examples(many: int, **more: Any) -> settings:
    """So many when searched thoroughly; and what else `settings` takes."""
    return settings(max_examples=max(2, many * settings().max_examples // THOROUGH), **more)


def every(nth: int, cases: Iterable[Any]) -> list[Any]:
    """Parameters of which every nth is tried with all tests, beginning with the first, and the others in the soak."""
    return [
        case if at % nth == 0 else pytest.param(*_values(case), marks=pytest.mark.soak)
        for at, case in enumerate(cases)
    ]


def _values(case: Any) -> tuple[Any, ...]:
    return case if isinstance(case, tuple) else (case,)
