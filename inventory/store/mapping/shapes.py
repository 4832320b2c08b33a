"""Which frozen class lies in which table: what things are, what is there, and what was learned.

What was booked has its own (`booked_shapes`, `session_shapes`): a look at the shelf needs none of it.
"""

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
from inventory.ledger import Balance, Claim, DueIn, Lot
from inventory.ledger.learned import LearnedLoss, LearnedRate
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
PLATING = Shape(Plating, "plating", beside=("substitutes",))
MATERIAL = Shape(Material, "material", beside=("losses",))
FAMILY = Shape(Family, "family", beside=("bushings", "trimmer_pilots", "barrels"))
BARREL = Shape(Barrel, "barrel")
PATTERN = Shape(Pattern, "pattern", beside=("bill",))
BILL_LINE = Shape(BillLine, "bill_line", beside=("part",))
SUPPLIER = Shape(Supplier, "supplier")
OFFER, PRICE_STEP = Shape(Offer, "offer", beside=("steps",)), Shape(PriceStep, "price_step")
ORDER = Shape(Order, "customer_order", beside=("platings", "handed"))

BALANCE = Shape(Balance, "part_balance")
LOT = Shape(Lot, "lot_balance", "lot")
CLAIM = Shape(Claim, "claim_balance")
DUE_IN = Shape(DueIn, "due_balance", "purchase")

LEARNED_RATE = Shape(LearnedRate, "learned_rate")
LEARNED_LOSS = Shape(LearnedLoss, "learned_loss")
