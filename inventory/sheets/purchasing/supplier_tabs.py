"""What lists and delivery sheets share: columns, a tab's name for a supplier, and whose tab it is that comes back."""

from __future__ import annotations

import re
from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction
from math import ceil
from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from inventory.catalogue import Catalogue, fold
from inventory.errors import Refused
from inventory.measures import Currency, show_amount
from inventory.sheets.forms.returned_form import FilledRow, FilledTab

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

ROW_POINTS = 15.0
"""Height of a line of text in a workbook's default font."""
LETTERS = 1.15
"""Letters of running text in the width of one digit, in which columns are measured."""
HEADINGS = (
    "done",
    "part",
    "supplier code",
    "pack",
    "packs",
    "price",
    "cost",
    "needed by",
    "why",
    "supplier",
)
RESERVED = ("summary", "reasons", "delivery")
LONGEST_TITLE = 31
"""Characters a tab's name may have in workbooks, as common programs write them."""
# the characters tabs may not have, and those file names may not have on Windows: lists are CSV files as well
_NOT_IN_TITLES = re.compile(r"[\[\]:*?/\\'\"<>|\x00-\x1f]|_x(?=[0-9A-Fa-f]{4}_)")
_NOT_AT_THE_ENDS = ". ~"
"""Files that begin with a dot or a tilde are passed over in a folder; some systems drop dots and blanks at the end."""
_TAKEN = (*RESERVED, "history", "con", "prn", "aux", "nul")
"""Tabs of our own, a tab's name spreadsheet programs keep for themselves, and file names Windows does."""


def titles(suppliers: Iterable[str]) -> dict[str, str]:
    """A tab's and a file's name for each supplier: short, unique, without the characters these may not have.

    >>> titles(["Salt/Marsh", "salt marsh"])
    {'Salt/Marsh': 'Salt Marsh', 'salt marsh': 'salt marsh 2'}
    """
    taken = set(_TAKEN)
    done: dict[str, str] = {}
    for supplier in suppliers:
        plain = " ".join(_NOT_IN_TITLES.sub(" ", supplier).split())[:LONGEST_TITLE]
        plain = plain.strip(_NOT_AT_THE_ENDS) or "supplier"
        title, number = plain, 1
        while fold(title) in taken:
            number += 1
            tail = f" {number}"
            title = plain[: LONGEST_TITLE - len(tail)].strip(_NOT_AT_THE_ENDS) + tail
        taken.add(fold(title))
        done[supplier] = title
    return done


def titles_of(known: Catalogue) -> dict[str, str]:
    """A tab's name by folded supplier: for all who are known, so that it is the same on every sheet."""
    found = titles(supplier.name for supplier in known.suppliers.values())
    return {fold(supplier): title for supplier, title in found.items()}


class Senders:
    """Whose tab and whose row it is: the column `supplier` says so, else the tab's name."""

    def __init__(self, known: Catalogue) -> None:
        self.known = known
        self.by_title = {fold(title): key for key, title in titles_of(known).items()}

    def of_tab(self, tab: FilledTab) -> str | None:
        """The supplier a row belongs to that names none itself; None where nobody can tell."""
        named = {fold(row.said("supplier")) for row in tab.rows} & set(self.known.suppliers)
        key = named.pop() if len(named) == 1 else self.by_title.get(fold(tab.name))
        return self.known.suppliers[key].name if key else None

    def of_row(self, row: FilledRow, otherwise: str | None) -> str | None:
        """The supplier of a row; None after refusing one nobody knows."""
        found = row.read("supplier", self.known.supplier, None)
        if found is None and not row.said("supplier") and otherwise is None:
            row.refuse("supplier", "Who sells it? Name the supplier.")
        return found.name if found else None if row.said("supplier") else otherwise


def coins(amount: int | Fraction, coin: Currency) -> Decimal:
    """Minor units as the decimal people read, rounded up to a whole coin."""
    return Decimal(ceil(amount)).scaleb(-coin.exponent)


def money_format(coin: Currency, *, code: bool = True) -> str:
    """A spreadsheet's number format for sums of this coin."""
    places = "." + "0" * coin.exponent if coin.exponent else ""
    return f"#,##0{places}" + (f' "{coin.code}"' if code else "")


def amount_cell(steps: int, unit: str) -> str | int:
    """An amount for a cell: a count as a number, anything else with its unit."""
    text = show_amount(steps, unit)
    return int(text) if text.isdecimal() else text


def align(cell: Any, where: str | None, *, top: bool = False, wraps: bool = False, indent: int = 0) -> None:
    """Put what a cell holds to one side: numbers right, days in the middle, headings where their column is."""
    from openpyxl.styles import Alignment

    cell.alignment = Alignment(
        horizontal=where,
        vertical="top" if top else "center",
        wrap_text=wraps,
        indent=indent,
    )


def set_height(sheet: Worksheet, row: int, *texts: tuple[str, int], least: float = ROW_POINTS) -> None:
    """Make a row as high as its texts need in columns of these widths; not every program does so by itself."""
    lines = max((len(wrap(text, int(width * LETTERS))) for text, width in texts), default=1)
    sheet.row_dimensions[row].height = max(least, ROW_POINTS * lines)


def workbook_path(path: Path) -> None:
    """Refuse a name no spreadsheet program would open as a workbook."""
    if path.suffix.casefold() != ".xlsx":
        raise Refused(f"{path.name} is no name for a workbook.", hint="Let it end in .xlsx.")
