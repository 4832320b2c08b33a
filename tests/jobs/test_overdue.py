"""Promises that wait for late parcels: which of them, and whether ordering anew helps; what is due in is taken once."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from inventory.catalogue import Offer, PriceStep, Supplier, fold
from inventory.jobs.orders.reserving import in_turn
from inventory.jobs.orders.standing.listing import standings
from inventory.jobs.orders.standing.overdue_parcels import movable, overdue
from inventory.ledger import Balance, Claim, DueIn
from inventory.ledger.shop import Shop
from inventory.reports.purchasing.demands import by_line, saved
from jobs import goods

from .shop import TODAY, order, plenty, shop

SLOW, QUICK, VAGUE = "Slow", "Quick", "Vague"


def waiting(due: int, late: int, *sellers: tuple[str, int | None], past: tuple[int, ...] = ()) -> Shop:
    """An order due in so many days waits for 2 of 3 kits, so many days late; others sell them, with lead days."""
    known = goods.catalogue()
    suppliers = {fold(name): Supplier(name, days) for name, days in ((SLOW, 40), *sellers)}
    here = shop(plenty(), replace(known, suppliers={**known.suppliers, **suppliers}))
    names = [SLOW, *(name for name, _ in sellers), "gone"]
    offers = tuple(Offer(name, goods.CHROME_KIT, 1000, (PriceStep(1, 400),)) for name in names)
    one = replace(order("A", 2), due=TODAY + timedelta(days=due), state="promised")
    row = DueIn(7, goods.CHROME_KIT, SLOW, 3000, 1001, TODAY - timedelta(days=late), 2000, 3000)
    claims = (
        Claim("A", goods.CHROME_KIT, "due claim", 2000, purchase=7),
        Claim("A", goods.CHROME_KIT, "to buy", 1000),
        Claim("A", goods.CHROME_KIT, "claim", 1000),
    )
    book = replace(
        here.book, orders={"a": one}, claims=claims, due=(row,), late={fold(SLOW): past} if past else {}
    )
    return replace(here, book=book, offers={fold(goods.CHROME_KIT): offers})


@pytest.mark.parametrize(
    ("due", "late", "sellers", "anew"),
    [
        (20, 0, [(QUICK, 3)], "in time"),
        (20, 9, [(QUICK, 3)], "in time"),
        (6, 9, [(QUICK, 3)], 3),
        (6, 9, [(QUICK, 7)], 7),
        (6, 9, [(QUICK, 10)], None),
        (6, 9, [(VAGUE, None)], None),
        (3, 1, [(QUICK, 3)], 3),
        (3, 1, [(QUICK, 4)], None),
        (-30, 9, [(QUICK, 8)], 8),
        (-30, 9, [(QUICK, 9)], None),
        (-30, 2, [(QUICK, 1)], None),
    ],
)
def test_what_helps(
    due: int, late: int, sellers: list[tuple[str, int | None]], anew: int | str | None
) -> None:
    """A parcel 9 days late is counted on in 9 days, one 1 day late in 6. Anew: in time, or sooner than a late one."""
    here = waiting(due, late, *sellers)
    waits = overdue(here)
    if anew == "in time":
        assert waits == ()
        assert len(movable(here)) == 1
        return
    (one,) = waits
    assert one.counted == TODAY + timedelta(days=9 if late == 9 else 7 - late)
    assert one.anew == (None if anew is None else TODAY + timedelta(days=int(anew)))
    assert not one.again
    assert len(movable(here)) == 2
    assert standings(here)[0].late


def test_of_several_late_parcels_the_last_to_come_is_told() -> None:
    """One nine days late is counted on in nine, one a day late in six: the order waits for the former."""
    here = waiting(3, 9)
    (row,), claims = here.book.due, here.book.claims
    less = replace(row, purchase=8, expected_on=TODAY - timedelta(days=1))
    book = replace(here.book, due=(less, row), claims=(*claims, replace(claims[0], purchase=8)))
    (one,) = standings(replace(here, book=book))
    assert "parcel 9 days late: ask" in one.stands


def test_who_may_be_asked() -> None:
    """Only suppliers the list keeps to; who is late with it only where nobody else helps."""
    here = waiting(6, 9, (QUICK, 3))
    assert [one.anew for one in overdue(here, {fold(SLOW)})] == [None]
    known = here.catalogue.suppliers
    again = replace(
        here, catalogue=replace(here.catalogue, suppliers={**known, fold(SLOW): Supplier(SLOW, 2)})
    )
    assert [(one.anew, one.again) for one in overdue(again)] == [(TODAY + timedelta(days=3), False)]
    assert [one.again for one in overdue(again, {fold(SLOW)})] == [True]


def test_whole_packs_are_cancelled() -> None:
    """Two of a pack of three: the pack is what can be cancelled, and no more than is due."""
    (waits,) = by_line(overdue(waiting(6, 9, (QUICK, 3))))
    assert saved(waits) == 1001
    (one,) = waits
    assert saved((replace(one, row=replace(one.row, pack=1000)),)) == 667


def test_what_is_due_in_is_taken_once() -> None:
    """Four kits come: the first of two requests for three counts on them, the second does not."""
    stock = plenty().without(goods.CHROME_KIT)
    here = shop(stock)
    due = (DueIn(1, goods.CHROME_KIT, "Saltmarsh Turning", 4000, 1200, TODAY + timedelta(days=2), 0),)
    balances = {**here.book.balances, fold(goods.CHROME_KIT): Balance(due_in=4000)}
    here = replace(here, book=replace(here.book, due=due, balances=balances), offers={})
    requests = [
        replace(order(name, 3), due=TODAY + timedelta(days=days)) for name, days in (("B", 20), ("A", 19))
    ]
    answers = {one.name: getattr(report, "verdict", None) for one, report in in_turn(here, requests)}
    assert answers == {"A": "after buying", "B": "cannot"}
