"""Which frozen class lies in which table: documents, their lines, and what they brought."""

from __future__ import annotations

from inventory.ledger.documents.booked import Document
from inventory.ledger.documents.lines import Line
from inventory.ledger.documents.proposal import NewLot, NewPurchase
from inventory.store.mapping.mapper import Shape

NEW_LOT = Shape(NewLot, "lot", beside=("tag",))
NEW_PURCHASE = Shape(NewPurchase, "purchase", beside=("tag",))
DOCUMENT = Shape(
    Document,
    "document",
    beside=("undone_by",),
    on="on_date",
    undoes="reverses",
    by="booked_by",
)
LINE = Shape(Line, "movement")
