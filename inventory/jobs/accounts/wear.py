"""What the tools of a piece lose by making it: a use costs a tool's price by the uses of its life.

wear of a piece = Σ over its tools of uses a piece · cost of one / life, for tools whose life and cost are known.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from inventory.catalogue import Family, Part, Pattern, Tool, fold
from inventory.jobs.purchasing.demand import uses_of
from inventory.ledger.shop import Shop


class Wearing:
    """Wear of one sale after the other in whole coins: a rest below a coin is carried on to the next.

    So the coins of all sales add up to the whole wear, rounded once, however they are sorted.
    """

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self._tools = lasting(shop)
        self._each: dict[str, Fraction] = {}
        self._rest = Fraction(0)

    def of(self, pattern: Pattern | None, pieces: int) -> int:
        """Minor units for so many pieces of a pattern."""
        if pattern is None or not self._tools:
            return 0
        if pattern.family not in self._each:
            self._each[pattern.family] = wear_of_one(self._shop, pattern, self._tools)
        exact = self._rest + self._each[pattern.family] * pieces
        whole = round(exact)
        self._rest = exact - whole
        return whole


def lasting(shop: Shop) -> Sequence[tuple[Part, Tool, Fraction]]:
    """Tools whose life and cost are known, with what one costs, minor units: those on the shelf, else by the offer."""
    found = []
    for part in shop.catalogue.parts.values():
        detail = part.detail
        if isinstance(detail, Tool) and detail.life and (cost := _cost_of_one(shop, part.name)) is not None:
            found.append((part, detail, cost))
    return found


def wear_of_one(
    shop: Shop, pattern: Pattern, tools: Sequence[tuple[Part, Tool, Fraction]] | None = None
) -> Fraction:
    """Minor units for one piece of a pattern. tools: those of `lasting`, where they are known already."""
    family = shop.catalogue.family(pattern.family)
    worn = Fraction(0)
    for part, tool, cost in lasting(shop) if tools is None else tools:
        uses = Fraction(uses_of(shop, part, tool, family)) or _by_kind(shop, tool, family)
        worn += uses * cost / (tool.life or 1)
    return worn


def _by_kind(shop: Shop, tool: Tool, family: Family) -> Fraction:
    """Uses of what goes by no size: of an insert, over all its edges, one a piece, of a saw a cut a barrel.

    Both are assumptions (whether a stick's last cut falls away is left out), shared by all tools of the kind, as nobody
    says which it was. A cutter or a trimmer is touched up after so many uses, and costs nothing here.
    """
    kind = fold(tool.type)
    several = {"insert": 1, "saw": len(family.barrels)}.get(kind)
    if several is None:
        return Fraction(0)
    alike = sum(1 for one in shop.catalogue.parts.values() if _is(one.detail, kind))
    return Fraction(several, alike)


def _is(detail: object, kind: str) -> bool:
    return isinstance(detail, Tool) and fold(detail.type) == kind and bool(detail.life)


def _cost_of_one(shop: Shop, name: str) -> Fraction | None:
    lots = [lot for lot in shop.book.lots_of(name) if lot.quantity]
    if lots:
        return Fraction(1000 * sum(lot.cost for lot in lots), sum(lot.quantity for lot in lots))
    offered = shop.prices(name, 1000)
    return None if offered is None else Fraction(offered)
