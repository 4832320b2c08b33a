"""Which frozen class lies in which table: sessions, what came of them, and what the maker says of rates."""

from __future__ import annotations

from inventory.ledger.sessions import Observed, Outcome, Planned, RateWord, Session
from inventory.store.mapping.mapper import Shape

SESSION = Shape(Session, "making_session", beside=("rows",), on="on_date", number="id")
PLANNED = Shape(Planned, "session_plan")
OUTCOME = Shape(Outcome, "outcome", beside=("lost",))
OBSERVED = Shape(Observed, "observed")
RATE_WORD = Shape(RateWord, "rate_word")
