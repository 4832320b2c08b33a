"""Write `columns.py` from the SQLModel classes: python -m inventory.store.schema.generate

To be run whenever a class changes; a test finds what was forgotten.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from pathlib import Path

from sqlalchemy import BigInteger, Boolean, Column, Date, Integer
from sqlmodel import AutoString

from inventory.store.schema.models import METADATA

TARGET = Path(__file__).with_name("columns.py")
_HEAD = '''"""Columns of every table, written by `generate.py` from the classes in `models/`: change those, not this."""

COLUMNS = {
'''
_LETTERS = {Integer: "i", BigInteger: "b", AutoString: "s", Boolean: "t", Date: "d"}


def generated() -> str:
    """The text of `columns.py`."""
    return _HEAD + "".join(_entries()) + "}\n"


def _entries() -> Iterator[str]:
    for name, table in sorted(METADATA.tables.items()):
        text = " ".join(map(_short, table.columns))
        if len(name) + len(text) <= 101:
            yield f'    "{name}": "{text}",\n'
            continue
        lines = textwrap.wrap(text, 100 if len(text) <= 100 else 99)
        told = "".join(f'        "{line} "\n' for line in lines[:-1]) + f'        "{lines[-1]}"\n'
        yield f'    "{name}": (\n{told}    ),\n'


def _short(column: Column[object]) -> str:
    marks = ("?" if column.nullable else "") + ("*" if column.primary_key else "") + "!" * bool(column.unique)
    to = "".join(f">{key.target_fullname}" for key in column.foreign_keys)
    return f"{column.name}:{_LETTERS[type(column.type)]}{marks}{to}"


if __name__ == "__main__":
    TARGET.write_text(generated(), encoding="utf-8", newline="\n")
