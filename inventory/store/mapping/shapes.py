"""Which frozen class lies in which table."""

from __future__ import annotations

from typing import Any

from inventory.catalogue import (
    Barrel,
    BillLine,
    Blank,
    Family,
    Kind,
    Kit,
    Material,
    Offer,
    Order,
    Part,
    Pattern,
    Piece,
    Plating,
    PriceStep,
    Supplier,
    Supply,
    Tool,
    Tube,
)
from inventory.ledger import Balance, Claim, DueIn, Line, Lot, NewLot
from inventory.ledger.documents.booked import Document
from inventory.ledger.documents.proposal import NewPurchase
from inventory.ledger.sessions import LearnedLoss, LearnedRate, Observed, Outcome, Planned, RateWord, Session
from inventory.store.mapping.mapper import Shape

PART = Shape(Part, "part", beside=("detail",))
DETAILS: dict[Kind, Shape[Any]] = {
    "kit": Shape(Kit, "kit"),
    "tube": Shape(Tube, "tube"),
    "blank": Shape(Blank, "blank"),
    "supply": Shape(Supply, "supply"),
    "tool": Shape(Tool, "tool"),
    "piece": Shape(Piece, "piece"),
}
PLATING = Shape(Plating, "plating", beside=("stand_ins",))
MATERIAL = Shape(Material, "material", beside=("losses",))
FAMILY = Shape(Family, "family", beside=("bushings", "trimmer_pilots", "barrels"))
BARREL = Shape(Barrel, "barrel")
PATTERN = Shape(Pattern, "pattern", beside=("bill",))
BILL_LINE = Shape(BillLine, "bill_line", beside=("part",))
SUPPLIER = Shape(Supplier, "supplier")
OFFER, PRICE_STEP = Shape(Offer, "offer", beside=("steps",)), Shape(PriceStep, "price_step")
ORDER = Shape(Order, "wish", beside=("platings", "handed"))

BALANCE = Shape(Balance, "part_balance")
LOT, NEW_LOT = Shape(Lot, "lot_balance", "lot"), Shape(NewLot, "lot", beside=("tag",))
CLAIM = Shape(Claim, "claim_balance", order="wish")
DUE_IN = Shape(DueIn, "due_balance", "purchase")
NEW_PURCHASE = Shape(NewPurchase, "purchase", beside=("tag",))
DOCUMENT = Shape(
    Document,
    "document",
    beside=("undone_by",),
    on="on_date",
    undoes="reverses",
    undo_depth="turn",
    by="booked_by",
)
LINE = Shape(Line, "movement", order="wish")

SESSION = Shape(Session, "making_session", beside=("rows",), on="on_date", number="id")
PLANNED = Shape(Planned, "session_plan", order="wish")
OUTCOME = Shape(Outcome, "outcome", beside=("lost",), order="wish")
OBSERVED = Shape(Observed, "observed")
RATE_WORD = Shape(RateWord, "rate_word")
LEARNED_RATE = Shape(LearnedRate, "learned_rate")
LEARNED_LOSS = Shape(LearnedLoss, "learned_loss")
