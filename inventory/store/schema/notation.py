"""Tables in short: a column reads `name:type`, with * for the key, ? where it may be empty, ! where it is unique and
>table.column for what it refers to.

Types: i whole, b big whole, s text, t yes or no, d day. The columns of today, which are generated, and the steps of
migrations are both written so.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from sqlalchemy import BigInteger, Boolean, Date, Integer, String

TYPES: dict[str, type[Any]] = {"i": Integer, "b": BigInteger, "s": String, "t": Boolean, "d": Date}


class Short(NamedTuple):
    """One column. target: the column it refers to, or empty."""

    name: str
    type: type[Any]
    marks: str
    target: str


def columns(text: str) -> Iterator[Short]:
    """The columns of a table."""
    for one in text.split():
        name, _, rest = one.partition(":")
        kind, _, target = rest.partition(">")
        yield Short(name, TYPES[kind[0]], kind[1:], target)
