"""Ways of buying that are tried on the same seasons: three that people go by, and the program's own lists.

The three: buy when something is out; whatever fell below its level from who is cheapest line by line; all from one
supplier as far as that one has it. The program's lists see the same shelf as a book.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from datetime import date, timedelta
from fractions import Fraction
from typing import TYPE_CHECKING

from season_bench import DOLLAR, Order, Season, unit_price

if TYPE_CHECKING:
    from season_world import Ask

    from inventory.catalogue import Offer
    from inventory.catalogue import Order as Order_
    from inventory.jobs.ahead.levels import DemandPast
    from inventory.jobs.purchasing.demand import Past
    from inventory.ledger import Book as Book_
    from inventory.ledger import Lot
    from inventory.ledger.shop import Shop
    from inventory.reports.purchasing.shopping import Shopping

FIRST = date(2026, 11, 30)
TYPED = {"kit": 2000, "blank": 3000, "tube": 8000}
"""Levels a maker types where the sample says none; of refills 4, of other supplies a fifth of a bottle."""


def level_of(season: Season, part: str) -> int:
    """The typed level of a part."""
    one = season.catalogue.parts[part]
    if one.level is not None:
        return one.level
    detail = one.detail
    if one.kind == "supply":
        net = getattr(detail, "net", None)
        return net // 5 if net else 4000
    return TYPED.get(one.kind, 0)


def short(season: Season) -> dict[str, int]:
    """What open orders lack beyond the shelf and what is coming, thousandths."""
    need: dict[str, Fraction] = defaultdict(Fraction)
    for ask in season.open:
        taken = season.takes(ask.what)
        for part in taken.parts():
            need[part] += ask.left * (taken.lathe.get(part, 0) + taken.late.get(part, 0))
    for ask in season.open[:1]:
        for part, quantity in season.takes(ask.what).evening.items():
            need[part] += quantity
    lacks = {part: -(-need[part] // 1) - season.on_hand(part) - season.coming(part) for part in need}
    return {part: int(quantity) for part, quantity in lacks.items() if quantity > 0}


def below(season: Season) -> dict[str, int]:
    """What is short, and of parts this shop uses what lacks to their levels."""
    lacks = short(season)
    for part in {part for taken in season.recipes.values() for part in taken.parts()}:
        held = season.on_hand(part) + season.coming(part)
        more = level_of(season, part) - held
        if part in lacks:
            lacks[part] += level_of(season, part)
        elif more > 0:
            lacks[part] = more
    return lacks


def cheapest(season: Season, part: str, quantity: int, only: str = "") -> Order | None:
    """The offer and packs that cost least for the quantity by themselves, postage not looked at."""
    best: tuple[Fraction, Order] | None = None
    for offer in season.offers.get(part, ()):
        if only and offer.supplier.casefold() != only:
            continue
        packs = max(-(-quantity // offer.pack), offer.steps[0].from_packs)
        reached = [step.price for step in offer.steps if step.from_packs <= packs][-1]
        coin = DOLLAR if season.suppliers[offer.supplier.casefold()].currency == "USD" else 1
        if best is None or packs * reached * coin < best[0]:
            best = Fraction(packs * reached * coin), (offer, packs)
    return best[1] if best else None


def _from_anybody(season: Season, lacks: Mapping[str, int]) -> list[Order]:
    found = (cheapest(season, part, quantity) for part, quantity in lacks.items())
    return [one for one in found if one]


def when_out(season: Season) -> Sequence[Order]:
    """Buy what orders lack, and a bottle of what is empty."""
    lacks = short(season)
    for part in {part for taken in season.recipes.values() for part in taken.parts()}:
        if (
            season.catalogue.parts[part].kind == "supply"
            and season.on_hand(part) + season.coming(part) < 1000
        ):
            lacks.setdefault(part, 1000)
    return _from_anybody(season, lacks)


def cheapest_line(season: Season) -> Sequence[Order]:
    """Fill up to the levels, each line where it is cheapest."""
    return _from_anybody(season, below(season))


def one_supplier(season: Season) -> Sequence[Order]:
    """Fill up to the levels from the supplier who has most of it; the rest where it is cheapest."""
    sells: dict[str, int] = defaultdict(int)
    for part in {part for taken in season.recipes.values() for part in taken.parts()}:
        for supplier in {offer.supplier.casefold() for offer in season.offers.get(part, ())}:
            sells[supplier] += 1
    usual = max(sells, key=lambda name: (sells[name], name), default="")
    lacks = below(season)
    found = (cheapest(season, part, q, usual) or cheapest(season, part, q) for part, q in lacks.items())
    return [one for one in found if one]


def todays_list(levels: Callable[[Season], Mapping[str, int]]) -> Callable[[Season], Sequence[Order]]:
    """The program's list of the day, with these levels by folded part name."""

    def buys(season: Season) -> Sequence[Order]:
        from inventory.jobs.purchasing.shopping import ShoppingRequest, shopping

        shop, past = picture(season, levels(season)), past_of(season)
        until = shop.today + timedelta(weeks=8)
        return lines_of(season, shopping(shop, past, ShoppingRequest(until, time_limit=5)))

    return buys


def typed(season: Season) -> Mapping[str, int]:
    """The levels a maker types."""
    return {part: level_of(season, part) for taken in season.recipes.values() for part in taken.parts()}


def lines_of(season: Season, found: Shopping) -> list[Order]:
    """The list as offers and packs."""
    done: list[Order] = []
    for line in found.basket.lines:
        key = line.offer.part.casefold()
        at = int(line.offer.key.rsplit("/", 1)[1])
        done.append((season.offers[key][at], line.packs))
    return done


def today(season: Season) -> date:
    """The date of the day."""
    return FIRST + timedelta(days=season.day)


def picture(season: Season, levels: Mapping[str, int]) -> Shop:
    """The shelf as the program's book: orders promised earliest due first, needs as the program reckons them."""
    from dataclasses import replace

    from inventory.ledger.shop import Shop
    from inventory.measures import currency

    parts = {
        key: replace(part, level=levels.get(key)) if part.kind != "tool" else replace(part, level=None)
        for key, part in season.catalogue.parts.items()
    }
    catalogue = replace(season.catalogue, parts=parts)
    settings = {"rate USD": "0.92"}
    bare = Shop(catalogue, _book(season, {}), currency("EUR"), today(season), settings, _offers(season))
    claims = _needs(season, bare)
    return replace(bare, book=_book(season, claims))


def _offers(season: Season) -> Mapping[str, tuple[Offer, ...]]:
    from dataclasses import replace

    factor = season.price_now()
    if factor == 1:
        return {key: tuple(several) for key, several in season.offers.items()}
    return {
        key: tuple(
            replace(one, steps=tuple(replace(step, price=round(step.price * factor)) for step in one.steps))
            for one in several
        )
        for key, several in season.offers.items()
    }


def _needs(season: Season, shop: Shop) -> dict[str, dict[str, int]]:
    """By order what it takes of each part, with the spare starts the program would set aside for it."""
    from inventory.jobs.orders.needs import requirements
    from inventory.jobs.orders.requests import request_of, resolve

    found: dict[str, dict[str, int]] = {}
    for ask in sorted(season.open, key=lambda ask: (ask.due, ask.on)):
        if not ask.left:
            continue
        resolved = resolve(shop.catalogue, request_of(_order(ask, shop.today)), shop.today)
        plating, kits = resolved.kits[0]
        sums: dict[str, int] = defaultdict(int)
        for one in requirements(shop, resolved, plating, kits, 0.9).parts:
            if not one.tool:
                sums[one.part.name.casefold()] += one.need
        found[ask.name] = dict(sums)
    return found


def _order(ask: Ask, earliest: date = FIRST) -> Order_:
    from inventory.catalogue import Order

    pattern, plating, blank = ask.what
    due = max(FIRST + timedelta(days=ask.due), earliest)
    return Order(ask.name, pattern, blank, ask.left, due, (plating,), state="promised")


def _book(season: Season, needs: Mapping[str, Mapping[str, int]]) -> Book_:
    """Balances, lots, what is due in, and claims: the shelf first, then parcels, then to buy."""
    from inventory.ledger import Balance, Book, Claim, DueIn

    free = {part: season.on_hand(part) for part in season.catalogue.parts}
    rows = [
        DueIn(
            at,
            one.part,
            one.supplier,
            one.quantity,
            round(one.cost),
            FIRST + timedelta(days=one.expected),
            0,
            one.pack,
        )
        for at, one in enumerate(season.due, 1)
    ]
    left = [row.quantity for row in rows]
    claims: list[Claim] = []
    for order, by_part in needs.items():
        for part, need in by_part.items():
            aside = min(need, free[part])
            free[part] -= aside
            need -= aside
            if aside:
                claims.append(Claim(order, part, "claim", aside))
            for at, row in enumerate(rows):
                waits = min(need, left[at]) if row.part == part else 0
                if waits:
                    left[at] -= waits
                    need -= waits
                    claims.append(Claim(order, part, "due claim", waits, purchase=row.purchase))
            if need:
                claims.append(Claim(order, part, "to buy", need))
    from dataclasses import replace

    sums: dict[str, dict[str, int]] = defaultdict(lambda: defaultdict(int))
    for claim in claims:
        sums[claim.part][claim.account] += claim.quantity
    balances = {
        part: Balance(
            season.on_hand(part),
            sums[part]["claim"],
            season.coming(part),
            sums[part]["due claim"],
            sums[part]["to buy"],
        )
        for part in season.catalogue.parts
    }
    lots = _lots(season)
    due = tuple(replace(row, claimed=row.quantity - left[at]) for at, row in enumerate(rows))
    orders = {ask.name.casefold(): _order(ask) for ask in season.open}
    lateness: dict[str, list[int]] = defaultdict(list)
    for supplier, days in reversed(season.lateness):
        lateness[supplier.casefold()].append(days)
    late = {supplier: tuple(days[:200]) for supplier, days in lateness.items()}
    return Book(1, balances, lots, tuple(claims), due, orders, (), late)


def _lots(season: Season) -> Mapping[str, tuple[Lot, ...]]:
    from inventory.ledger import Lot

    number = 0
    lots: dict[str, tuple[Lot, ...]] = {}
    for part, several in season.lots.items():
        made = []
        for one in several:
            number += 1
            cost = round(unit_price(season, part) * one.quantity)
            made.append(Lot(number, part, "", FIRST + timedelta(days=one.came), one.quantity, cost))
        lots[part] = tuple(made)
    return lots


def past_of(season: Season) -> Past:
    """Use of the last 180 days."""
    from inventory.jobs.purchasing.demand import Past

    since = max(season.day - 180, 0)
    used: dict[str, int] = defaultdict(int)
    for day, part, quantity in season.used:
        if day >= since:
            used[part] += quantity
    first = min((day for day, _, _ in season.used), default=None)
    days = max(season.day - max(first, since), 28) if first is not None else 0
    return Past(dict(used), days)


def ahead_past(season: Season) -> DemandPast:
    """What was asked for, on how long notice, and when this shop went shopping."""
    from inventory.jobs.ahead.levels import DemandPast
    from inventory.ledger.asked import AskedFor

    asked = [
        AskedFor(FIRST + timedelta(days=one.on), *one.what, one.pieces, None, one.name, 4000)
        for one in season.history
        if not one.market
    ]
    trips = [FIRST + timedelta(days=day) for day in season.trips]
    return DemandPast(asked, trips, notice=[one.due - one.on for one in season.history if not one.market])


def ahead_of(*, today_only: bool = False, always: bool = False) -> Callable[[Season], Sequence[Order]]:
    """The program's list as `shopping` makes it where no level is typed: today's until the book tells enough.

    today_only: with worked-out levels, and nothing waits; always: looking ahead from the first day.
    """

    def buys(season: Season) -> Sequence[Order]:
        from inventory.jobs.ahead.history import tells_enough
        from inventory.jobs.purchasing.shopping import ShoppingRequest, shopping

        shop, past, ahead = picture(season, {}), past_of(season), ahead_past(season)
        enough = always or tells_enough(ahead.asked, shop.today)
        request = ShoppingRequest(shop.today + timedelta(weeks=8), time_limit=60, today_only=today_only)
        return lines_of(season, shopping(shop, past, request, ahead if enough else None))

    return buys
