"""Which frozen class lies in which table: documents and their lines, sessions and what was learned of them."""

from __future__ import annotations

from inventory.ledger.documents.booked import Document
from inventory.ledger.documents.proposal import Line, NewLot, NewPurchase
from inventory.ledger.sessions import LearnedLoss, LearnedRate, Observed, Outcome, Planned, RateWord, Session
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

SESSION = Shape(Session, "making_session", beside=("rows",), on="on_date", number="id")
PLANNED = Shape(Planned, "session_plan")
OUTCOME = Shape(Outcome, "outcome", beside=("lost",))
OBSERVED = Shape(Observed, "observed")
RATE_WORD = Shape(RateWord, "rate_word")
LEARNED_RATE = Shape(LearnedRate, "learned_rate")
LEARNED_LOSS = Shape(LearnedLoss, "learned_loss")
