"""What a list leaves for later and the shop needs soon: levels, use rates, use-by dates, wear, requests."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest

from inventory.buying import Basket, BasketLine, PackOffer, PriceBreak, SupplierOrder, SupplierTerms
from inventory.catalogue import Tool
from inventory.jobs.purchasing.demand import LOW, PROMISED, Past
from inventory.jobs.purchasing.upcoming_needs import UpcomingNeed, beyond_promises, upcoming_needs
from inventory.ledger.shop import Shop
from inventory.reports.purchasing.demands import Demand
from jobs import goods
from jobs.shop import TODAY, order, plenty, shop

UNTIL = TODAY + timedelta(days=28)
LAST = UNTIL + timedelta(weeks=8)


def of(there: Shop, part: str, past: Past | None = None, **brought: int) -> UpcomingNeed | None:
    """What is needed soon of one part. brought: by the part's folded name with _ for a space."""
    names = {name.replace("_", " "): quantity for name, quantity in brought.items()}
    return next(
        (one for one in upcoming_needs(there, past or Past(), UNTIL, names) if one.part.name == part), None
    )


def test_a_full_shelf_needs_nothing() -> None:
    """Nothing used, no level near, no request."""
    assert upcoming_needs(shop(plenty()), Past(), UNTIL, {}) == ()


def test_a_level_nearly_reached() -> None:
    """11 ml of epoxy, its level 10 ml: the last quarter above the level is nearly reached; 12.5 ml is not."""
    one = of(shop(plenty().with_only(goods.EPOXY, 11_000)), goods.EPOXY)
    assert one is not None
    assert (one.quantity, one.reasons) == (1500, ("11 ml free with this list, reorder at 10",))
    assert of(shop(plenty().with_only(goods.EPOXY, 12_500)), goods.EPOXY) is None
    assert of(shop(plenty().with_only(goods.EPOXY, 1000)), goods.EPOXY, epoxy=11_500) is None


def test_a_piece_more_than_its_level() -> None:
    """Of what is counted one piece above the level is near: the next one used leaves the level, no more."""
    known = goods.catalogue().with_parts(replace(goods.catalogue().part(goods.SLIM), level=2000))
    near = of(shop(plenty().with_only(goods.SLIM, 2000), known), goods.SLIM)
    assert near is not None
    assert near.quantity == 1000
    assert of(shop(plenty().with_only(goods.SLIM, 3000), known), goods.SLIM) is None


@pytest.mark.parametrize(("there", "short"), [(84_000, 0), (83_000, 1000), (40_000, 44_000)])
def test_what_its_use_takes(there: int, short: int) -> None:
    """At 1 ml a day for the 84 days until eight weeks after the horizon."""
    one = of(shop(plenty().with_only(goods.FINISH, there)), goods.FINISH, Past({"gloss ca": 90_000}, 90))
    assert (one.quantity if one else 0) == short
    if one:
        day = TODAY + timedelta(days=there // 1000)
        assert one.reasons == (f"runs out about {day.isoformat()}; you use 7 ml a week",)


def test_what_its_use_takes_below_its_level() -> None:
    """With a level the rate is reckoned down to it, and kits count as supplies do."""
    kit = replace(goods.catalogue().part(goods.CHROME_KIT), level=4000)
    known = goods.catalogue().with_parts(kit)
    one = of(
        shop(plenty().with_only(goods.CHROME_KIT, 10_000), known),
        goods.CHROME_KIT,
        Past({"turnstone kit chrome": 10_000}, 100),
    )
    assert one is not None
    assert (one.quantity, one.reasons) == (
        2400,
        ("falls to its reorder level of 4 about 2027-01-24; you use 3 a month",),
    )


def test_what_goes_off_after_the_horizon() -> None:
    """One container in its place; a good one beside it will do."""
    stock = plenty().with_only(goods.GLUE, 0)
    stock.lots = [lot for lot in stock.lots if lot.part != goods.GLUE]
    stock.lot(goods.GLUE, 5000, use_by=UNTIL + timedelta(days=9))
    one = of(shop(stock), goods.GLUE)
    assert one is not None
    assert (one.quantity, one.reasons[0][:18]) == (56_000, "out of date after ")
    assert of(shop(stock), goods.GLUE, thin_ca=56_000) is None


def test_a_tool_near_its_end() -> None:
    """From 80 % of its life on; a second one waiting will do."""
    tool = goods.catalogue().part(goods.BUSHINGS)
    assert isinstance(tool.detail, Tool)
    known = goods.catalogue().with_parts(replace(tool, detail=replace(tool.detail, life=5)))
    past = Past({}, 0, [(order("Old", 4), TODAY)])
    one = of(shop(plenty(), known), goods.BUSHINGS, past)
    assert one == UpcomingNeed(known.part(goods.BUSHINGS), 1000, ("4 uses of about 5",))
    assert of(shop(plenty(), known), goods.BUSHINGS, past, turnstone_bushings=1000) is None


def test_wishes_nobody_has_promised_yet() -> None:
    """What a request lacks, less what the list brings; not those too late or too far off, nor promises."""
    stock = plenty().without(goods.TUBE)
    for name, day, state in (
        ("Soon", LAST, "wish"),
        ("Past", TODAY - timedelta(days=1), "wish"),
        ("Far", LAST + timedelta(days=1), "wish"),
        ("Sure", LAST, "promised"),
    ):
        stock.orders.append(replace(order(name, 2), due=day, state=state))  # type: ignore[arg-type]  # spelled as text
    one = of(shop(stock), goods.TUBE)
    assert one is not None
    assert one.reasons == (f"Soon, asked for by {LAST.isoformat()}, would need it",)
    assert one.quantity >= 2000
    found = upcoming_needs(shop(stock), Past(), UNTIL, {"tube 27/64": 1000})
    less = next((one for one in found if one.part.name == goods.TUBE), None)
    assert less is not None
    assert less.quantity == one.quantity - 1000


def test_a_wish_that_the_list_covers_to_the_piece_is_not_told() -> None:
    """What the list brings is all that the small wish lacks: it is no reason for more, the large one is."""
    stock = plenty().without(goods.TUBE)
    stock.orders.append(replace(order("Small", 2), due=LAST, state="wish"))
    small = of(shop(stock), goods.TUBE)
    assert small is not None
    brought = {"tube 27/64": small.quantity}
    assert [
        one for one in upcoming_needs(shop(stock), Past(), UNTIL, brought) if one.part.name == goods.TUBE
    ] == []
    stock.orders.append(replace(order("Large", 5), due=LAST, state="wish"))
    (one,) = (
        one for one in upcoming_needs(shop(stock), Past(), UNTIL, brought) if one.part.name == goods.TUBE
    )
    assert [reason.split(",")[0] for reason in one.reasons] == ["Large"]


def test_a_wish_that_cannot_be_worked_out_is_left_alone() -> None:
    """Its pattern is no longer in the catalogue."""
    stock = plenty().without(goods.TUBE)
    stock.orders.append(replace(order("Odd", 2), pattern="nothing known"))
    assert of(shop(stock), goods.TUBE) is None


def test_what_a_list_brings_beyond_its_promises() -> None:
    """Two packs of ten tubes, three of them promised, and five kits that all are."""
    seller = SupplierTerms("a", 3, "EUR")
    lines = tuple(
        BasketLine(PackOffer(part, "a", part, pack, (PriceBreak(1, 1),)), packs, 1, packs, None, ())
        for part, pack, packs in ((goods.TUBE, 10_000, 2), (goods.CHROME_KIT, 1000, 5))
    )
    zero = Fraction(0)
    basket = Basket((SupplierOrder(seller, lines, 0, 0, zero, None),), (), zero, zero, zero, True, zero, 0.0)
    known = goods.catalogue()
    demands = [
        Demand(known.part(goods.TUBE), 3000, None, PROMISED, ""),
        Demand(known.part(goods.TUBE), 4000, None, LOW, ""),
        Demand(known.part(goods.CHROME_KIT), 5000, None, PROMISED, ""),
        Demand(known.part(goods.GLUE), 5000, None, PROMISED, ""),
    ]
    assert beyond_promises(basket, demands) == {"tube 27/64": 17_000, "turnstone kit chrome": 0}
