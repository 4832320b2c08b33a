"""Tables of making sessions: planned, made, weighed. Learned figures are derived; the rest is written once."""

from __future__ import annotations

from datetime import date

from inventory.store.schema.models.base import Row, number, to, whole


class PieceRow(Row, table=True):
    """A finished piece: what it was made from."""

    __tablename__ = "piece"

    part_id: int = number("part.id")
    pattern_id: int = to("pattern.id")
    kit_id: int = to("part.id")
    blank_id: int = to("part.id")
    refill_id: int | None = to("part.id", default=None)
    extra_diameter: str | None = None


class SessionRow(Row, table=True):
    """A planned session; its state changes, as its steps say."""

    __tablename__ = "making_session"

    id: int = number()
    document_id: int = to("document.id")
    name: str
    on_date: date
    state: str


class SessionPlanRow(Row, table=True):
    """So many pieces planned for one order, from one kit part."""

    __tablename__ = "session_plan"

    session_id: int = number("making_session.id")
    position: int = number()
    order_id: int = to("customer_order.id")
    kit_id: int = to("part.id")
    starts: int


class SessionStepRow(Row, table=True):
    """What a document made of a session."""

    __tablename__ = "session_step"

    document_id: int = number("document.id")
    session_id: int = number("making_session.id")
    state: str


class OutcomeRow(Row, table=True):
    """What came of one row of a session."""

    __tablename__ = "outcome"

    document_id: int = number("document.id")
    position: int = number()
    order_id: int | None = to("customer_order.id", default=None)
    pattern_id: int = to("pattern.id")
    kit_id: int = to("part.id")
    blank_id: int = to("part.id")
    refill_id: int | None = to("part.id", default=None)
    extra_diameter: str | None = None
    good: int
    tubes_saved: int = 0
    kits_saved: int = 0
    in_part: int = 0


class OutcomeLossRow(Row, table=True):
    """Pieces of one outcome lost at one stage."""

    __tablename__ = "outcome_loss"

    document_id: int = number("document.id")
    position: int = number()
    stage: str = number()
    pieces: int


class ObservedRow(Row, table=True):
    """What a session used of one part, and how sure the measuring was (thousandths of its unit)."""

    __tablename__ = "observed"

    document_id: int = number("document.id")
    part_id: int = number("part.id")
    used: int = whole()
    error: int = whole()
    way: str


class RateWordRow(Row, table=True):
    """What the maker said of a rate; factor in millionths."""

    __tablename__ = "rate_word"

    document_id: int = number("document.id")
    part_id: int = number("part.id")
    per: str = number()
    word: str
    factor: int = whole()


class LearnedRateRow(Row, table=True):
    """A factor on the bill's quantity, millionths, with its interval; outliers a JSON list of documents.

    points, hands: JSON lists of millionths, see `ledger.learned.LearnedRate`; ordinary: thousandths.
    """

    __tablename__ = "learned_rate"

    part_id: int = number("part.id")
    per: str = number()
    factor: int = whole()
    low: int = whole()
    high: int = whole()
    sessions: int
    outliers: str = "[]"
    pinned: bool = False
    scatter: int = whole(default=0)
    points: str = "[]"
    hands: str = "[]"
    ordinary: int = whole(default=0)


class LearnedLossRow(Row, table=True):
    """A share lost, millionths; worth: thousandths of pieces of experience."""

    __tablename__ = "learned_loss"

    material_id: int = number("material.id")
    stage: str = number()
    share: int = whole()
    reached: int
    lost: int
    worth: int = whole(default=0)
