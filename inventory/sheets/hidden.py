"""Hidden tabs and rows: read like the others, and said wherever a sheet comes in, for a filter may be left on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

MOST_NAMED = 12
"""Rows named one by one."""


def hidden_tab(file: str, tab: str) -> str:
    """The sentence for a tab nobody sees."""
    return f"{file}, {tab}: the tab is hidden; it was read like the others."


def hidden_rows(file: str, tab: str, rows: Sequence[int]) -> Iterator[str]:
    """The sentence for filled rows nobody sees, if there are any."""
    if len(rows) == 1:
        yield f"{file}, {tab}: row {rows[0]} is hidden; it was read like the others."
    elif rows:
        named = ", ".join(map(str, rows[:MOST_NAMED]))
        more = f" and {len(rows) - MOST_NAMED} more" if len(rows) > MOST_NAMED else ""
        yield f"{file}, {tab}: rows {named}{more} are hidden; they were read like the others."
