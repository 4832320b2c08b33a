"""The price of a piece worked out a second time, and the maker's own figures it rests on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from searching import examples

from inventory.catalogue import STAGES, Kit, Part, fold
from inventory.errors import BadInput
from inventory.jobs.hours.piece_time import PieceTime
from inventory.jobs.orders.handing_over import hand_over
from inventory.jobs.orders.money.pricing import finished_price, would_draw
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.promising import promise
from inventory.jobs.orders.requests import request_of
from inventory.measures import currency
from jobs import goods
from jobs.booking import booked
from jobs.shop import TODAY, Stock, exactly, order, plenty, request, shop


def test_rates_between_coins() -> None:
    """0.9 euro a dollar; a yen has no smaller coin, so one of it is 0.6 cents at 0.006."""
    there = shop(settings={"rate USD": "0.9", "rate JPY": "0.006"})
    assert [there.rate(code) for code in ("", "EUR", "USD", "GBP")] == [1, 1, Fraction(9, 10), None]
    assert there.rate("JPY") == Fraction(6, 10)


@pytest.mark.parametrize(
    ("said", "minor"),
    [("", 1500), ("22", 2200), ("22.50 EUR", 2250), ("€18", 1800)],
    ids=["nothing", "plain", "coin", "sign"],
)
def test_the_labour_rate_as_begin_takes_it(said: str, minor: int) -> None:
    """15 an hour where nothing was said; with or without the coin where it was."""
    assert shop(settings={"labour rate": said}).labour_rate == minor


def test_the_labour_rate_in_a_coin_without_cents() -> None:
    """15 yen are 15; another coin than the shop's is refused."""
    yen = replace(shop(settings={}), currency=currency("JPY"))
    assert yen.labour_rate == 15
    with pytest.raises(BadInput):
        _ = shop(settings={"labour rate": "20 USD"}).labour_rate


def test_the_margin() -> None:
    """30 % where nothing was said."""
    assert shop(settings={}).margin == Fraction(3, 10)
    assert shop(settings={"margin": "40 %"}).margin == Fraction(2, 5)


def mean_worked(allowed: Sequence[int], kept: Mapping[str, float]) -> dict[str, Fraction]:
    """Pieces worked on at each stage on average, each survivor of a batch in turn up to what is allowed for."""
    here = {allowed[0]: 1.0}
    found = {}
    for stage, most in zip(STAGES, allowed, strict=True):
        after: dict[int, float] = {}
        found[stage] = Fraction(sum(min(many, most) * weight for many, weight in here.items()))
        for many, weight in here.items():
            got = min(many, most)
            for left in range(got + 1):
                probability = weight * float(stats.binom.pmf(left, got, kept.get(stage, 1.0)))
                after[left] = after.get(left, 0.0) + probability
        here = after
    return found


def test_the_price_worked_out_again() -> None:
    """Every start that reaches a stage takes its parts: lots first, the rest at its offer; labour; margin."""
    stock = (
        plenty().with_only(goods.CHROME_KIT, 3000, 1000).with_only(goods.TUBE, 4000, 90).without(goods.OLIVE)
    )
    stock.lot(goods.OLIVE, 1000, 250)
    stock.lot(goods.OLIVE, 40_000, 12_345)
    settings = {"labour rate": "24", "margin": "40%"}
    report = check(exactly(shop(stock, settings=settings)), request(4))
    reach = mean_worked(report.plan.reach, {"drill": 0.98, "turn": 0.97, "assemble": 0.99})
    assert reach["cut"] == report.starts > 4
    kits = reach["assemble"]
    tubes = reach["glue"]
    blanks = report.plan.blanks.needed
    glue = next(use.per_piece for use in report.plan.uses if use.part == goods.GLUE) * reach["glue"] / 1000
    finish = (
        next(use.per_piece for use in report.plan.uses if use.part == goods.FINISH) * reach["finish"] / 1000
    )
    total = (
        1000
        + (kits - 3) * 450
        + 90
        + (tubes - 4) * 40
        + 250
        + (blanks - 1) * Fraction(12_345, 40)
        + glue * Fraction(600, 50)
        + finish * Fraction(1100, 90)
        + 2 * Fraction(900, 50)
        + reach["finish"] / 2 * 30
        + reach["assemble"] * 90
    )
    materials = ceil(total / 4)
    labour = ceil(Fraction(2400 * 45, 60) * report.starts / 4)
    got = report.price
    assert (got.minutes, got.unpriced) == (45, ())
    assert abs(got.materials - materials) <= 1  # every part is priced to the whole coin, as it is booked
    assert got.labour == labour
    assert got.lowest == ceil((got.materials + labour) / Fraction(6, 10))


def test_usual_minutes_by_stage_where_the_pattern_says_nothing() -> None:
    """Cut 3, drill 5, glue 5, trim 4, turn 15, assemble 5; what has no cost is named and left out."""
    report = check(shop(), request(2, pattern="Avocet gloss", platings=("gunmetal",)))
    assert report.price.minutes == 3 + 5 + 5 + 4 + 15 + 5
    assert "tube 12.25" in report.price.unpriced


@pytest.mark.parametrize("pieces", [1, 2])
def test_finished_pieces_cost_what_their_lot_did(pieces: int) -> None:
    """Two lie there for 40.00: one is 20.00 and not a coin more."""
    stock = Stock()
    stock.lot(goods.CHROME_KIT, 2000, 4000)
    here = shop(stock)
    there = finished_price(
        here, [(here.catalogue.part(goods.CHROME_KIT), pieces)], PieceTime(0, (), (), False, False)
    )
    assert (there.materials, there.total) == (2000, 2000 * pieces)


def test_no_minutes_are_no_labour() -> None:
    """A pattern of 0 minutes costs its materials alone."""
    pattern = replace(goods.catalogue().pattern("Turnstone gloss"), minutes=0)
    known = replace(goods.catalogue(), patterns={fold(pattern.name): pattern})
    assert check(shop(plenty(), known), request(2)).price.labour == 0


def test_tubes_inside_cost_with_their_kit() -> None:
    """Only spare tubes are priced apart from kits that hold theirs."""
    kit = Part(goods.CHROME_KIT, Kit("Turnstone", "chrome", tubes_inside=True))
    apart = check(shop(), request(10)).price.materials
    assert check(shop(plenty(), goods.catalogue().with_parts(kit)), request(10)).price.materials < apart


def test_the_price_follows_what_is_bought() -> None:
    """A dearer plating, all of it to buy, makes the piece dearer by what its kits cost more."""
    here = exactly(shop(plenty().without(goods.CHROME_KIT)))
    chrome, rhodium = check(here, request(4)), check(here, request(4, platings=("rhodium",)))
    assert [one.part.name for one in rhodium.sourcing.buy] == [goods.RHODIUM_KIT]
    kits = mean_worked(chrome.plan.reach, {"drill": 0.98, "turn": 0.97, "assemble": 0.99})["assemble"]
    more = 450 * kits / 4
    assert abs(rhodium.price.materials - chrome.price.materials - more) <= 1


def test_a_measured_blank_costs_as_the_very_one_that_is_cut() -> None:
    """The short one wastes least, and is not the one that came first."""
    stock = plenty()
    stock.measured("long", "22 mm", "140 mm", 900)
    stock.measured("short", "22 mm", "70 mm", 100)
    here = exactly(shop(stock))
    report = check(here, request(1, blank=goods.ANTLER))
    (drawn,) = [one for one in would_draw(here, report.plan, ()) if one.part == goods.ANTLER]
    assert [cut.name for cut in report.plan.blanks.cuts] == ["short"]
    assert drawn.cost == 100


@examples(25)
@given(
    st.integers(1, 6),
    st.lists(st.tuples(st.integers(1, 4000), st.integers(0, 3000)), min_size=1, max_size=4),
    st.sampled_from(
        [goods.CHROME_KIT, goods.TUBE, goods.OLIVE, goods.STRIP, goods.GLUE, goods.FINISH, goods.ANTLER]
    ),
)
def test_the_price_is_what_is_booked(count: int, lots: list[tuple[int, int]], part: str) -> None:
    """Nothing lost and everything there: the cost of a piece is what handing them over books, to the coin.

    Lots of one part at all kinds of cost, an open bottle among full ones, measured blanks behind the plain ones.
    """
    stock = plenty()
    blank = goods.ANTLER if part == goods.ANTLER else goods.OLIVE
    if part == goods.ANTLER:
        for at, (size, cost) in enumerate(lots * 6):
            stock.measured(f"piece {at}", f"{20 + size % 9} mm", f"{70 + size % 40} mm", cost)
    else:
        stock.without(part)
        for at, (quantity, cost) in enumerate(lots):
            opened = TODAY if at == len(lots) - 1 else None
            stock.lot(part, 1000 * quantity, cost, opened_on=opened)
    known = goods.catalogue().with_losses("olive wood").with_losses("antler")
    here = shop(stock, known)
    report = check(here, request(count, blank=blank))
    if report.verdict != "from the shelf":
        return
    one = order("Reed", count, blank=blank)
    promised = booked(here, promise(here, one, check(here, request_of(one))))
    done = hand_over(promised, promised.book.orders["reed"])
    assert report.price.materials == -(-done.cost // count)
