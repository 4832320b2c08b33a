"""What to buy, from whom: offers, reorder sizes and the list that costs least. Pure: numbers in, numbers out."""

from inventory.buying.basket import Basket, Bill, Choice, Line, Unfilled
from inventory.buying.best import best_basket
from inventory.buying.naive import naive_cheapest_per_line, naive_one_supplier
from inventory.buying.near import Fill, NearMiss, near_misses
from inventory.buying.offers import Offer, Step, Supplier, Want
from inventory.buying.postage import Situation, postage_misses

__all__ = [
    "Basket",
    "Bill",
    "Choice",
    "Fill",
    "Line",
    "NearMiss",
    "Offer",
    "Situation",
    "Step",
    "Supplier",
    "Unfilled",
    "Want",
    "best_basket",
    "naive_cheapest_per_line",
    "naive_one_supplier",
    "near_misses",
    "postage_misses",
]
