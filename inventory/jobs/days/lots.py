"""Which lot somebody means by what it is called."""

from __future__ import annotations

from inventory.catalogue import Part, fold
from inventory.errors import BadInput, UnknownName
from inventory.ledger import Lot
from inventory.ledger.bottles.containers import called
from inventory.ledger.shop import Shop
from inventory.measures import listed


def lot_called(shop: Shop, part: Part, text: str) -> Lot:
    """The part's lot of that name, as `trace` calls it. Raises UnknownName, BadInput where it can be several."""
    lots, wanted = shop.book.lots_of(part.name), fold(text)
    found = [lot for lot in lots if fold(called(lot)) == wanted] or [
        lot for lot in lots if fold(lot.name) == wanted
    ]
    if len(found) == 1:
        return found[0]
    if found:
        names = [f"“{called(lot)}”" for lot in found]
        raise BadInput(
            f"“{text}” of {part.name} can be {listed(names)}.", hint=f"Write the whole of one, as {names[0]}."
        )
    raise UnknownName(f"lot of {part.name}", text, [called(lot) for lot in lots])
