"""What lists and delivery sheets share: columns, a tab's name for a supplier, and whose tab it is that comes back."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

from inventory.catalogue import Catalogue, fold
from inventory.sheets.forms.returned_tab import ReturnedRow, ReturnedTab

if TYPE_CHECKING:
    pass

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

    def of_tab(self, tab: ReturnedTab) -> str | None:
        """The supplier a row belongs to that names none itself; None where nobody can tell."""
        named = {fold(row.said("supplier")) for row in tab.rows} & set(self.known.suppliers)
        key = named.pop() if len(named) == 1 else self.by_title.get(fold(tab.name))
        return self.known.suppliers[key].name if key else None

    def of_row(self, row: ReturnedRow, otherwise: str | None) -> str | None:
        """The supplier of a row; None after refusing one nobody knows."""
        found = row.read("supplier", self.known.supplier, None)
        if found is None and not row.said("supplier") and otherwise is None:
            row.refuse("supplier", "Who sells it? Name the supplier.")
        return found.name if found else None if row.said("supplier") else otherwise
