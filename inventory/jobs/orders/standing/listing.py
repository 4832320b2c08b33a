"""Orders asked for and promised, and how each stands."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from inventory.catalogue import STALL, Order, find, fold
from inventory.errors import KitdrawerError
from inventory.jobs.orders.finished import made_for
from inventory.jobs.orders.order_check import OrderReport
from inventory.jobs.orders.reserving import in_turn
from inventory.jobs.orders.standing.overdue_parcels import overdue
from inventory.ledger import Claim
from inventory.ledger.claims import claims_of
from inventory.ledger.lateness import counted_on
from inventory.ledger.shop import Shop
from inventory.measures import plural, show_date
from inventory.reports.purchasing.demands import Overdue

OPEN = ("wish", "promised")


@dataclass(frozen=True, slots=True)
class Standing:
    """One order, its claims, and a few words on how it stands. late: a promise that cannot be kept as things are.

    report: how a request was judged, None where it was not.
    """

    order: Order
    claims: tuple[Claim, ...]
    stands: str
    late: bool
    report: OrderReport | None = None


def standings(
    shop: Shop, name: str = "", *, everything: bool = False, until: date = date.max
) -> tuple[Standing, ...]:
    """One order by name (UnknownName where there is none), or the open ones, earliest due first; until: due by then.

    Requests are judged in turn, the earliest due first, each once those before it have taken their parts. One of the
    stall is a plan that was undone: nobody waits for it, so it takes nothing and is only shown with everything.
    """
    every = shop.book.orders.values()
    chosen = [find(shop.book.orders, "order", name)] if name else [o for o in every if everything or _open(o)]
    chosen = [one for one in chosen if one.due <= until]
    requests = [one for one in every if one.state == "wish" and shop.today <= one.due <= until]
    if any(one.state == "wish" for one in chosen):
        asked = [one for one in requests if _open(one) or one in chosen]
        answers = {fold(order.name): report for order, report in in_turn(shop, asked)}
    else:
        answers = {}
    late: dict[str, list[Overdue]] = {}
    for wait in overdue(shop):
        late.setdefault(fold(wait.order.name), []).append(wait)
    chosen.sort(key=lambda one: (one.due, fold(one.name)))
    return tuple(_standing(shop, one, answers, late.get(fold(one.name), ())) for one in chosen)


def _open(order: Order) -> bool:
    return order.state in OPEN and not (order.customer == STALL and order.state == "wish")


def _answer(report: OrderReport | KitdrawerError) -> str:
    return report.message if isinstance(report, KitdrawerError) else report.verdict


def _standing(
    shop: Shop,
    order: Order,
    answers: Mapping[str, OrderReport | KitdrawerError],
    late: Iterable[Overdue],
) -> Standing:
    claims = claims_of(shop.book, order.name)
    if order.state == "promised":
        return _promised(shop, order, claims, tuple(late))
    report = answers.get(fold(order.name))
    if report is None:
        return Standing(order, claims, "past its day" if order.state == "wish" else order.state, late=False)
    judged = None if isinstance(report, KitdrawerError) else report
    return Standing(order, claims, _answer(report), late=False, report=judged)


def _promised(shop: Shop, order: Order, claims: tuple[Claim, ...], waits: tuple[Overdue, ...]) -> Standing:
    past = ", overdue" if order.due < shop.today else ""
    done = made_for(shop, order.name)
    gone = f"{order.handed} of {order.whole} handed over, " if order.handed else ""
    if done >= order.count:
        return Standing(order, claims, f"{gone}finished: hand it over{past}", late=False)
    begun = f"{done} of {order.count} finished, " if done else ""
    words = f"{gone}{begun}{_waits_for(shop, claims, waits)}{past}"
    return Standing(order, claims, words, bool(past or waits))


def _waits_for(shop: Shop, claims: tuple[Claim, ...], waits: tuple[Overdue, ...]) -> str:
    missing = sum(1 for claim in claims if claim.account == "to buy")
    coming = {claim.purchase for claim in claims if claim.account == "due claim"}
    said = [f"{missing} to buy"] if missing else []
    if waits:
        worst = max(waits, key=lambda wait: wait.counted)
        anew = "order it again" if any(wait.anew for wait in waits) else "ask"
        said.append(f"parcel {plural(worst.days, 'day')} late: {anew}")
    elif coming and not missing:
        rows = [row for row in shop.book.due if row.purchase in coming]
        days = [day for row in rows if (day := counted_on(shop.book, row, shop.today))]
        said.append(f"due in {show_date(max(days))}" if days else "due in")
    return ", ".join(said) or "all set aside"
