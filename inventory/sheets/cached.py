"""Formulas with their values beside them, so that readers which do not compute see the same totals.

openpyxl writes a formula's cell without a value; what the formula comes to is known here and is put into the cell's
`<v>` element (ECMA-376 part 1, 18.3.1.96) after the workbook is saved.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path

_CELL = re.compile(
    rb'(<c r="([A-Z]+[0-9]+)"[^>]*>)(<f>[^<]*</f>)<v ?/>|(<c r="([A-Z]+[0-9]+)"[^>]*>)(<f>[^<]*</f>)<v></v>'
)


def put_values(path: Path, values: Mapping[int, Mapping[str, Decimal]]) -> None:
    """Write values beside formulas. values: by number of the sheet (1 is the first), then by cell (`G5`)."""
    fresh = path.with_name(f"{path.name}.values")
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(fresh, "w", zipfile.ZIP_DEFLATED) as new:
        for item in old.infolist():
            data = old.read(item)
            for number, cells in values.items():
                if item.filename == f"xl/worksheets/sheet{number}.xml":
                    data = _with(data, cells)
            new.writestr(item, data)
    fresh.replace(path)


def _with(data: bytes, cells: Mapping[str, Decimal]) -> bytes:
    def put(found: re.Match[bytes]) -> bytes:
        start, name, formula = (found[1], found[2], found[3]) if found[1] else (found[4], found[5], found[6])
        value = cells.get(name.decode())
        return found[0] if value is None else start + formula + f"<v>{value}</v>".encode()

    return _CELL.sub(put, data)
