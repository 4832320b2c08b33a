"""What to buy, from whom: offers, reorder sizes and the list that costs least. Pure: numbers in, numbers out."""

from inventory.buying.basket import Basket, BasketLine, Choice, SupplierOrder, Unfilled
from inventory.buying.heuristics.naive import naive_cheapest_per_line, naive_one_supplier
from inventory.buying.hints.near import Fill, NearMiss, near_misses
from inventory.buying.hints.postage import Situation, postage_misses
from inventory.buying.optimise import best_basket
from inventory.buying.terms import PackOffer, PriceBreak, SupplierTerms, Want

__all__ = [
    "Basket",
    "BasketLine",
    "Choice",
    "Fill",
    "NearMiss",
    "PackOffer",
    "PriceBreak",
    "Situation",
    "SupplierOrder",
    "SupplierTerms",
    "Unfilled",
    "Want",
    "best_basket",
    "naive_cheapest_per_line",
    "naive_one_supplier",
    "near_misses",
    "postage_misses",
]
