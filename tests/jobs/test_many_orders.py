"""Many open orders: every job looks at each claim a fixed number of times, however many orders there are."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest

from inventory.catalogue import fold
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.promising import setting_aside
from inventory.jobs.orders.requests import request_of
from inventory.jobs.orders.reserving import without_claims
from inventory.jobs.orders.standing.listing import standings
from inventory.jobs.sessions.cut_plan import cut_together
from inventory.jobs.sessions.planning import Ask, plan
from inventory.jobs.sessions.session_needs import together
from inventory.ledger import Book, Claim
from inventory.ledger.availability import free_by_day
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.learned import LearnedFigures
from inventory.ledger.shop import Shop
from jobs.shop import DUE, TODAY, order, plenty, shop


class Watched(str):
    """The name of the order a claim is for, which counts how often it is looked at."""

    __slots__ = ()
    looks = 0

    def split(self, *how: object) -> list[str]:  # folding begins with it
        """As a text does, and counted."""
        Watched.looks += 1
        return str(self).split(*how)  # type: ignore[arg-type]  # passed on


def promised(many: int) -> Shop:
    """A shop with so many small promised orders, each with all it needs set aside."""
    orders = [order(f"Order {n}", 1 + n % 2, due=DUE + timedelta(days=n % 9)) for n in range(many)]
    draft = Draft(shop(plenty()).book)
    for one in orders:
        now = shop(draft.book)
        draft.add(setting_aside(now, one, check(now, request_of(one))))
    claims = tuple(Claim(Watched(c.order), *(c.part, c.account, c.quantity)) for c in draft.book.claims)
    known = {fold(one.name): replace(one, state="promised") for one in orders}
    book = draft.book
    return shop(Book(book.version, book.balances, book.lots, claims, (), known))


def planned(now: Shop) -> None:
    """A session of them all, with what it needs and how its blanks are cut."""
    report = plan(now, (), Ask((TODAY,)))
    (session,) = report.sessions
    together(report.shop, session.rows, LearnedFigures())
    cut_together(report.shop, session.rows)


def looked_at(now: Shop) -> None:
    """How each of them stands."""
    standings(now)


def freed(now: Shop) -> None:
    """The shop without each in turn."""
    for one in now.book.orders.values():
        without_claims(now, one.name)


def promisable(now: Shop) -> None:
    """What can be promised of each part."""
    for part in now.book.balances:
        free_by_day(now.book, now.catalogue.part(part), TODAY)


@pytest.mark.parametrize("job", [planned, looked_at, freed, promisable])
def test_a_claim_is_not_looked_at_for_every_order(job: Callable[[Shop], None]) -> None:
    """Three times as many orders: as many looks at each claim (with few orders and with many)."""
    looks = []
    for many in (4, 12):
        now = promised(many)
        Watched.looks = 0
        job(now)
        looks.append(Watched.looks / len(now.book.claims))
    assert looks[1] <= 1.2 * looks[0] + 1
    assert looks[1] <= 8
