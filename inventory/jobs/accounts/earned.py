"""What was earned: what customers paid for against all that went into it.

A sale costs what its pieces cost on the shelf, first in, first out; what such pieces are made of is shared like what
their session took. Pieces made at the hand-over cost what that entry drew. What was spoiled, broken or thrown out
costs in the month it left, sold or not. Every coin that left the shelf is in exactly one sum, but what was lent.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from inventory.catalogue import Blank, Catalogue, Kit, Order, Pattern, Piece, fold
from inventory.jobs.accounts.wear import Wearing
from inventory.jobs.hours.piece_time import piece_time
from inventory.ledger.documents.proposal import Expense
from inventory.ledger.fifo import apportion
from inventory.ledger.past.flows import kind_of
from inventory.ledger.past.sales import CostClass, Gift, Handed, PastSales, WentOut
from inventory.ledger.shop import Shop
from inventory.reports.accounts.earned import GROUPS, By, Earned, EarnedPart, EarnedSums, SaleKind

NONE = "-"
"""The group of what has none."""
_WHOLE: tuple[CostClass, ...] = ("materials", "supplies", "packaging", "tools")


@dataclass(frozen=True, slots=True)
class Sold:
    """Pieces of a kind that left at once. price: minor units of one, None where nobody said."""

    document: int
    on: date
    kind: SaleKind
    pieces: int
    price: int | None
    pattern: str
    blank: str
    plating: str
    place: str = NONE


def earned(shop: Shop, settings: Mapping[str, str], past: PastSales, first: date, last: date) -> Earned:
    """Every sale, gift and loss of those days, sorted."""
    by_sale: dict[tuple[int, str], list[WentOut]] = {}
    for one in past.costs:
        by_sale.setdefault((one.document, one.order or ""), []).append(one)
    parts, done, worn = list[EarnedPart](), set[tuple[int, str]](), Wearing(shop)
    times = _Times(shop.catalogue, settings)
    for handed in past.handed:
        key = handed.document, handed.order
        order = shop.book.orders[handed.order]
        parts += _sale(shop, times, past, worn, _of_order(order, handed), by_sale.get(key, ()))
        done.add(key)
    for gift in past.gifts:
        costs = [one for one in by_sale.get((gift.document, ""), ()) if one.word == "given away"]
        parts += _sale(shop, times, past, worn, _given(shop, gift), costs if _alone(past, gift) else ())
    given = {gift.document for gift in past.gifts if _alone(past, gift)}
    for key, costs in by_sale.items():
        if key not in done:
            parts += _losses(past, [one for one in costs if one.word != "given away" or key[0] not in given])
    parts += (_spent(shop, past, one) for one in past.expenses)
    later = sum(one.pieces for one in past.handed if _later(shop, one))
    return Earned(first, last, tuple(_called_alike(parts)), past.unknown, later)


def _later(shop: Shop, one: Handed) -> bool:
    """Whether a sheet's entry is of a later month than the day its line says; a sale's order is due on that day."""
    day = shop.book.orders[one.order].due
    return one.word == "days" and (day.year, day.month) != (one.on.year, one.on.month)


def _spent(shop: Shop, past: PastSales, one: Expense) -> EarnedPart:
    """What was spent, with the groups of the order it was for, else of the place it was paid at."""
    order = shop.book.orders.get(one.order) if one.order else None
    groups: Mapping[By, str] = dict.fromkeys(GROUPS, NONE)
    if order is not None:
        word = "sold" if one.order in past.sold_off else "hand-over"
        groups = _groups(shop.catalogue, _of_order(order, Handed(0, one.on, word, order.name, 0)), NONE)
    elif one.at:
        groups = {**groups, "kind": "market", "place": one.at}
    return EarnedPart(
        one.on, {**groups, "month": f"{one.on:%Y-%m}"}, EarnedSums(spent={one.what: one.amount})
    )


def _called_alike(parts: Iterable[EarnedPart]) -> Iterable[EarnedPart]:
    """The same with each place under the name it was first called by, however it was spelled."""
    known: dict[str, str] = {}
    for part in parts:
        place = part.groups["place"]
        first = known.setdefault(fold(place), place)
        yield part if first == place else replace(part, groups={**part.groups, "place": first})


def _alone(past: PastSales, gift: Gift) -> bool:
    """Whether nothing else was given by the same entry, so that its cost is that gift's."""
    return sum(one.document == gift.document for one in past.gifts) == 1


def _of_order(order: Order, handed: Handed) -> Sold:
    kind: SaleKind = "market" if handed.word in ("sold", "days") else "order"
    plating = order.platings[0] if order.platings else NONE
    place = order.customer if kind == "market" and order.customer else NONE
    made = order.pattern, order.blank, plating, place
    return Sold(handed.document, handed.on, kind, handed.pieces, order.price, *made)


def _given(shop: Shop, gift: Gift) -> Sold:
    detail = shop.catalogue.parts[gift.part].detail
    if not isinstance(detail, Piece):
        return Sold(gift.document, gift.on, "gift", gift.pieces, 0, NONE, NONE, NONE)
    kit = shop.catalogue.part(detail.kit).detail
    plating = kit.plating if isinstance(kit, Kit) else NONE
    return Sold(gift.document, gift.on, "gift", gift.pieces, 0, detail.pattern, detail.blank, plating)


def _sale(
    shop: Shop,
    times: _Times,
    past: PastSales,
    worn: Wearing,
    sold: Sold,
    costs: Iterable[WentOut],
) -> Iterable[EarnedPart]:
    """What it brought and took; a part for each session its pieces came from, by what they cost."""
    by_session: dict[str, Counter[CostClass]] = {}
    for one in costs:
        if one.word in ("saved", "lent"):
            continue
        made_in = one.made_in if one.made_in is not None else one.document
        by_session.setdefault(past.sessions.get(made_in, NONE), Counter()).update(_split(past, one))
    pattern = _pattern(shop.catalogue, sold.pattern)
    names = sorted(by_session) or [NONE]
    weights = [sum(by_session.get(name, {}).values()) or 1 for name in names]
    income = (sold.price or 0) * sold.pieces
    pieces, money = apportion(sold.pieces, weights), apportion(income, weights)
    for name, many, brought in zip(names, pieces, money, strict=True):
        took = by_session.get(name, Counter())
        yield EarnedPart(
            sold.on,
            _groups(shop.catalogue, sold, name),
            EarnedSums(
                many,
                brought,
                took["materials"],
                took["supplies"],
                took["packaging"],
                worn.of(pattern, many) + took["tools"],
                unpriced=many if sold.price is None else 0,
                minutes=times.of(pattern, many),
            ),
        )


def _split(past: PastSales, one: WentOut) -> Mapping[CostClass, int]:
    """What it took, by class; of finished pieces, as what their session took is shared."""
    if one.of != "piece":
        return {one.of: one.cost}
    took = past.makings.get(one.made_in or 0, {})
    weights = [max(took.get(of, 0), 0) for of in _WHOLE]
    if not any(weights):  # counted in, or found: what they were made of nobody knows
        return {"materials": one.cost}
    return dict(zip(_WHOLE, apportion(one.cost, weights), strict=True))


def _losses(past: PastSales, costs: Iterable[WentOut]) -> Iterable[EarnedPart]:
    """What left without a sale: spoiled in the making, used beside the bills, or lost."""
    for one in costs:
        kind = kind_of(one.word, -1)
        if kind in ("lent", "corrected") or one.word in ("used", "robbed", "saved"):
            continue  # what good pieces took lies in them now
        made = one.document in past.sessions or one.order is not None
        session = past.sessions.get(one.document, NONE)
        on = past.on[one.document]
        groups: Mapping[By, str] = {**dict.fromkeys(GROUPS, NONE), "session": session}
        sums = (
            EarnedSums(spoiled=one.cost)
            if one.word == "lost" and made
            else EarnedSums(supplies=one.cost)
            if kind == "used" and one.of == "supplies" and one.word != "repair"
            else EarnedSums(other=one.cost)
        )
        yield EarnedPart(on, {**groups, "month": f"{on:%Y-%m}"}, sums)


def _groups(catalogue: Catalogue, sold: Sold, session: str) -> Mapping[By, str]:
    detail = catalogue.part(sold.blank).detail if sold.blank != NONE else None
    return {
        "month": f"{sold.on:%Y-%m}",
        "pattern": sold.pattern,
        "material": detail.material if isinstance(detail, Blank) else NONE,
        "plating": sold.plating,
        "kind": sold.kind,
        "place": sold.place,
        "session": session,
    }


def _pattern(catalogue: Catalogue, name: str) -> Pattern | None:
    return None if name == NONE else catalogue.pattern(name)


class _Times:
    """Minutes of work by stage in so many pieces; each pattern is asked once how long one takes."""

    def __init__(self, catalogue: Catalogue, settings: Mapping[str, str]) -> None:
        self._catalogue, self._settings = catalogue, settings
        self._each: dict[str, tuple[tuple[str, int], ...]] = {}

    def of(self, pattern: Pattern | None, pieces: int) -> Mapping[str, int]:
        """Of a pattern that says but the whole, all under a word of its own."""
        if pattern is None or not pieces:
            return {}
        if pattern.name not in self._each:
            time = piece_time(self._catalogue, self._settings, pattern)
            self._each[pattern.name] = time.by_stage or (("in all", time.minutes),)
        return {stage: many * pieces for stage, many in self._each[pattern.name]}
