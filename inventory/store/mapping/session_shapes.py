"""Which frozen class lies in which table: sessions, and what was learned of them, which every judge of orders reads."""

from __future__ import annotations

from inventory.ledger.sessions import LearnedLoss, LearnedRate, Observed, Outcome, Planned, RateWord, Session
from inventory.store.mapping.mapper import Shape

SESSION = Shape(Session, "making_session", beside=("rows",), on="on_date", number="id")
PLANNED = Shape(Planned, "session_plan")
OUTCOME = Shape(Outcome, "outcome", beside=("lost",))
OBSERVED = Shape(Observed, "observed")
RATE_WORD = Shape(RateWord, "rate_word")
LEARNED_RATE = Shape(LearnedRate, "learned_rate")
LEARNED_LOSS = Shape(LearnedLoss, "learned_loss")
