"""Formulas with their values beside them, so that readers which do not compute see the same totals.

openpyxl writes a formula's cell without a value; what the formula comes to is known here and is put into the cell's
`<v>` element (ECMA-376 part 1, 18.3.1.96) after the workbook is saved. Programs that compute work it out anew.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any
from xml.sax.saxutils import escape

from inventory.measures.numbers import decimal_places
from inventory.sheets.saving import save_workbook

if TYPE_CHECKING:
    from openpyxl.workbook import Workbook

Result = Decimal | int | str
ENDLESS_PLACES = 12
"""Decimals kept of a value that no number of decimals writes exactly, such as a third."""
_CELL = re.compile(rb'<c r="([A-Z]+[0-9]+)"([^>]*)>(<f>[^<]*</f>)<v ?(?:/>|></v>)')


class Formulas:
    """The formulas of one workbook and what they come to, by tab and cell."""

    def __init__(self) -> None:
        self.results: dict[str, dict[str, Result]] = {}

    def put(self, cell: Any, formula: str, result: Result) -> None:
        """Put a formula into a cell and remember its result."""
        cell.value = formula
        self.results.setdefault(cell.parent.title, {})[cell.coordinate] = result

    def save(self, workbook: Workbook, path: Path) -> None:
        """Save the workbook, every result beside its formula."""
        save_workbook(workbook, path)
        numbered = {
            number: self.results[sheet.title]
            for number, sheet in enumerate(workbook.worksheets, start=1)
            if sheet.title in self.results
        }
        put_values(path, numbered)


def decimal_of(value: Fraction) -> Decimal:
    """The value in decimals: exact where it ends, else rounded to twelve of them."""
    places = decimal_places(value)
    kept = ENDLESS_PLACES if places is None else places
    return Decimal(round(value * 10**kept)).scaleb(-kept)


def put_values(path: Path, values: Mapping[int, Mapping[str, Result]]) -> None:
    """Write values beside formulas. values: by number of the sheet (1 is the first), then by cell (`G5`)."""
    parts = {f"xl/worksheets/sheet{number}.xml": cells for number, cells in values.items()}
    fresh = path.with_name(f"{path.name}.values")
    try:
        with zipfile.ZipFile(path) as old, zipfile.ZipFile(fresh, "w", zipfile.ZIP_DEFLATED) as new:
            for item in old.infolist():
                data = old.read(item)
                new.writestr(item, _with(data, parts[item.filename]) if item.filename in parts else data)
        fresh.replace(path)
    finally:
        fresh.unlink(missing_ok=True)


def _with(data: bytes, cells: Mapping[str, Result]) -> bytes:
    def put(found: re.Match[bytes]) -> bytes:
        name, rest, formula = found.groups()
        result = cells.get(name.decode())
        if result is None:
            return found[0]
        kind = b' t="str"' if isinstance(result, str) else b""
        said = (
            escape(result)
            if isinstance(result, str)
            else format(result, "f" if result != int(result) else "")
        )
        return b'<c r="%s"%s%s>%s<v>%s</v>' % (name, rest, kind, formula, said.encode())

    return _CELL.sub(put, data)
