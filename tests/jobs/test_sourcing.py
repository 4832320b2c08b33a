"""Where missing parts come from, and the price of a piece worked out a second time."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from inventory.catalogue import Catalogue, Offer, PriceStep, Supplier, fold
from inventory.jobs.needs import PartNeed
from inventory.jobs.shop import Shop
from inventory.jobs.sourcing import Sourcing, cheapest, purchases_of, shorts, source, step_price
from jobs.goods import (
    CHROME_KIT,
    GUN_KIT,
    OLIVE,
    STRIP,
    TUBE,
    by_part,
    catalogue,
)
from jobs.shop import (
    DUE,
    TODAY,
    Stock,
    shop,
)

SOON, LATER = TODAY + timedelta(days=2), TODAY + timedelta(days=10)


def needs(*wanted: tuple[str, int]) -> list[PartNeed]:
    """So many thousandths short of each part."""
    return [PartNeed(catalogue().part(name), "assemble", quantity, 0) for name, quantity in wanted]


def sourced(stock: Stock, *wanted: tuple[str, int], due: date = DUE) -> Sourcing:
    """How these shorts are met."""
    return source(shop(stock), needs(*wanted), due)


def coming(done: Sourcing) -> list[tuple[int, date]]:
    """Quantity and day of what is due in."""
    return [(quantity, day) for _, quantity, day in done.due]


def test_shorts_of_one_part_are_one() -> None:
    """What several stages lack of a part is bought together; what is there is no short."""
    rows = [*needs((STRIP, 500), (TUBE, 0), (STRIP, 250)), PartNeed(catalogue().part(TUBE), "glue", 5, 9)]
    assert [(part.name, short) for part, short in shorts(rows)] == [(STRIP, 750)]


def test_the_cheapest_in_time() -> None:
    """Three weeks leave one supplier; with six weeks the one with 3 a kit is cheaper than 4.50."""
    assert sourced(Stock(), (CHROME_KIT, 5000)).buy[0].supplier == "Saltmarsh Turning"
    far = sourced(Stock(), (CHROME_KIT, 5000), due=TODAY + timedelta(days=42)).buy[0]
    assert (far.supplier, far.packs, far.code, far.currency) == ("Far Shore Fittings", 1, "FS-7", "USD")
    assert (far.own_cost, far.cost) == (1500, 1350)


def test_whole_packs_are_bought() -> None:
    """One kit of a pack of five costs the pack, so the single one is cheaper; eleven tubes are two packs of ten."""
    assert (
        sourced(Stock(), (CHROME_KIT, 1000), due=TODAY + timedelta(days=42)).buy[0].supplier
        == "Saltmarsh Turning"
    )
    (tubes,) = sourced(Stock(), (TUBE, 11_000)).buy
    assert (tubes.quantity, tubes.packs, tubes.pack, tubes.cost) == (11_000, 2, 10_000, 800)


def test_price_steps() -> None:
    """From ten packs on the lower price holds for all; under the first step its price."""
    (nine,), (ten,) = sourced(Stock(), (OLIVE, 9000)).buy, sourced(Stock(), (OLIVE, 10_000)).buy
    assert (nine.cost, ten.cost) == (2700, 2400)
    late_first = Offer("x", OLIVE, 1000, (PriceStep(5, 90), PriceStep(10, 80)))
    assert [step_price(late_first, packs) for packs in (1, 5, 9, 10, 50)] == [90, 90, 90, 80, 80]


def test_where_nothing_comes_in_time_the_earliest() -> None:
    """Nobody delivers by tomorrow: the earliest is named with its day, the cheaper later one is not."""
    done = sourced(Stock(), (CHROME_KIT, 5000), due=SOON)
    assert [one.supplier for one in done.buy] == ["Saltmarsh Turning"]
    assert done.ready == TODAY + timedelta(days=5)


def test_what_nobody_offers() -> None:
    """A part without an offer is nowhere, and then there is no day."""
    done = sourced(Stock(), (STRIP, 500), (TUBE, 1000))
    assert [part.name for part in done.nowhere] == [STRIP]
    assert done.ready is None
    assert len(done.buy) == 1


def test_nothing_short_is_ready_today() -> None:
    """No short, nothing to wait for."""
    assert sourced(Stock()) == Sourcing((), (), (), TODAY, 0)


def test_due_in_goes_first_by_its_day() -> None:
    """Unclaimed due-in in time is taken, earliest first, and only the rest is bought."""
    stock = Stock()
    stock.coming(TUBE, 4000, LATER)
    stock.coming(TUBE, 3000, SOON)
    stock.coming(OLIVE, 3000, SOON)
    stock.coming(TUBE, 9000, None)
    done = sourced(stock, (TUBE, 9000))
    assert coming(done) == [(3000, SOON), (4000, LATER)]
    assert [one.quantity for one in done.buy] == [2000]
    assert done.ready == LATER


def test_claimed_due_in_is_not_there() -> None:
    """What is due in for another order does not count."""
    stock = Stock()
    row = stock.coming(TUBE, 3000, SOON)
    stock.claim("Reed", TUBE, 2000, "due claim")
    stock.claims[0] = replace(stock.claims[0], purchase=row)
    assert coming(sourced(stock, (TUBE, 3000))) == [(1000, SOON)]


def test_an_overdue_delivery_is_taken_for_today() -> None:
    """What should have come last week is expected today."""
    stock = Stock()
    stock.coming(TUBE, 3000, TODAY - timedelta(days=7))
    assert coming(sourced(stock, (TUBE, 3000))) == [(3000, TODAY)]


def test_late_due_in_before_a_later_offer() -> None:
    """Nothing in time: what is already bought and comes first is named in place of buying again."""
    stock = Stock()
    stock.coming(TUBE, 3000, TODAY + timedelta(days=4))
    done = sourced(stock, (TUBE, 3000), due=SOON)
    assert (coming(done), done.buy) == ([(3000, TODAY + timedelta(days=4))], ())
    later = Stock()
    later.coming(TUBE, 3000, TODAY + timedelta(days=9))
    assert sourced(later, (TUBE, 3000), due=SOON).ready == TODAY + timedelta(days=5)


def test_late_due_in_of_what_nobody_offers() -> None:
    """Without an offer the late delivery is the only hope; where it is too little there is none."""
    stock = Stock()
    stock.coming(STRIP, 3000, LATER)
    assert sourced(stock, (STRIP, 3000), due=SOON).ready == LATER
    done = sourced(stock, (STRIP, 4000), due=SOON)
    assert ([part.name for part in done.nowhere], done.due) == ([STRIP], ())


def test_due_in_is_counted_once() -> None:
    """Three tubes in time and five wanted: the three do not come a second time, the two are bought late."""
    stock = Stock()
    stock.coming(TUBE, 3000, SOON)
    done = sourced(stock, (TUBE, 5000), due=SOON)
    assert coming(done) == [(3000, SOON)]
    assert [(one.quantity, one.arrives) for one in done.buy] == [(2000, TODAY + timedelta(days=5))]
    assert done.ready == TODAY + timedelta(days=5)


def known_with(*offers: Offer, supplier: Supplier | None = None) -> Catalogue:
    """The catalogue with these offers alone, and perhaps one supplier more."""
    suppliers = {**catalogue().suppliers, **({fold(supplier.name): supplier} if supplier else {})}
    return replace(catalogue(), offers=by_part(offers), suppliers=suppliers)


def here(known: Catalogue, settings: dict[str, str] | None = None) -> Shop:
    """An empty shelf with that catalogue."""
    return shop(Stock(), known, settings)


def test_an_offer_without_supplier_or_lead_time_is_none() -> None:
    """A supplier nobody described, or whose lead time is unknown, delivers no one knows when."""
    vague = Supplier("Mudflat Metals", None)
    offers = [Offer(name, TUBE, 1000, (PriceStep(1, 9),)) for name in ("Mudflat Metals", "Nobody")]
    there = here(known_with(*offers, supplier=vague))
    assert purchases_of(there, catalogue().part(TUBE), 1000) == ()
    assert cheapest(there, catalogue().part(TUBE), 1000, DUE) is None


def test_a_price_in_an_unknown_coin_comes_last() -> None:
    """Without a rate nobody can compare: the known price is taken, else the unknown one stands without a sum."""
    step = (PriceStep(1, 900),)
    dear, foreign = (
        Offer("Saltmarsh Turning", TUBE, 1000, step),
        Offer("Far Shore Fittings", TUBE, 1000, step),
    )
    far_off = TODAY + timedelta(days=60)
    best = cheapest(here(known_with(foreign, dear), {}), catalogue().part(TUBE), 1000, far_off)
    assert best is not None
    assert best.supplier == "Saltmarsh Turning"
    only = source(here(known_with(foreign), {}), needs((TUBE, 1000)), far_off)
    assert (only.buy[0].cost, only.postage) == (None, 0)


def test_postage_once_a_supplier() -> None:
    """Postage is added once for each supplier bought from, in the shop's coin, and not above the free threshold."""
    cheap = sourced(Stock(), (TUBE, 1000), (OLIVE, 1000))
    assert cheap.postage == 490
    both = sourced(Stock(), (TUBE, 1000), (GUN_KIT, 1000), due=TODAY + timedelta(days=42))
    assert both.postage == 490 + 1350
    assert sourced(Stock(), (TUBE, 150_000)).postage == 490
    assert sourced(Stock(), (OLIVE, 24_000)).postage == 490
    assert sourced(Stock(), (OLIVE, 25_000)).postage == 0
