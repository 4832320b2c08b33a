"""What things are."""

from inventory.catalogue.catalogue import Catalogue, Named
from inventory.catalogue.families import (
    PERS,
    ROLES,
    Barrel,
    BillLine,
    Family,
    Material,
    Pattern,
    Per,
    Plating,
)
from inventory.catalogue.names import Known, codes_of, find, fold, only, over
from inventory.catalogue.orders import STALL, Order, OrderState, state_called, whom
from inventory.catalogue.parts import KINDS, Blank, Kind, Kit, Part, Piece, Shape, Supply, Tool, Tube
from inventory.catalogue.stages import STAGES
from inventory.catalogue.suppliers import Offer, PriceStep, Supplier

__all__ = [
    "KINDS",
    "PERS",
    "ROLES",
    "STAGES",
    "STALL",
    "Barrel",
    "BillLine",
    "Blank",
    "Catalogue",
    "Family",
    "Kind",
    "Kit",
    "Known",
    "Material",
    "Named",
    "Offer",
    "Order",
    "OrderState",
    "Part",
    "Pattern",
    "Per",
    "Piece",
    "Plating",
    "PriceStep",
    "Shape",
    "Supplier",
    "Supply",
    "Tool",
    "Tube",
    "codes_of",
    "find",
    "fold",
    "only",
    "over",
    "state_called",
    "whom",
]
