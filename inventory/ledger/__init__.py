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
from inventory.ledger.sessions import (
    Learned,
    LearnedLoss,
    LearnedRate,
    Observed,
    Outcome,
    Session,
    SessionState,
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
    "Learned",
    "LearnedLoss",
    "LearnedRate",
    "Line",
    "Lot",
    "NewLot",
    "NewPurchase",
    "Observed",
    "Outcome",
    "Proposal",
    "Session",
    "SessionState",
    "Take",
    "after",
    "draw",
    "fingerprint",
    "is_empty",
    "share",
]
