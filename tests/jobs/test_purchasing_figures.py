"""What a list asks of its suppliers and what placing it books: terms, sums, claims, figure by figure, by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest

from inventory.buying import (
    Basket,
    BasketLine,
    PackOffer,
    PriceBreak,
    SupplierOrder,
    SupplierTerms,
    Unfilled,
    Want,
)
from inventory.catalogue import Offer, Order, PriceStep, Tool, fold
from inventory.errors import AlreadyBooked, BadInput
from inventory.jobs.purchasing.demand import Past, going_off, inspections, made_of, pace, unclaimed
from inventory.jobs.purchasing.market import offers_of, sellers_of
from inventory.jobs.purchasing.parcels import check_rows
from inventory.jobs.purchasing.placing import Sum, place, sums, together
from inventory.jobs.purchasing.shopping import _already, _complete, _single, _warnings
from inventory.ledger.documents.booked import Bought
from inventory.ledger.sessions import Happened, Outcome
from inventory.reports.purchasing.parcels import Arrived
from inventory.reports.purchasing.placed import Placed
from jobs import goods
from jobs.shop import TODAY, Stock, order, plenty, shop

NEAR, FAR = goods.SUPPLIERS
DAY = timedelta(days=1)


def test_what_goes_to_each_supplier() -> None:
    """Free postage from 60.00 on; what is missing to a minimum order; all of it in the shop's coin, rounded up."""
    known = goods.catalogue()
    known = replace(known, suppliers={**known.suppliers, fold(FAR.name): replace(FAR, minimum_order=2000)})
    there = shop(known=known)
    tubes = Placed(NEAR.name, goods.TUBE, 10_000, 14, 400)
    kits = Placed(FAR.name, goods.CHROME_KIT, 5000, 1, 1501)
    assert sums(there, [tubes, kits, replace(tubes, packs=1, price=399)]) == (
        Sum(NEAR.name, 5999, 490, 0),
        Sum(FAR.name, 1501, 1500, 499),
    )
    full = sums(there, [replace(tubes, packs=15), replace(kits, packs=2, price=1000)])
    assert full == (Sum(NEAR.name, 6000, 0, 0), Sum(FAR.name, 2000, 1500, 0))
    assert together(there, sums(there, [kits])) == 2701  # 3,001 at 0.9 is 2,700.9
    assert together(there, full) == 6000 + 3150


def test_a_placed_list_is_due_in_and_claimed_by_who_waits_first() -> None:
    """Five kits, the four that are to buy claimed by day; a price of 15.01 at 0.9 is 13.51, here in thirty days."""
    stock = plenty()
    stock.orders = [order("Late", due=TODAY + 9 * DAY), order("Soon", due=TODAY + 3 * DAY)]
    stock.claim("Late", goods.CHROME_KIT, 3000, "to buy")
    stock.claim("Soon", goods.CHROME_KIT, 1000, "to buy")
    stock.claim("Soon", goods.TUBE, 1000, "to buy")
    rows = (
        Placed(FAR.name, goods.CHROME_KIT, 1000, 2, 1501),
        Placed(FAR.name, goods.CHROME_KIT, 1000, 3, 1501),
    )
    made = place(shop(stock), rows)
    assert [(one.tag, one.expected_on) for one in made.purchases] == [
        ("purchase 1", TODAY + 30 * DAY),
        ("purchase 2", TODAY + 30 * DAY),
    ]
    assert [(one.quantity, one.cost) for one in made.lines if one.account == "due"] == [
        (2000, 2702),
        (3000, 4053),
    ]
    assert [(one.order, one.purchase, one.quantity) for one in made.lines if one.account == "due claim"] == [
        ("Soon", "purchase 1", 1000),
        ("Late", "purchase 1", 1000),
        ("Late", "purchase 2", 2000),
    ]
    assert [one.quantity for one in made.lines if one.account == "to buy"] == [-1000, -1000, -2000]


def test_a_list_is_placed_once() -> None:
    """The same packs of one supplier; a pack more, or half of the list, is another list."""
    row = Placed(FAR.name, goods.CHROME_KIT, 5000, 2, 1500)
    bought = Bought(3, TODAY, fold(FAR.name), fold(goods.CHROME_KIT), "", 5000, 10_000)
    with pytest.raises(AlreadyBooked, match="entry 3"):
        place(shop(), [row], [bought])
    again = place(shop(), [row], [bought], again=True)
    first, other = place(shop(), [row], []), place(shop(), [row])
    assert len({one.fingerprint for one in (again, first, other)}) == 3
    assert place(shop(), [replace(row, packs=3)], [bought]).lines
    assert place(shop(), [row], [bought, bought]).lines
    for bad in (replace(row, packs=0), replace(row, pack=0)):
        with pytest.raises(BadInput, match="orders nothing"):
            place(shop(), [bad])
    assert place(shop(), [replace(row, packs=1, pack=1)]).lines
    with pytest.raises(BadInput, match="no exchange rate"):
        place(shop(settings={}), [row])


def test_terms_of_who_sells() -> None:
    """By air in another coin, or from ten days on; left out without a rate; noted where nobody knows how long."""
    some = (
        replace(NEAR, name="Nine", lead_days=9),
        replace(NEAR, name="Ten", lead_days=10, minimum_order=700),
        replace(FAR, name="Coin", lead_days=3),
        replace(NEAR, name="Never", lead_days=None, currency=""),
        replace(FAR, name="Out", currency="GBP"),
    )
    notes: list[str] = []
    sellers, rates = sellers_of(shop(), some, notes)
    assert {name: one.hazard_air for name, one in sellers.items()} == {
        "Nine": False,
        "Ten": True,
        "Coin": True,
        "Never": False,
    }
    ten = sellers["Ten"]
    assert (ten.lead_days, ten.postage, ten.free_from, ten.minimum_order) == (10, 490, 6000, 700)
    assert {code: float(rate) for code, rate in rates.items()} == {"EUR": 1.0, "USD": 0.9}
    assert [note.split()[0] for note in notes] == ["Never", "Out"]


def test_steps_that_rise_are_not_used() -> None:
    """4.00, 4.00 from 2, 5.00 from 5 (dearer, noted), 3.00 from 9; what is sold out is no offer."""
    steps = tuple(PriceStep(packs, price) for packs, price in ((1, 400), (2, 400), (5, 500), (9, 300)))
    some = (
        Offer(NEAR.name, goods.TUBE, 10_000, steps, "T", at_most=1),
        Offer(NEAR.name, goods.TUBE, 1000, steps[:1], at_most=0),
        Offer(FAR.name, goods.TUBE, 1000, steps[:1]),
    )
    there = replace(shop(), offers={fold(goods.TUBE): some})
    notes: list[str] = []
    sellers, _ = sellers_of(there, [NEAR], notes)
    (found,) = offers_of(there, [fold(goods.TUBE), fold(goods.TUBE)], sellers, notes)
    assert [(one.from_packs, one.price) for one in found.steps] == [(1, 400), (2, 400), (9, 300)]
    assert (found.pack, found.code, found.at_most, found.price_group) == (10_000, "T", 1, None)
    assert notes == [f"{goods.TUBE} at {NEAR.name}: the step from 5 is dearer than the one before; not used."]


def test_the_same_row_twice_is_refused() -> None:
    """Another pack, lot, or part it stands for is another row."""
    row = Arrived(goods.TUBE, 1000)
    check_rows([row, replace(row, pack=1000), replace(row, lot="b"), replace(row, instead_of=goods.REFILL)])
    with pytest.raises(BadInput, match="twice"):
        check_rows([row, replace(row, good=2000)])


def test_what_wore_the_tools() -> None:
    """Of four handed over three were made in a session that began five; those are counted once."""
    one = Outcome("Reed", "Turnstone gloss", goods.CHROME_KIT, goods.OLIVE, 3, {"turn": 2})
    found = made_of(
        [(order("Reed", 4), TODAY), (order("Fair", 2), TODAY)],
        [Happened(1, TODAY - DAY, (one,), ())],
    )
    assert [(made.name, made.count, day) for made, day in found] == [
        ("Reed", 5, TODAY - DAY),
        ("Reed", 1, TODAY),
        ("Fair", 2, TODAY),
    ]
    assert [
        made.name for made, _ in made_of([(order("Reed", 3), TODAY)], [Happened(1, TODAY, (one,), ())])
    ] == ["Reed"]


def test_what_goes_off_by_a_day() -> None:
    """Before the day, not on it; the first of them; what is free then, and due in."""
    stock = Stock()
    for quantity, days in ((9000, 4), (5000, 2), (700, 6)):
        stock.lot(goods.GLUE, quantity, use_by=TODAY + days * DAY)
    stock.coming(goods.GLUE, 1000, TODAY)
    there, glue = shop(stock), goods.catalogue().part(goods.GLUE)
    assert going_off(there, glue, TODAY + 4 * DAY) == (5000, TODAY + 2 * DAY)
    assert going_off(there, glue, TODAY + 5 * DAY) == (14_000, TODAY + 2 * DAY)
    assert going_off(there, glue, TODAY + 2 * DAY) == (0, None)
    assert unclaimed(there, glue, TODAY + 5 * DAY) == 1700


def test_tools_are_looked_at_from_four_fifths_of_their_life() -> None:
    """One hole a piece: 8 of 10, not 7; made since it came, that day included."""
    known = goods.catalogue()
    worn = known.with_parts(replace(known.part(goods.DRILL), detail=Tool("drill", "27/64", 10)))
    there = shop(plenty().without(goods.DRILL), worn)
    assert inspections(there, Past(made=((order("a", 9), TODAY),))) == ()
    stock = plenty().without(goods.DRILL)
    stock.lot(goods.DRILL, 1000, received_on=TODAY)

    def seen(*made: tuple[Order, int]) -> list[int]:
        past = Past(made=tuple((one, TODAY + days * DAY) for one, days in made))
        return [one.uses for one in inspections(shop(stock, worn), past)]

    assert seen((order("a", 7), 0)) == []
    assert seen((order("a", 7), 0), (order("b", 1), 1), (order("c", 5), -1)) == [8]


def test_pace_is_told_in_the_shortest_time_that_takes_a_whole_one() -> None:
    tube = goods.catalogue().part(goods.TUBE)
    rates = Fraction(1000, 7), Fraction(1000, 8), Fraction(1000, 30), Fraction(1000, 31)
    assert [pace(rate, tube) for rate in rates] == ["1 a week", "4 a month", "1 a month", "12 a year"]


def basket(goods_: int, postage: int, total: int = 900, unfilled: int = 0, *, bills: bool = True) -> Basket:
    """One line of tubes at one supplier."""
    pack = PackOffer("k", NEAR.name, goods.TUBE, 10_000, (PriceBreak(1, goods_),))
    line = BasketLine(pack, 1, goods_, goods_, None, ())
    whole = goods_ + postage
    bill = SupplierOrder(
        SupplierTerms(NEAR.name, 5, "EUR"), (line,), goods_, postage, Fraction(whole), TODAY + 5 * DAY
    )
    missing = tuple(Unfilled(Want(goods.REFILL, 1000), "nobody offers it") for _ in range(unfilled))
    sums_ = Fraction(goods_), Fraction(postage), Fraction(total)
    return Basket((bill,) if bills else (), missing, *sums_, True, Fraction(total), 0.0)


def test_postage_above_the_goods_is_told() -> None:
    """4.91 on 4.90; as much as the goods is not."""
    told = "the postage is more than the goods"
    assert any(told in one for one in _warnings(shop(), basket(490, 491)))
    assert not any(told in one for one in _warnings(shop(), basket(490, 490)))


def test_what_is_due_in_already_is_told() -> None:
    """Late from the day after; of another part nothing."""
    for days, late in ((0, False), (-1, True)):
        stock = plenty()
        stock.coming(goods.TUBE, 10_000, TODAY + days * DAY)
        stock.coming(goods.REFILL, 1000, TODAY)
        (told,) = _already(shop(stock), [goods.TUBE])
        assert told.startswith(f"{goods.TUBE}: 10 already due in from {NEAR.name}, expected ")
        assert ("(late: ask)" in told) is late


def test_a_list_a_person_would_write_is_told_where_it_serves_as_much() -> None:
    best = basket(500, 490, unfilled=1)
    assert _complete(basket(500, 490, 1200, 1), best) == 1200
    assert _complete(basket(500, 490, 1200, 2), best) is None
    assert _complete(None, best) is None
    assert _single(basket(500, 490, 1200), best) == (NEAR.name, Fraction(1200))
    assert _single(basket(500, 490, 1200, bills=False), best) is None


def test_pace_is_told_to_the_nearest_and_is_never_nothing() -> None:
    """Rounded up, a little over one a week would be said to be two."""
    tube = goods.catalogue().part(goods.TUBE)
    weekly = Fraction(1090), Fraction(1499), Fraction(1500), Fraction(4090)
    assert [pace(one / 7, tube) for one in weekly] == ["1 a week", "1 a week", "2 a week", "4 a week"]
    assert [pace(one / 365, tube) for one in (Fraction(1), Fraction(1499))] == ["1 a year", "1 a year"]
