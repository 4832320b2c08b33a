"""Rows, documents and a shop for the tests of likely reasons."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from fractions import Fraction

from inventory.catalogue import Catalogue, Part, Supply, fold
from inventory.jobs.differences.reasons import BookMemory, explain
from inventory.jobs.sessions.reconciling.measured import Checked
from inventory.ledger.documents.booked import Document, Happening
from inventory.ledger.shop import Shop
from jobs import goods
from jobs.shop import TODAY, shop

ACCELERATOR = Part("accelerator", Supply("solvent", 250_000, hazards=("H225", "H319")), "ml")
WAX = Part("wax", Supply("finish", 100_000), "g")
DENSE = Part("polish", Supply("finish", 100_000, 12_400, density=Fraction("0.8")), "ml")


def known() -> Catalogue:
    """The shop's catalogue with something that flies off, something weighed and something light."""
    return goods.catalogue().with_parts(ACCELERATOR, WAX, DENSE)


def checked(part: str, expected: int, counted: int, error: int = 0, way: str = "counted") -> Checked:
    """One row, in whole units."""
    return Checked(part, 1000 * expected, 1000 * counted, error, way)


def told(
    rows: Sequence[Checked], here: Shop | None = None, context: BookMemory | None = None
) -> dict[str, tuple[str, ...]]:
    """The reasons by part."""
    return {one.part: one.likely for one in explain(here or shop(known=known()), rows, context)}


def first(row: Checked, here: Shop | None = None, context: BookMemory | None = None) -> str:
    """The likeliest reason of one row alone."""
    return told([row], here, context)[row.part][0]


def document(number: int, kind: str, days: int) -> Document:
    """A document of so many days ago."""
    on = TODAY - timedelta(days=days)
    return Document(number, kind, "as booked", on, "")


def moved(head: Document, part: str, units: int, account: str = "shelf") -> Happening:
    """A line of so many whole units."""
    return Happening(head, part, account, 1000 * units, 0)  # type: ignore[arg-type]  # tests spell accounts as text


def past(part: str, *lines: Happening) -> BookMemory:
    """What is remembered of one part."""
    return BookMemory({fold(part): lines})
