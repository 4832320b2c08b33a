"""JSON whose numbers are exact: quantities and money go out as the decimals they are, never through a float."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from functools import lru_cache
from typing import Any

from inventory.measures.decimals import Exact

__all__ = ["Exact", "Value", "dumps"]

Value = None | bool | int | float | str | Decimal | date | Mapping[str, "Value"] | Sequence["Value"]


def dumps(value: Value, indent: int = 0) -> str:
    """The value as JSON text, indented by two spaces a level. Decimals are written digit by digit."""
    written = _PLAIN.get(type(value))  # nearly all there is of a long answer
    if written is not None:
        return written(value)
    if isinstance(value, Mapping):
        rows = [f"{_name(key)}: {dumps(one, indent + 1)}" for key, one in value.items()]
        return _block("{", rows, "}", indent)
    if isinstance(value, Sequence) and not isinstance(value, str):
        return _block("[", [dumps(one, indent + 1) for one in value], "]", indent)
    return json.dumps(value, ensure_ascii=False)


_name = lru_cache(maxsize=1024)(json.dumps)
_text = json.JSONEncoder(ensure_ascii=False).encode
_PLAIN: Mapping[type, Callable[[Any], str]] = {
    str: _text,
    int: int.__repr__,
    Decimal: lambda value: format(value, "f"),
    date: lambda value: f'"{value.isoformat()}"',
}


def _block(start: str, rows: list[str], end: str, indent: int) -> str:
    if not rows:
        return start + end
    pad = "  " * (indent + 1)
    return f"{start}\n{pad}" + f",\n{pad}".join(rows) + f"\n{'  ' * indent}{end}"
