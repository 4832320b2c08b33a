"""Small rules of what is bought, comes, wears out and costs, each at the place where it begins to hold."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from types import SimpleNamespace
from typing import Any, cast

import pytest

from inventory.catalogue import Blank, Tool, fold
from inventory.jobs.accounts.cost_made import _beside, _of_lot, _report
from inventory.jobs.accounts.cost_otherwise import _blanks, _larger
from inventory.jobs.accounts.goal_plan import _net
from inventory.jobs.accounts.history import _on_time
from inventory.jobs.accounts.page import RUNS_OUT, PagePast, _order, shop_page
from inventory.jobs.days.taking import _left_for_claims, _named
from inventory.jobs.purchasing.arriving import _no, arrive
from inventory.jobs.purchasing.demand import Past, demand, inspections, uses_of, worn
from inventory.jobs.purchasing.placing import Sum, together
from inventory.jobs.stock.drawing import would_cost
from inventory.ledger.past.made import MadeLot, PiecesMade, TookLine
from inventory.ledger.past.rows import HandedRow
from inventory.measures import read_length
from inventory.reports.accounts.earned import EarnedSums
from inventory.reports.purchasing.parcels import Arrived, Delivery
from jobs import goods
from jobs.shop import TODAY, Stock, order, plenty, request, shop

NEAR, FAR = goods.SUPPLIERS
DAY = timedelta(days=1)
GLOSS = goods.catalogue().pattern("Turnstone gloss")


@pytest.mark.parametrize(
    ("made", "there", "told"), [(2, 1000, False), (3, 1000, True), (4, 1000, True), (3, 2000, False)]
)
def test_a_worn_tool_is_wanted_where_no_other_is_there(made: int, there: int, told: bool) -> None:
    """Bushings last three pieces: from the third on one is wanted, with five points of trouble."""
    tool = goods.catalogue().part(goods.BUSHINGS)
    known = goods.catalogue().with_parts(replace(tool, detail=Tool("bushings", "", 3)))
    past = Past({}, 0, [(order("Old", made), TODAY)])
    found = demand(shop(plenty().with_only(goods.BUSHINGS, there), known), past, TODAY + 7 * DAY)
    assert [(one.quantity, one.trouble) for one in found if one.part.name == goods.BUSHINGS] == [
        (1000, 5)
    ] * told


@pytest.mark.parametrize(
    ("tool", "uses"),
    [
        (Tool("drill", "27/64"), 1),
        (Tool("drill", ""), 0),
        (Tool("saw", "27/64"), 0),
        (Tool("drill", "12.5 mm"), 0),
    ],
)
def test_only_a_drill_of_their_size_bores_the_barrels(tool: Tool, uses: int) -> None:
    """Neither another tool of that size nor a drill of which nobody wrote one."""
    part = replace(goods.catalogue().part(goods.DRILL), detail=tool)
    assert uses_of(shop(), part, tool, goods.catalogue().family("Turnstone")) == uses


@pytest.mark.parametrize(("received", "uses"), [(1, 0), (0, 4), (-1, 4), (None, 4)])
def test_a_tool_is_worn_by_what_was_made_since_it_came(received: int | None, uses: int) -> None:
    """That day included; of one nobody knows the day of, by all that was made."""
    tool = Tool("drill", "27/64", 9)
    part = replace(goods.catalogue().part(goods.DRILL), detail=tool)
    stock = plenty().without(goods.DRILL)
    stock.lot(goods.DRILL, 1000, received_on=None if received is None else TODAY + received * DAY)
    wear = worn(shop(stock), part, Past({}, 0, [(order("Old", 4), TODAY)]))
    assert wear is not None
    assert (wear.uses, wear.life) == (uses, 9)


@pytest.mark.parametrize(
    ("instead", "settles", "due"),
    [("", None, False), ("", False, False), ("x", None, True), ("x", False, True), ("x", True, False)],
)
def test_what_came_in_place_of_another_part_may_leave_it_due(
    instead: str, settles: bool | None, due: bool
) -> None:
    """Two parcels that differ in that alone are two."""
    assert _no(Arrived(goods.TUBE, 1000, instead_of=instead, settles=settles)) == (
        ("still due",) if due else ()
    )


def test_parcels_that_differ_in_a_price_or_a_pack_are_two() -> None:
    """However small it is, and whatever is not said: a parcel is known again by its fingerprint."""
    rows = [
        Arrived(goods.TUBE, 1000, **said)
        for said in cast(list[dict[str, Any]], [{}, {"price": 1}, {"pack": 1}, {"damaged": 1}, {"lot": "b"}])
    ]
    stock = Stock()
    stock.coming(goods.TUBE, 3000, TODAY, 150)
    found = {arrive(shop(stock), Delivery(NEAR.name, TODAY, (row,))).proposal.fingerprint for row in rows}
    assert len(found) == len(rows)


def test_postage_goes_by_what_came_where_nothing_cost() -> None:
    """Three strips, one of them torn, and a refill: 4.00 are 3.00 and 1.00, of which a third of the first is lost."""
    stock = Stock()
    for part, many in ((goods.STRIP, 3000), (goods.SLIM, 1000)):
        stock.coming(part, many, TODAY, 0)
    parcel = Delivery(NEAR.name, TODAY, (Arrived(goods.STRIP, 2000, 1000), Arrived(goods.SLIM, 1000)), 400)
    lines = arrive(shop(stock), parcel).proposal.lines
    assert [(one.part, one.cost) for one in lines if one.account == "shelf" and one.cost] == [
        (goods.STRIP, 300),
        (goods.STRIP, -100),
        (goods.SLIM, 100),
    ]


def test_what_goes_to_a_supplier_of_an_unknown_coin_is_in_no_sum() -> None:
    """490 and 400 of ours; nobody knows what the dollars are."""
    several = [Sum(NEAR.name, 400, 490, 0), Sum(FAR.name, 1500, 1500, 0)]
    assert together(shop(settings={}), several) == 890
    assert together(shop(), several) == 890 + 2700


@pytest.mark.parametrize(
    ("quantity", "named", "left"),
    [
        (5, ((0, 3), (1, 9)), (7, 8)),
        (2, ((0, 3), (1, 9)), (8, 10)),
        (40, ((0, 30), (1, 30)), (0, 0)),
        (12, ((0, 4), (0, 4), (1, 9)), (2, 6)),
        (0, ((1, 9),), (10,)),
    ],
)
def test_named_lots_are_drained_in_turn(
    quantity: int, named: tuple[tuple[int, int], ...], left: tuple[int, ...]
) -> None:
    """Of two lots of ten: no more of each than it may give, than it holds, and than is still to go."""
    stock = Stock()
    lots = [stock.lot(goods.TUBE, 10), stock.lot(goods.TUBE, 10)]
    part = goods.catalogue().part(goods.TUBE)
    found = _left_for_claims(shop(stock), part, quantity, [(lots[at], most) for at, most in named])
    assert found == dict(zip([lots[at] for at, _ in dict(named).items()], left, strict=True))


def took(part: str, word: str = "used", cost: int = 100, **more: Any) -> TookLine:
    """A line of entry 3."""
    usual = TookLine(3, part, "piece", "materials", word, 1000, cost)
    return replace(usual, **more)


def test_what_made_pieces_cost_goes_by_the_parts_of_their_bill() -> None:
    """Of an evening that cost 600, 300 are these pieces': tubes and kit 1 to 3, strips are of the others; of 40
    spoiled half.
    """
    lot = MadeLot(3, TODAY, 2000, 300)
    rows = (
        took(goods.TUBE),
        took(goods.CHROME_KIT, cost=300),
        took(goods.STRIP, cost=200),
        took(goods.TUBE, "lost", 50),
        took(goods.TUBE, "saved", -10),
        took(goods.TUBE, cost=999, document=4),
    )
    made = PiecesMade((lot,), rows, (), {3: 600})
    bill = {fold(goods.TUBE), fold(goods.CHROME_KIT)}
    found = [(one.name, one.cost, one.quantity) for one in _of_lot(lot, made, bill)]
    assert found == [
        (goods.TUBE, 75, 750),
        (goods.CHROME_KIT, 225, 750),
        ("pieces spoiled on the way", 20, 0),
    ]
    free = PiecesMade((lot,), [took(goods.TUBE, cost=0)], (), {})
    assert [(one.name.split(":")[0], one.cost) for one in _of_lot(lot, free, bill)] == [
        ("as it was counted in", 300)
    ]


def test_a_made_piece_names_the_parts_of_unknown_cost_that_are_its_own() -> None:
    """Work is by the piece: two of 45 minutes."""
    rows = (
        took(goods.TUBE, unknown=True),
        took(goods.CHROME_KIT),
        took(goods.STRIP, unknown=True, document=4),
    )
    made = PiecesMade((MadeLot(3, TODAY, 2000, 200),), rows, (), {3: 200})
    found = _report(shop(), "it", "", GLOSS, made, frozenset())
    assert (found.pieces, found.minutes, tuple(found.unknown)) == (2, Fraction(90), (goods.TUBE,))


def test_blanks_that_could_be_taken_instead_are_there() -> None:
    """The fullest drawer first, and not the very blank itself."""
    stock = Stock()
    for part, many in ((goods.OLIVE, 3000), (goods.ACRYLIC, 4000), (goods.ANTLER, 1), (goods.THICK, 2000)):
        stock.lot(part, many)
    here = shop(stock.without(goods.ANTLER))
    found = _blanks(here, here.catalogue.part(goods.THICK))
    assert [one.name for one in found] == [goods.ACRYLIC, goods.OLIVE]


@pytest.mark.parametrize(
    ("width", "wider"),
    [
        ("19 mm", [goods.THICK]),
        ("45 mm", []),
        (None, [goods.OLIVE, goods.THICK]),
        ("18 mm", [goods.OLIVE, goods.THICK]),
    ],
)
def test_wider_blanks_of_the_same_material_are_tried(width: str | None, wider: list[str]) -> None:
    """The narrowest first; of one of unknown width any; of another material none."""
    mine = Blank("olive wood", "square", read_length(width) if width else None, read_length("127 mm"))
    known = goods.catalogue().with_parts(
        replace(goods.catalogue().part(goods.OLIVE), name="mine", detail=mine)
    )
    words = [said for _, said in _larger(shop(known=known), request(2, blank="mine"))]
    assert words == ["", *(f"of {one}" for one in wider)]


@pytest.mark.parametrize(
    ("left", "pieces", "spoiled", "net"), [(900, 4, 0, 225), (901, 4, 0, 225), (900, 4, 26, 199)]
)
def test_what_a_piece_leaves_is_told_in_whole_coins(left: int, pieces: int, spoiled: int, net: int) -> None:
    """Less its share of what was spoiled, rounded down."""
    sums = EarnedSums(pieces, left)
    assert sums.left == left
    assert _net(sums, cast(Any, spoiled)) == net


def test_only_whole_orders_of_customers_keep_a_day() -> None:
    """Not what the stall sold, nor a part of an order whose rest is open."""
    row = HandedRow(TODAY, TODAY, "Reed", "Turnstone gloss", False, 2, 3000, TODAY, True)
    late = row._replace(order="Tern", due=TODAY - DAY)
    rows = [row, late, late._replace(market=True), late._replace(whole=False)]
    found = _on_time(rows, 5)
    assert (found.handed_over, [one.order for one in found.late], found.overdue) == (2, ["Tern"], 5)


@pytest.mark.parametrize(
    ("late", "days", "told"), [(False, 0, False), (False, -1, True), (True, 0, True), (True, -1, True)]
)
def test_an_order_is_late_by_its_parts_or_by_its_day(late: bool, days: int, told: bool) -> None:
    """The day itself is no day too late."""
    one = order("Reed", due=TODAY + days * DAY, state="promised")
    standing = SimpleNamespace(late=late, stands="")
    found = _order(
        shop(), cast(Any, SimpleNamespace(order=one, standing=standing, lacking=())), private=False
    )
    assert (found.late, found.name) == (told, "Reed")


def test_parts_that_are_short_or_run_out_soon_stand_on_the_page() -> None:
    """Epoxy is below its level of 10 ml; The finish lasts 29 days, or 28 where as much was used in 28."""
    stock = plenty().with_only(goods.EPOXY, 9000)
    past = PagePast({fold(goods.FINISH): 90_000}, RUNS_OUT + 1, cast(Any, None), 0)
    page = shop_page(shop(stock), past, private=True)
    soon = shop_page(shop(stock), replace(past, days=RUNS_OUT), private=True)
    assert [one.name for one in page.short] == [goods.EPOXY]
    assert [one.name for one in soon.short] == [goods.EPOXY, goods.FINISH]


@pytest.mark.parametrize(
    ("why", "quantity", "named"),
    [
        ("threw out", 1000, [(3, 5000)]),
        ("broke", 1000, []),
        ("broke", 86_001, [(1, 56_001)]),
        ("broke", 90_000, [(1, 60_000)]),
        ("lent", 56_000, [(1, 56_000), (2, 20_000)]),
        ("gave away", 112_000, [(1, 56_000), (2, 20_000), (1, 82_000)]),
        ("gave away", 56_001, []),
        ("gave away", 28_000, []),
    ],
)
def test_lots_that_go_before_others(why: str, quantity: int, named: list[tuple[int, int]]) -> None:
    """Bottles of 56 ml: of 82 Reed holds 26, of 80 he holds 60; 5 are out of date and 5 are open. What is thrown
    out is what is out of date; whole bottles given away are sealed ones, and nobody's; what is claimed goes last.
    """
    stock = Stock()
    numbers = [
        stock.lot(goods.GLUE, 82_000),
        stock.lot(goods.GLUE, 80_000),
        stock.lot(goods.GLUE, 5000, use_by=TODAY - DAY),
        stock.lot(goods.GLUE, 5000, opened_on=TODAY),
    ]
    stock.claim("Reed", goods.GLUE, 26_000, lot=numbers[0])
    stock.claim("Reed", goods.GLUE, 60_000, lot=numbers[1])
    here = shop(stock)
    found = _named(here, goods.catalogue().part(goods.GLUE), quantity, why)
    assert [(numbers.index(lot) + 1, most) for lot, most in found] == named


def test_a_tool_is_worn_by_what_came_last_and_looked_at_from_four_fifths_of_its_life() -> None:
    """The newest lot counts; a pilot serves a barrel each, or as many as there are pilots for."""
    family = goods.catalogue().family("Avocet")
    pilots = [Tool("trimmer pilot", ""), Tool("trimmer pilot", "")]
    part = replace(goods.catalogue().part(goods.PILOT), detail=pilots[0])
    for named, uses in (
        ((goods.PILOT,), 2),
        ((goods.PILOT, "other"), 1),
        ((goods.PILOT, "a", "b"), 1),
        ((), 0),
    ):
        assert uses_of(shop(), part, pilots[0], replace(family, trimmer_pilots=named)) == uses
    stock = plenty().without(goods.DRILL)
    for days in (-9, -1):
        stock.lot(goods.DRILL, 1000, received_on=TODAY + days * DAY)
    drill = replace(goods.catalogue().part(goods.DRILL), detail=Tool("drill", "27/64", 100))
    here = shop(stock, goods.catalogue().with_parts(drill))

    def looked_at(many: int) -> list[int]:
        made = [(order("Old", 5), TODAY - 5 * DAY), (order("New", many), TODAY)]
        return [one.uses for one in inspections(here, Past({}, 0, made))]

    assert (looked_at(79), looked_at(80)) == ([], [80])


def test_what_went_out_beside_made_pieces_is_told_apart() -> None:
    """What was lost or saved is spoiled; a finished piece that went out is material."""
    rows = (
        took(goods.TUBE),
        took(goods.GLUE, of="supplies"),
        took("it", of="piece"),
        took(goods.TUBE, "lost", 30),
    )
    found = [(one.name, one.of, one.cost) for one in _beside(rows)]
    assert found == [
        (goods.TUBE, "materials", 100),
        (goods.GLUE, "supplies", 100),
        ("it", "materials", 100),
        ("pieces spoiled on the way", "spoiled", 30),
    ]


@pytest.mark.parametrize(
    ("quantity", "cost", "found"), [(3000, 30, 0), (5000, 50, 2000), (8000, 80, 5000), (0, 0, 0)]
)
def test_what_would_be_drawn_beyond_the_shelf_is_found(quantity: int, cost: int, found: int) -> None:
    """Three strips at 0.10 lie free; nobody offers any, so what is missing costs as much as they do."""
    stock = Stock()
    stock.lot(goods.STRIP, 4000, 40)
    stock.claim("Reed", goods.STRIP, 1000)
    here, part = shop(stock), goods.catalogue().part(goods.STRIP)
    done = would_cost(here, part, quantity, (), here.prices)
    assert (done.quantity, done.cost, done.found) == (quantity, cost, found)
