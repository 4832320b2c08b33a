"""Words that go with numbers, and names in a row; the one place that knows how they are put."""

from __future__ import annotations

from collections.abc import Iterable

from inventory.errors import BadMeasure
from inventory.measures.text import said

_YES = frozenset({"yes", "y", "true", "1", "x", "✓", "✔", "☑", "√", "ok"})
_NO = frozenset({"no", "n", "false", "0", "-"})
NAMED = 5
"""Names said before the rest is only counted."""


def plural(count: int, one: str, several: str = "") -> str:
    """A number with its word.

    >>> plural(1, "part"), plural(2, "part"), plural(0, "has", "have")
    ('1 part', '2 parts', '0 have')
    """
    return f"{count} {one if count == 1 else several or one + 's'}"


def read_yes_or_no(text: str) -> bool:
    """Yes or no, in the ways people put it into a cell. Raises BadMeasure.

    >>> read_yes_or_no("x"), read_yes_or_no("No")
    (True, False)
    """
    word = text.strip().casefold()
    if word in _YES:
        return True
    if word in _NO:
        return False
    raise BadMeasure(f"{said(text)} is neither yes nor no.", hint="Write yes or no.")


def listed(names: Iterable[str], most: int = NAMED) -> str:
    """Names as a sentence has them, the first few and how many more.

    >>> listed(["glue", "tube", "kit"]), listed(["glue", "tube", "kit"], most=1)
    ('glue, tube and kit', 'glue and 2 more')
    """
    every = list(names)
    shown = every if len(every) <= most else [*every[:most], f"{len(every) - most} more"]
    return " and ".join([", ".join(shown[:-1]), shown[-1]]) if len(shown) > 1 else "".join(shown)
