"""What happened, and what is left of it."""

from inventory.ledger.book import ACCOUNTS, Account, Balance, Book, Claim, DueIn, Lot
from inventory.ledger.counts import Count
from inventory.ledger.intake import Intake
from inventory.ledger.layers import Take, after, draw, share
from inventory.ledger.proposal import (
    DocumentKind,
    Line,
    NewLot,
    NewPurchase,
    Proposal,
    fingerprint,
    is_empty,
)

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
    "draw",
    "fingerprint",
    "is_empty",
    "share",
]
