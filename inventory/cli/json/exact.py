"""JSON whose numbers are exact: quantities and money go out as the decimals they are, never through a float."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal

from inventory.measures.decimals import Exact

__all__ = ["Exact", "Value", "dumps"]

Value = None | bool | int | float | str | Decimal | date | Mapping[str, "Value"] | Sequence["Value"]


def dumps(value: Value, indent: int = 0) -> str:
    """The value as JSON text, indented by two spaces a level. Decimals are written digit by digit."""
    if isinstance(value, Decimal):
        return format(value, "f")
    if isinstance(value, date):
        return json.dumps(value.isoformat())
    if isinstance(value, Mapping):
        rows = [f"{json.dumps(key)}: {dumps(one, indent + 1)}" for key, one in value.items()]
        return _block("{", rows, "}", indent)
    if isinstance(value, Sequence) and not isinstance(value, str):
        return _block("[", [dumps(one, indent + 1) for one in value], "]", indent)
    return json.dumps(value, ensure_ascii=False)


def _block(start: str, rows: list[str], end: str, indent: int) -> str:
    if not rows:
        return start + end
    pad = "  " * (indent + 1)
    return f"{start}\n{pad}" + f",\n{pad}".join(rows) + f"\n{'  ' * indent}{end}"
