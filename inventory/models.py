"""The tables of a book as SQLModel classes, for `select(...)` over them; see `inventory.open_book`.

Quantities are thousandths of a part's unit, money minor units of a currency. Loading them takes a fifth of a second.
"""

from inventory.store.schema.models.balances import (
    ClaimBalanceRow,
    DueBalanceRow,
    LotBalanceRow,
    PartBalanceRow,
)
from inventory.store.schema.models.book import (
    DocumentRow,
    DoubtRow,
    ExpenseRow,
    LotRow,
    MovementRow,
    OrderStepRow,
    PaymentRow,
    PurchaseRow,
)
from inventory.store.schema.models.changes import ChangedRow, OldNameRow, RetiredRow
from inventory.store.schema.models.making import (
    LearnedLossRow,
    LearnedRateRow,
    ObservedRow,
    OutcomeLossRow,
    OutcomeRow,
    PieceRow,
    SessionPlanRow,
    SessionRow,
)
from inventory.store.schema.models.patterns import (
    BarrelRow,
    BillLineRow,
    FamilyRow,
    FamilyToolRow,
    PatternRow,
)
from inventory.store.schema.models.supply import (
    OfferRow,
    OrderPlatingRow,
    OrderRow,
    PriceStepRow,
    SupplierRow,
)
from inventory.store.schema.models.things import (
    BlankRow,
    KitRow,
    MaterialLossRow,
    MaterialRow,
    PartRow,
    PlatingRow,
    PlatingSubstituteRow,
    SupplyRow,
    ToolRow,
    TubeRow,
)

__all__ = [
    "BarrelRow",
    "BillLineRow",
    "BlankRow",
    "ChangedRow",
    "ClaimBalanceRow",
    "DocumentRow",
    "DoubtRow",
    "DueBalanceRow",
    "ExpenseRow",
    "FamilyRow",
    "FamilyToolRow",
    "KitRow",
    "LearnedLossRow",
    "LearnedRateRow",
    "LotBalanceRow",
    "LotRow",
    "MaterialLossRow",
    "MaterialRow",
    "MovementRow",
    "ObservedRow",
    "OfferRow",
    "OldNameRow",
    "OrderPlatingRow",
    "OrderRow",
    "OrderStepRow",
    "OutcomeLossRow",
    "OutcomeRow",
    "PartBalanceRow",
    "PartRow",
    "PatternRow",
    "PaymentRow",
    "PieceRow",
    "PlatingRow",
    "PlatingSubstituteRow",
    "PriceStepRow",
    "PurchaseRow",
    "RetiredRow",
    "SessionPlanRow",
    "SessionRow",
    "SupplierRow",
    "SupplyRow",
    "ToolRow",
    "TubeRow",
]
