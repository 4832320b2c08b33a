"""What happened, and what is left of it.

Each module loads when one of its names is first asked for: a command that only looks never reads how to propose.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inventory.ledger.book import ACCOUNTS, Account, Balance, Book, Claim, DueIn, Lot
    from inventory.ledger.counting.counts import Count
    from inventory.ledger.documents.intake import Intake
    from inventory.ledger.documents.lines import Line
    from inventory.ledger.documents.proposal import DocumentKind, NewLot, NewPurchase, Proposal, fingerprint
    from inventory.ledger.fifo import Take, after, apportion, draw, share

__all__ = [
    "ACCOUNTS",
    "Account",
    "Balance",
    "Book",
    "Claim",
    "Count",
    "DocumentKind",
    "DueIn",
    "Intake",
    "Line",
    "Lot",
    "NewLot",
    "NewPurchase",
    "Proposal",
    "Take",
    "after",
    "apportion",
    "draw",
    "fingerprint",
    "share",
]

_HOMES = {
    "book": "ACCOUNTS Account Balance Book Claim DueIn Lot",
    "counting.counts": "Count",
    "documents.intake": "Intake",
    "fifo": "Take after apportion draw share",
    "documents.lines": "Line",
    "documents.proposal": "DocumentKind NewLot NewPurchase Proposal fingerprint",
}


def __getattr__(name: str) -> object:
    for module, names in _HOMES.items():
        if name in names.split():
            found = getattr(import_module(f"{__name__}.{module}"), name)
            globals()[name] = found
            return found
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
