"""Where missing parts come from, and the price of a piece worked out a second time."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import Catalogue, Offer, PriceStep, Supplier, fold
from inventory.jobs.orders.needs import PartNeed
from inventory.jobs.orders.sourcing import (
    MOST_SELLERS,
    Sourcing,
    cheapest,
    purchases_of,
    shorts,
    source,
    step_price,
)
from inventory.ledger.shop import Shop
from jobs import goods
from jobs.shop import DUE, TODAY, Stock, shop

SOON, LATER = TODAY + timedelta(days=2), TODAY + timedelta(days=10)


def needs(*wanted: tuple[str, int]) -> list[PartNeed]:
    """So many thousandths short of each part."""
    return [PartNeed(goods.catalogue().part(name), "assemble", quantity, 0) for name, quantity in wanted]


def sourced(stock: Stock, *wanted: tuple[str, int], due: date = DUE) -> Sourcing:
    """How these shorts are met."""
    return source(shop(stock), needs(*wanted), due)


def coming(done: Sourcing) -> list[tuple[int, date]]:
    """Quantity and day of what is due in."""
    return [(quantity, day) for _, quantity, day in done.due]


def test_shorts_of_one_part_are_one() -> None:
    """What several stages lack of a part is bought together; what is there is no short."""
    rows = [
        *needs((goods.STRIP, 500), (goods.TUBE, 0), (goods.STRIP, 250)),
        PartNeed(goods.catalogue().part(goods.TUBE), "glue", 5, 9),
    ]
    assert [(part.name, short) for part, short in shorts(rows)] == [(goods.STRIP, 750)]


def test_the_cheapest_in_time() -> None:
    """Three weeks leave one supplier; with six weeks the one with 3 a kit is cheaper than 4.50."""
    assert sourced(Stock(), (goods.CHROME_KIT, 5000)).buy[0].supplier == "Saltmarsh Turning"
    far = sourced(Stock(), (goods.CHROME_KIT, 5000), due=TODAY + timedelta(days=42)).buy[0]
    assert (far.supplier, far.packs, far.code, far.currency) == ("Far Shore Fittings", 1, "FS-7", "USD")
    assert (far.own_cost, far.cost) == (1500, 1350)


def test_whole_packs_are_bought() -> None:
    """One kit of a pack of five costs the pack, so the single one is cheaper; eleven tubes are two packs of ten."""
    assert (
        sourced(Stock(), (goods.CHROME_KIT, 1000), due=TODAY + timedelta(days=42)).buy[0].supplier
        == "Saltmarsh Turning"
    )
    (tubes,) = sourced(Stock(), (goods.TUBE, 11_000)).buy
    assert (tubes.quantity, tubes.packs, tubes.pack, tubes.cost) == (11_000, 2, 10_000, 800)


def test_no_more_than_a_supplier_has_left() -> None:
    """Eleven tubes are two packs; where one is left, or none, somebody else sells them or nobody."""
    known, part = shop(Stock()), goods.catalogue().part(goods.TUBE)
    (offer,) = known.offers[fold(goods.TUBE)]
    for left, bought in ((None, 1), (2, 1), (1, 0), (0, 0)):
        scarce = replace(known, offers={fold(goods.TUBE): (replace(offer, at_most=left),)})
        assert len(purchases_of(scarce, part, 11_000)) == bought
    five = Offer("x", goods.TUBE, 1000, (PriceStep(5, 90),), at_most=4)
    assert not five.has_left(1)
    assert replace(five, price_group="tubes").has_left(4)


def test_price_steps() -> None:
    """From ten packs on the lower price holds for all; under the first step its price."""
    (nine,), (ten,) = sourced(Stock(), (goods.OLIVE, 9000)).buy, sourced(Stock(), (goods.OLIVE, 10_000)).buy
    assert (nine.cost, ten.cost) == (2700, 2400)
    late_first = Offer("x", goods.OLIVE, 1000, (PriceStep(5, 90), PriceStep(10, 80)))
    assert [step_price(late_first, packs) for packs in (1, 5, 9, 10, 50)] == [90, 90, 90, 80, 80]


def test_where_nothing_comes_in_time_the_earliest() -> None:
    """Nobody delivers by tomorrow: the earliest is named with its day, the cheaper later one is not."""
    done = sourced(Stock(), (goods.CHROME_KIT, 5000), due=SOON)
    assert [one.supplier for one in done.buy] == ["Saltmarsh Turning"]
    assert done.ready == TODAY + timedelta(days=5)


def test_what_nobody_offers() -> None:
    """A part without an offer is nowhere, and then there is no day."""
    done = sourced(Stock(), (goods.STRIP, 500), (goods.TUBE, 1000))
    assert [part.name for part in done.nowhere] == [goods.STRIP]
    assert done.ready is None
    assert len(done.buy) == 1


def test_nothing_short_is_ready_today() -> None:
    """No short, nothing to wait for."""
    assert sourced(Stock()) == Sourcing((), (), (), TODAY, 0)


def test_due_in_goes_first_by_its_day() -> None:
    """Unclaimed due-in in time is taken, earliest first, and only the rest is bought."""
    stock = Stock()
    stock.coming(goods.TUBE, 4000, LATER)
    stock.coming(goods.TUBE, 3000, SOON)
    stock.coming(goods.OLIVE, 3000, SOON)
    stock.coming(goods.TUBE, 9000, None)
    done = sourced(stock, (goods.TUBE, 9000))
    assert coming(done) == [(3000, SOON), (4000, LATER)]
    assert [one.quantity for one in done.buy] == [2000]
    assert done.ready == LATER


def test_claimed_due_in_is_not_there() -> None:
    """What is due in for another order does not count."""
    stock = Stock()
    row = stock.coming(goods.TUBE, 3000, SOON)
    stock.claim("Reed", goods.TUBE, 2000, "due claim")
    stock.claims[0] = replace(stock.claims[0], purchase=row)
    assert coming(sourced(stock, (goods.TUBE, 3000))) == [(1000, SOON)]


def test_an_overdue_delivery_is_taken_for_today() -> None:
    """What should have come last week is expected today."""
    stock = Stock()
    stock.coming(goods.TUBE, 3000, TODAY - timedelta(days=7))
    assert coming(sourced(stock, (goods.TUBE, 3000))) == [(3000, TODAY)]


def test_late_due_in_before_a_later_offer() -> None:
    """Nothing in time: what is already bought and comes first is named in place of buying again."""
    stock = Stock()
    stock.coming(goods.TUBE, 3000, TODAY + timedelta(days=4))
    done = sourced(stock, (goods.TUBE, 3000), due=SOON)
    assert (coming(done), done.buy) == ([(3000, TODAY + timedelta(days=4))], ())
    later = Stock()
    later.coming(goods.TUBE, 3000, TODAY + timedelta(days=9))
    assert sourced(later, (goods.TUBE, 3000), due=SOON).ready == TODAY + timedelta(days=5)


def test_late_due_in_of_what_nobody_offers() -> None:
    """Without an offer the late delivery is the only hope; where it is too little there is none."""
    stock = Stock()
    stock.coming(goods.STRIP, 3000, LATER)
    assert sourced(stock, (goods.STRIP, 3000), due=SOON).ready == LATER
    done = sourced(stock, (goods.STRIP, 4000), due=SOON)
    assert ([part.name for part in done.nowhere], done.due) == ([goods.STRIP], ())


def test_due_in_is_counted_once() -> None:
    """Three tubes in time and five wanted: the three do not come a second time, the two are bought late."""
    stock = Stock()
    stock.coming(goods.TUBE, 3000, SOON)
    done = sourced(stock, (goods.TUBE, 5000), due=SOON)
    assert coming(done) == [(3000, SOON)]
    assert [(one.quantity, one.arrives) for one in done.buy] == [(2000, TODAY + timedelta(days=5))]
    assert done.ready == TODAY + timedelta(days=5)


def known_with(*offers: Offer, supplier: Supplier | None = None) -> Catalogue:
    """The catalogue with these offers alone, and perhaps one supplier more."""
    suppliers = {**goods.catalogue().suppliers, **({fold(supplier.name): supplier} if supplier else {})}
    return replace(goods.catalogue(), offers=goods.by_part(offers), suppliers=suppliers)


def here(known: Catalogue, settings: dict[str, str] | None = None) -> Shop:
    """An empty shelf with that catalogue."""
    return shop(Stock(), known, settings)


def test_an_offer_without_supplier_or_lead_time_is_none() -> None:
    """A supplier nobody described, or whose lead time is unknown, delivers no one knows when."""
    vague = Supplier("Mudflat Metals", None)
    offers = [Offer(name, goods.TUBE, 1000, (PriceStep(1, 9),)) for name in ("Mudflat Metals", "Nobody")]
    there = here(known_with(*offers, supplier=vague))
    assert purchases_of(there, goods.catalogue().part(goods.TUBE), 1000) == ()
    assert cheapest(there, goods.catalogue().part(goods.TUBE), 1000, DUE) is None


def test_a_price_in_an_unknown_coin_comes_last() -> None:
    """Without a rate nobody can compare: the known price is taken, else the unknown one stands without a sum."""
    step = (PriceStep(1, 900),)
    dear, foreign = (
        Offer("Saltmarsh Turning", goods.TUBE, 1000, step),
        Offer("Far Shore Fittings", goods.TUBE, 1000, step),
    )
    far_off = TODAY + timedelta(days=60)
    best = cheapest(here(known_with(foreign, dear), {}), goods.catalogue().part(goods.TUBE), 1000, far_off)
    assert best is not None
    assert best.supplier == "Saltmarsh Turning"
    only = source(here(known_with(foreign), {}), needs((goods.TUBE, 1000)), far_off)
    assert (only.buy[0].cost, only.postage) == (None, 0)


def test_postage_once_a_supplier() -> None:
    """Postage is added once for each supplier bought from, in the shop's coin, and not above the free threshold."""
    cheap = sourced(Stock(), (goods.TUBE, 1000), (goods.OLIVE, 1000))
    assert cheap.postage == 490
    both = sourced(Stock(), (goods.TUBE, 1000), (goods.GUN_KIT, 1000), due=TODAY + timedelta(days=42))
    assert both.postage == 490 + 1350
    assert sourced(Stock(), (goods.TUBE, 150_000)).postage == 490
    assert sourced(Stock(), (goods.OLIVE, 24_000)).postage == 490
    assert sourced(Stock(), (goods.OLIVE, 25_000)).postage == 0


def landed_shop(*offers: tuple[str, str, int], **postage: int) -> Shop:
    """Suppliers called by one word with their postage, and offers (supplier, part, price) of one piece."""
    sellers = {fold(name): Supplier(name, 5, fee, None, None, "EUR") for name, fee in postage.items()}
    known = goods.by_part(Offer(seller, part, 1000, (PriceStep(1, price),)) for seller, part, price in offers)
    return shop(Stock(), replace(goods.catalogue(), offers=known, suppliers=sellers))


def bought_from(there: Shop, *wanted: tuple[str, int]) -> list[str]:
    """Who sells what is short."""
    return [one.supplier for one in source(there, needs(*wanted), DUE).buy]


def test_postage_counts_in_the_choice() -> None:
    """A kit at 9.00 with 1.00 of postage before one at 8.50 with 6.00; for twenty kits the other way round."""
    there = landed_shop(("near", goods.CHROME_KIT, 900), ("far", goods.CHROME_KIT, 850), near=100, far=600)
    assert bought_from(there, (goods.CHROME_KIT, 1000)) == ["near"]
    assert bought_from(there, (goods.CHROME_KIT, 20_000)) == ["far"]
    best = cheapest(there, there.catalogue.part(goods.CHROME_KIT), 1000, DUE)
    assert best is not None
    assert (best.supplier, best.cost) == ("near", 900)


def test_parts_share_a_parcel() -> None:
    """Each part is a little cheaper elsewhere: one parcel costs less than three."""
    there = landed_shop(
        *(("one", part, 500) for part in (goods.CHROME_KIT, goods.TUBE, goods.OLIVE)),
        ("kits", goods.CHROME_KIT, 450), ("tubes", goods.TUBE, 450), ("blanks", goods.OLIVE, 450),
        one=400, kits=400, tubes=400, blanks=400,
    )  # fmt: skip
    assert (
        bought_from(there, *((part, 1000) for part in (goods.CHROME_KIT, goods.TUBE, goods.OLIVE)))
        == ["one"] * 3
    )
    assert source(there, needs((goods.CHROME_KIT, 1000), (goods.TUBE, 1000)), DUE).postage == 400


def test_a_parcel_that_must_come_anyway_is_shared() -> None:
    """The tube is to be had from one alone; the kit comes with it, though it is 3.00 dearer there."""
    there = landed_shop(
        ("one", goods.TUBE, 100),
        ("one", goods.CHROME_KIT, 800),
        ("two", goods.CHROME_KIT, 500),
        one=400,
        two=400,
    )
    assert bought_from(there, (goods.CHROME_KIT, 1000)) == ["two"]
    assert bought_from(there, (goods.TUBE, 1000), (goods.CHROME_KIT, 1000)) == ["one", "one"]


def test_of_equal_sums_the_earlier_comes_first() -> None:
    """The same landed sum: who is quicker, then by name."""
    there = landed_shop(("b", goods.TUBE, 100), ("a", goods.TUBE, 100), a=100, b=100)
    assert bought_from(there, (goods.TUBE, 1000)) == ["a"]
    quick = replace(there.catalogue.supplier("b"), lead_days=2)
    suppliers = {**there.catalogue.suppliers, "b": quick}
    assert bought_from(
        replace(there, catalogue=replace(there.catalogue, suppliers=suppliers)), (goods.TUBE, 1000)
    ) == ["b"]


def test_more_suppliers_than_are_tried_in_every_set() -> None:
    """Nine sellers of one part: still the one with the least landed sum or one close to it, and never none."""
    names = [f"s{n}" for n in range(MOST_SELLERS + 1)]
    there = landed_shop(
        *((name, goods.TUBE, 100 + n) for n, name in enumerate(names)), **dict.fromkeys(names, 300)
    )
    assert bought_from(there, (goods.TUBE, 1000)) == ["s0"]


@examples(35)
@given(
    st.lists(
        st.tuples(
            st.sampled_from("abc"),
            st.sampled_from([goods.CHROME_KIT, goods.TUBE, goods.OLIVE]),
            st.integers(1, 900),
        ),
        min_size=1,
        max_size=7,
        unique_by=lambda one: one[:2],
    ),
    st.tuples(*[st.integers(0, 800)] * 3),
)
def test_no_choice_of_suppliers_costs_less(
    offered: list[tuple[str, str, int]], fees: tuple[int, int, int]
) -> None:
    """Against every way to buy each part from one supplier."""
    there = landed_shop(*offered, **dict(zip("abc", fees, strict=True)))
    parts = sorted({part for _, part, _ in offered})
    done = source(there, needs(*((part, 2000) for part in parts)), DUE)
    ways = product(*([one for one in offered if one[1] == part] for part in parts))
    fee = dict(zip("abc", fees, strict=True))
    sums = [
        sum(2 * one[2] for one in way) + sum(fee[name] for name in {one[0] for one in way}) for way in ways
    ]
    assert sum(one.cost or 0 for one in done.buy) + done.postage == min(sums)


def test_what_is_free_in_all_and_at_a_stage() -> None:
    """Where earlier stages take of it the shelf has more than is left for this one; else both are the same."""
    part = goods.catalogue().part(goods.TUBE)
    assert PartNeed(part, "glue", 5000, 3000).all_free == 3000
    later = PartNeed(part, "glue", 5000, 3000, on_shelf=8000)
    assert (later.all_free, later.short) == (8000, 2000)
    assert PartNeed(part, "glue", 5000, 3000, on_shelf=0).all_free == 0


@pytest.mark.parametrize(("second", "bought"), [(5, False), (6, True)])
def test_what_comes_last_of_what_is_due_says_whether_it_is_waited_for(second: int, bought: bool) -> None:
    """Two parcels on their way, the offer five days off: both have to be there by then."""
    stock = Stock()
    for days in (4, second):
        stock.coming(goods.TUBE, 2000, TODAY + timedelta(days=days))
    done = sourced(stock, (goods.TUBE, 3000), due=SOON)
    assert (bool(done.buy), bool(done.due)) == (bought, not bought)
