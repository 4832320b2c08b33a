"""What to buy, from whom: offers and the list that costs least. Pure: numbers in, numbers out.

Each module loads when one of its names is first asked for: who only speaks of terms never reads the search.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
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

_HOMES = {
    "basket": "Basket BasketLine Choice SupplierOrder Unfilled",
    "heuristics.naive": "naive_cheapest_per_line naive_one_supplier",
    "hints.near": "Fill NearMiss near_misses",
    "hints.postage": "Situation postage_misses",
    "optimise": "best_basket",
    "terms": "PackOffer PriceBreak SupplierTerms Want",
}


def __getattr__(name: str) -> object:
    for module, names in _HOMES.items():
        if name in names.split():
            found = getattr(import_module(f"{__name__}.{module}"), name)
            globals()[name] = found
            return found
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
