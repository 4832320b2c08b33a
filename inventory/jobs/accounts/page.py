"""The page of the shop put together: orders, what can be made, what runs out, what is due in, money."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction

from inventory.catalogue import Catalogue, Kit, fold
from inventory.jobs.orders.standing.due_soon import DueSoon, due_soon
from inventory.jobs.stock.makeable import makeable, sold_for
from inventory.jobs.stock.shelf import Filters, ShelfRow, shelf
from inventory.ledger.bottles.shelf_life import use_by
from inventory.ledger.lateness import days_late
from inventory.ledger.shop import Shop
from inventory.making.bom import drill_of
from inventory.measures import plural, show_amount, show_day, show_measurable, show_money
from inventory.measures.dates import days_in, month_of
from inventory.measures.decimals import Exact
from inventory.reports.accounts.earned import Earned
from inventory.reports.accounts.goals import GoalStand
from inventory.reports.accounts.page import (
    PageBottle,
    PageMake,
    PageMoney,
    PageOrder,
    PageParcel,
    PagePart,
    ShopPage,
)

AHEAD = timedelta(days=120)
"""How far orders and best-before days are looked for."""
RUNS_OUT = 28
"""Days: what lasts no longer at the usual rate is shown with what is short."""


@dataclass(frozen=True, slots=True)
class PagePast:
    """What the page needs of the past. used: thousandths by folded part in the last `days` days; worth: minor units.

    months: first days, the present one's last; by_month: thousandths used by folded part in each of them.
    """

    used: Mapping[str, int]
    days: int
    earned: Earned
    worth: int
    goals: Sequence[GoalStand] = ()
    months: Sequence[date] = ()
    by_month: Mapping[str, Sequence[int]] = field(default_factory=dict)


def shop_page(shop: Shop, past: PagePast, *, private: bool) -> ShopPage:
    """private: without money and customers, for a wall others look at."""
    rows = [
        row for row in shelf(shop.catalogue, shop.book, Filters(), shop.today) if row.part.kind != "piece"
    ]
    parts = tuple(_part(shop.catalogue, row, past) for row in rows)
    soon = due_soon(shop, shop.today + AHEAD)
    made = makeable(shop, shop.settings, None, one_more=False, quickly=True)
    return ShopPage(
        shop.today,
        tuple(_order(shop, one, private=private) for one in soon),
        tuple(PageMake(one.count, f"{one.pattern}, {one.plating}", one.blank) for one in made.pieces),
        tuple(one for one in parts if one.short or (one.days_left is not None and one.days_left <= RUNS_OUT)),
        parts,
        tuple(_bottles(shop, rows)),
        tuple(_parcels(shop)),
        None if private else _money(shop, past),
        made.proven,
    )


def _part(catalogue: Catalogue, row: ShelfRow, past: PagePast) -> PagePart:
    part, unit = row.part, row.part.unit
    used = past.used.get(fold(part.name), 0)
    days = int(Fraction(max(row.free, 0) * past.days, used)) if used and past.days else None
    bored = _bored(catalogue, part.detail) if isinstance(part.detail, Kit) else ()
    fits = filter(None, (row.family, row.plating, row.tube, row.drill and f"drill {row.drill}", *bored))
    by_month = tuple(past.by_month.get(fold(part.name), ()))
    return PagePart(
        part.name,
        part.kind,
        show_measurable(row.balance.on_hand, unit, down=True),
        show_measurable(row.free, unit, down=True),
        "" if part.level is None else show_amount(part.level, unit),
        show_amount(row.balance.due_in, unit) if row.balance.due_in else "",
        row.low,
        days,
        part.drawer,
        ", ".join(fits),
        by_month if any(many > 0 for many in by_month) else (),
        _used(past, unit, by_month),
    )


def _used(past: PagePast, unit: str, by_month: Sequence[int]) -> str:
    """What was used in all those months, and in which most of it."""
    if sum(by_month) <= 0:
        return ""
    said = f"used {show_measurable(sum(by_month), unit)} in {plural(len(by_month), 'month')}"
    most = [month for month, many in zip(past.months, by_month, strict=True) if many == max(by_month)]
    return f"{said}, most in {most[0]:%b}" if len(most) == 1 else said


def _bored(catalogue: Catalogue, kit: Kit) -> Iterable[str]:
    """The drills a kit's barrels are bored with, and the tubes that go into them."""
    barrels = catalogue.family(kit.family).barrels
    drills = [drill_of(catalogue, barrel) for barrel in barrels]
    tubes = [catalogue.part(barrel.tube).name for barrel in barrels if barrel.tube]
    words = [f"drill {drill.designation}" for drill in drills if drill]
    return dict.fromkeys(
        [*words, *(name if fold("tube") in fold(name) else f"tube {name}" for name in tubes)]
    )


def _order(shop: Shop, one: DueSoon, *, private: bool) -> PageOrder:
    order = one.order
    what = f"{order.count} × {order.pattern}, {' or '.join(order.platings)}, {order.blank}"
    lacks = tuple(
        f"{show_measurable(lack.quantity, lack.part.unit)} {lack.part.name}" for lack in one.lacking
    )
    price = "" if private or order.price is None else f"{show_money(order.price, shop.currency)} each"
    return PageOrder(
        "" if private else order.name,
        "" if private else order.customer,
        order.due,
        one.standing.late or order.due < shop.today,
        what,
        f"{'enquiry' if order.state == 'wish' else order.state}, {days_in(one.standing.stands, shop.today.year)}",
        lacks,
        price,
    )


def _bottles(shop: Shop, rows: Iterable[ShelfRow]) -> Iterable[PageBottle]:
    found = []
    for row in rows:
        for lot in shop.book.lots_of(row.part.name):
            last = use_by(row.part, lot)
            if last is not None and last <= shop.today + AHEAD:
                held = show_measurable(lot.quantity, row.part.unit, down=True)
                found.append(PageBottle(row.part.name, held, last, last < shop.today))
    return sorted(found, key=lambda one: (one.best_before, one.name))


def _parcels(shop: Shop) -> Iterable[PageParcel]:
    for due in shop.book.due:
        part = shop.catalogue.part(due.part)
        late = bool(days_late(due, shop.today))
        yield PageParcel(part.name, show_amount(due.quantity, part.unit), due.supplier, due.expected_on, late)


def _money(shop: Shop, past: PagePast) -> PageMoney:
    coin, exact = shop.currency, Exact(shop.currency.exponent)
    months = past.earned.by("month")
    now = f"{shop.today:%Y-%m}"
    prices = sorted((shop.catalogue.pattern(key).name, price) for key, price in sold_for(shop).items())
    return PageMoney(
        show_money(past.worth, coin),
        show_money(months[now].left if now in months else 0, coin),
        show_money(past.earned.total.left, coin),
        coin.code,
        tuple(
            (
                month_of(name),
                exact.money(sums.sold) or exact.amount(0),
                exact.money(sums.left) or exact.amount(0),
            )
            for name, sums in months.items()
        ),
        tuple((name, show_money(price, coin)) for name, price in prices),
        tuple(
            (
                one.goal.name,
                f"{show_money(one.reached, coin).rsplit(' ', 1)[0]} of {show_money(one.goal.amount, coin)}",
                show_day(one.goal.by, shop.today.year),
            )
            for one in past.goals
        ),
    )
