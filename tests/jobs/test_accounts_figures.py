"""What was earned, what pieces sold for, what tools wear: figure by figure, worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest

from inventory.catalogue import STALL, Blank, Tool, fold
from inventory.errors import BadInput
from inventory.jobs.accounts.cost import _of_good, class_of, expected_cost, tools_and_work
from inventory.jobs.accounts.cost_otherwise import _one
from inventory.jobs.accounts.earned import _split, earned
from inventory.jobs.accounts.goals import stands, with_goal
from inventory.jobs.accounts.history import monthly
from inventory.jobs.accounts.prices import AskedPrices, break_even, rule_prices, sold_before
from inventory.jobs.accounts.spending import commission_of, expense
from inventory.jobs.accounts.use_history import _look
from inventory.jobs.accounts.wear import Wearing, lasting, wear_of_one
from inventory.jobs.ahead.markets import prepared, with_market
from inventory.jobs.learning.readings import Reading
from inventory.jobs.orders.finished import piece_part
from inventory.jobs.orders.order_check import check
from inventory.ledger.documents.proposal import Expense
from inventory.ledger.learned import MILLION, LearnedRate
from inventory.ledger.markets import Market
from inventory.ledger.past.sales import Gift, Handed, PastSales, WentOut
from inventory.ledger.shop import Shop
from inventory.measures import read_length
from inventory.reports.accounts.cost import CostReport, CostRow, SoldBefore
from inventory.reports.accounts.earned import Earned, EarnedPart, EarnedSums
from inventory.reports.accounts.goals import Goal
from jobs import goods
from jobs.shop import TODAY, order, plenty, request, shop

MAY, JUNE = date(2026, 5, 9), date(2026, 6, 3)
PIECE = piece_part(goods.catalogue(), "Turnstone gloss", goods.CHROME_KIT, goods.OLIVE, None, None)


def selling() -> Shop:
    """Reed was handed over in May, Fair sold at a market; Gull is of no known price."""
    orders = (
        order("Reed", 0, due=MAY, state="handed over", handed=2, price=3000),
        order("Fair", 0, due=JUNE, state="handed over", handed=1, price=2500, customer="Quay"),
        order("Gull", 0, due=MAY, state="handed over", handed=1, price=None),
    )
    there = shop(replace(plenty().book, orders={fold(one.name): one for one in orders}))
    return replace(there, catalogue=goods.catalogue().with_parts(PIECE))


def past(costs: tuple[WentOut, ...] = (), **more: object) -> PastSales:
    """Entries 1 … 9 of May."""
    usual = PastSales((), (), costs, {}, {}, dict.fromkeys(range(1, 10), MAY), (), ())
    return replace(usual, **more)  # type: ignore[arg-type]  # fields by name


def told(known: PastSales) -> Earned:
    return earned(selling(), {}, known, MAY, JUNE)


def test_a_sale_brings_its_price_and_takes_what_its_entry_drew() -> None:
    """Two of Reed's from two sessions, shared by what they cost; of a piece of 400 a quarter is supplies."""
    costs = (
        WentOut(1, "reed", "piece", "used", 400, 7),
        WentOut(1, "reed", "piece", "used", 400, 8),
        WentOut(1, "reed", "packaging", "used", 30),
        WentOut(1, "reed", "materials", "saved", 99),
        WentOut(1, "reed", "materials", "lent", 99),
    )
    found = told(
        past(
            costs,
            handed=(Handed(1, MAY, "hand-over", "reed", 2),),
            makings={7: {"materials": 300, "supplies": 100}},
            sessions={7: "one", 8: "two"},
        )
    )
    sums = {part.groups["session"]: part.sums for part in found.parts if part.sums.sold}
    assert set(sums) <= {"-", "one", "two"}
    one, two = sums["one"], sums["two"]
    assert (one.materials, one.supplies, two.materials, two.supplies) == (300, 100, 400, 0)
    assert (one.pieces, two.pieces, one.sold, two.sold) == (1, 1, 2892, 2891)
    whole = found.total
    assert (whole.sold, whole.packaging, whole.pieces, whole.unpriced) == (6000, 30, 2, 0)
    assert whole.minutes == {"in all": 90}
    assert {part.groups["kind"] for part in found.parts} == {"order"}
    assert {part.groups["material"] for part in found.parts} == {"olive wood"}


def test_what_is_given_takes_what_was_given_away() -> None:
    """A gift of its own entry costs what left as given; of an entry of two gifts it is told of none."""
    costs = (
        WentOut(3, None, "materials", "given away", 700),
        WentOut(3, None, "materials", "lost", 40),
        WentOut(4, None, "materials", "given away", 900),
    )
    mine, other = Gift(3, MAY, fold(PIECE.name), 1), Gift(4, MAY, fold(PIECE.name), 1)
    found = told(past(costs, gifts=(mine, other, other)))
    gifts = [part.sums for part in found.parts if part.groups["kind"] == "gift"]
    assert [(one.materials, one.sold, one.pieces) for one in gifts] == [(700, 0, 1), (0, 0, 1), (0, 0, 1)]
    assert found.total.other == 940
    assert found.total.materials == 700


def test_pieces_nobody_knows_the_making_of_are_materials() -> None:
    """Counted in, or of an entry that made none; else as what their entry took, nothing below nothing."""
    known = past(makings={1: {"supplies": 5}, 7: {"materials": 100, "tools": 300, "supplies": -9}, 8: {}})
    found = [_split(known, WentOut(1, None, "piece", "used", 400, made)) for made in (None, 7, 8)]
    shared = {"materials": 100, "supplies": 0, "packaging": 0, "tools": 300}
    assert found == [{"materials": 400}, shared, {"materials": 400}]


@pytest.mark.parametrize(
    ("row", "where"),
    [
        (WentOut(5, "reed", "materials", "lost", 60), "spoiled"),
        (WentOut(6, None, "materials", "lost", 60), "spoiled"),
        (WentOut(5, None, "materials", "lost", 60), "other"),
        (WentOut(5, None, "supplies", "used", 60), ""),
        (WentOut(5, None, "materials", "robbed", 60), ""),
        (WentOut(5, None, "supplies", "repair", 60), "other"),
        (WentOut(5, None, "materials", "lent", 60), ""),
    ],
)
def test_what_left_without_a_sale(row: WentOut, where: str) -> None:
    """Spoiled where it was made, lost else; what good pieces took lies in them."""
    found = told(past((row,), sessions={6: "evening"})).total
    assert {
        name: getattr(found, name)
        for name in ("spoiled", "other", "supplies", "materials")
        if getattr(found, name)
    } == ({where: 60} if where else {})


def test_what_was_sold_later_than_its_line_says_and_what_was_spent() -> None:
    """A sheet's entry of June for a piece due in May; a fee at the place of a sale is that place's."""
    found = told(
        past(
            handed=(
                Handed(1, JUNE, "days", "gull", 3),
                Handed(2, JUNE, "days", "fair", 5),
                Handed(3, JUNE, "hand-over", "reed", 2),
            ),
            expenses=(
                Expense("fee", 4500, JUNE, "QUAY"),
                Expense("fuel", 900, MAY, "", "fair"),
                Expense("cards", 100, MAY),
            ),
            sold_off=("fair",),
        )
    )
    assert found.booked_later == 3
    assert found.total.unpriced == 3
    spent = [
        (part.groups["kind"], part.groups["place"], part.sums.spent)
        for part in found.parts
        if part.sums.spent
    ]
    assert spent == [
        ("market", "Quay", {"fee": 4500}),
        ("market", "Quay", {"fuel": 900}),
        ("-", "-", {"cards": 100}),
    ]


def test_what_such_pieces_sold_for() -> None:
    """Two at 30.00, one at 25.00, one at 20.00, of a promised order those that went out; the last day's is the last."""
    orders = (
        order("a", 0, handed=2, price=3000, state="handed over"),
        order("b", 0, handed=1, price=2500, state="handed over"),
        order("c", 4, handed=1, price=2000, state="promised"),
        order("d", 0, handed=1, price=None, state="handed over"),
        order("e", 0, handed=1, price=9000, state="handed over", pattern="Avocet gloss"),
    )
    there = shop(replace(plenty().book, orders={one.name: one for one in orders}))
    handed = {"a": MAY, "b": JUNE, "c": MAY, "d": JUNE, "e": JUNE}
    assert sold_before(there, "turnstone gloss", handed) == SoldBefore(4, 2000, 3000, 2750, 2500, JUNE)
    del handed["c"]
    assert sold_before(there, "Turnstone gloss", handed) == SoldBefore(3, 2500, 3000, 3000, 2500, JUNE)
    assert sold_before(there, "Turnstone gloss", {"d": JUNE}) is None


def test_prices_by_rule() -> None:
    """Two pieces of 10.00 of goods and 5.00 of work in all, of half an hour each."""
    rows = CostRow("kit", "materials", 1000), CostRow("work", "work", 500)
    cost = CostReport("Turnstone gloss", "", TODAY, 2, rows, Fraction(60), ())
    plain = rule_prices(shop(), cost, AskedPrices(), None)
    assert [(one.rule, one.price, one.an_hour) for one in plain] == [
        ("30 % margin", 1072, 1144),
        ("2 × cost", 1500, 2000),
        ("15.00 EUR an hour", 1250, 1500),
    ]
    before = SoldBefore(1, 1600, 1600, 1600, 1600, MAY)
    asked = AskedPrices(Fraction(1, 4), Fraction(3), 2000, 1800, 5000)
    all_ = rule_prices(shop(), cost, asked, before)
    assert [one.price for one in all_] == [1000, 2250, 1500, 1600, 1800]
    assert break_even(cost, AskedPrices(), plain) is None
    for prices, price, pieces in ((all_, 1800, 4), (all_[:4], 1600, 5), (all_[:3], 1000, 10)):
        found = break_even(cost, asked, prices)
        assert found is not None
        assert (found.fee, found.price, found.pieces) == (5000, price, pieces)
        assert found.contribution == price - 500
    assert rule_prices(shop(), replace(cost, minutes=Fraction(0)), AskedPrices(), None)[0].an_hour is None


def tooled(life: int, cost: int, quantity: int = 1000) -> Shop:
    """The drill lasts so many uses, and as many of it as said cost so much."""
    known = goods.catalogue()
    drill = replace(known.part(goods.DRILL), detail=Tool("drill", "27/64", life))
    return shop(plenty().with_only(goods.DRILL, quantity, cost), known.with_parts(drill))


def test_tools_wear_by_what_one_costs_and_lasts() -> None:
    """Three drills of 30.00 in all, of 300 holes each, one a piece: 3.33 a hole; rests are carried on."""
    there = tooled(300, 3000, 3000)
    pattern = there.catalogue.pattern("Turnstone gloss")
    assert wear_of_one(there, pattern) == Fraction(10, 3)
    wearing = Wearing(there)
    assert [wearing.of(pattern, 1) for _ in range(4)] == [3, 4, 3, 3]
    assert wearing.of(None, 9) == 0
    assert [cost for _, _, cost in lasting(tooled(300, 0, 0))] == [1200]
    rows = list(tools_and_work(there, pattern, 6, Fraction(270)))
    assert [(row.name, row.cost, row.quantity) for row in rows[1:]] == [("work", 6750, 270)]
    assert rows[0].cost == 20
    assert [row.cost for row in tools_and_work(shop(), pattern, 6, Fraction(1))] == [25]
    assert list(tools_and_work(shop(), pattern, 6, Fraction(0))) == []


def test_what_a_part_is_to_a_piece() -> None:
    part = goods.catalogue().part
    assert [
        class_of(part(one)) for one in (goods.DRILL, goods.TUBE, goods.REFILL, goods.GLUE, goods.STRIP)
    ] == [*("tools", "materials", "materials", "supplies", "supplies")]


def test_goals_share_what_was_earned() -> None:
    """50.00 since May, 30.00 of it since June: what the first has counts for no later one; no more than its sum."""
    parts = [EarnedPart(day, {}, EarnedSums(1, left)) for day, left in ((MAY, 2000), (JUNE, 3000))]
    made = Earned(MAY, JUNE, tuple(parts), ())
    rows = Goal("lathe", 1500, TODAY, MAY), Goal("saw", 9900, TODAY, MAY), Goal("mug", 900, TODAY, JUNE)
    assert [one.reached for one in stands(rows, made)] == [1500, 3500, 0]
    assert [one.reached for one in stands(rows[:1] + rows[2:], made)] == [1500, 900]


def test_what_is_no_goal_and_no_expense() -> None:
    """A sum above nothing, a day to come, from a day that was; what was spent, on a day that was."""
    day = timedelta(days=1)
    good = Goal("lathe", 1, TODAY + day, TODAY)
    assert with_goal(shop(), good).title
    for bad in (
        replace(good, amount=0),
        replace(good, by=TODAY),
        replace(good, since=TODAY + day),
        replace(good, name=" "),
    ):
        with pytest.raises(BadInput):
            with_goal(shop(), bad)
    assert expense(shop(), "fee", 1, TODAY).amount == 1
    for what, amount, on in (("fee", 0, TODAY), (" ", 1, TODAY), ("fee", 1, TODAY + day)):
        with pytest.raises(BadInput):
            expense(shop(), what, amount, on)
    assert [commission_of(shop(), text, 1030) for text in ("15 %", "5 %", "4.50")] == [154, 52, 450]
    for text in ("0 %", "100 %"):
        with pytest.raises(BadInput):
            commission_of(shop(), text, 1030)


def test_three_years_are_told_by_month() -> None:
    """Thirty-six months, the first and the last counted; a day into the next and it is years."""
    assert monthly(date(2024, 11, 30), date(2027, 10, 1))
    assert not monthly(date(2024, 11, 30), date(2027, 11, 1))
    assert not monthly(date(2024, 1, 1), date(2027, 1, 1))


def test_blanks_of_good_pieces_are_in_proportion() -> None:
    """Five begun for four good: three olive blanks, 2.4 of them for the good ones; glue is the evening's."""
    good = _of_good(check(shop(), request(4)).plan)
    assert {part: good[part] for part in (goods.OLIVE, goods.TUBE, goods.STRIP, goods.CHROME_KIT)} == {
        goods.OLIVE: 2400,
        goods.TUBE: 4000,
        goods.STRIP: 2000,
        goods.CHROME_KIT: 4000,
    }


@pytest.mark.parametrize(("count", "fits"), [(1, True), (2, False)])
def test_a_blank_that_is_too_small_as_a_rule_may_do_once(count: int, fits: bool) -> None:
    """Sold at 40 mm, one lies there of 65: enough for one piece of 55.8 mm, not for two."""
    short = replace(goods.catalogue().part(goods.OLIVE), name="stub")
    assert isinstance(short.detail, Blank)
    short = replace(short, detail=replace(short.detail, length=read_length("40 mm")))
    stock = plenty()
    stock.lot("stub", 1000, 100, smallest_diameter=read_length("19 mm"), length=read_length("65 mm"))
    there = shop(stock, goods.catalogue().with_parts(short).with_losses("olive wood"))
    base = expected_cost(there, check(there, request(count)))
    found = _one(there, base, ("blank", "stub", request(count, blank="stub")), usually=False)
    assert (found.difference is not None) is fits
    assert fits or found.because == "stub is too small"


@pytest.mark.parametrize(("first", "document", "counts"), [(4, 5, True), (3, 5, False), (4, 9, False)])
def test_a_look_back_says_the_range_of_the_rate(first: int, document: int, counts: bool) -> None:
    """2 ml by the piece at 0.5 to 2 and 1 ml by the session as written; the fourth entry counts, the ninth does not."""
    rate = LearnedRate(goods.GLUE, "piece", MILLION, MILLION // 2, 2 * MILLION, 5, (9,))
    other = replace(rate, part=goods.EPOXY, low=0, outliers=(5,))
    amounts = {"piece": Fraction(2), "session": Fraction(1)}
    look = Reading(document, MAY, "weighed", 3500, 0, amounts, 1, first)
    found = _look(look, fold(goods.GLUE), replace(shop().learned, rates=(rate, other)), 3)
    assert found.used == Fraction(7, 2)
    assert [found.expected, found.low, found.high] == [Fraction(3), Fraction(2), Fraction(5)]
    assert found.counts is counts


def test_a_market_sells_from_nothing_to_ten_thousand() -> None:
    for expected in (None, 0, 10_000):
        assert with_market(shop(), Market("Quay", MAY, expected)).title.startswith(
            "Market: Quay on 2026-05-09"
        )
    for bad in (Market("Quay", MAY, -1), Market("Quay", MAY, 10_001), Market(" ", MAY, 1)):
        with pytest.raises(BadInput):
            with_market(shop(), bad)
    stock = plenty()
    stock.orders = [
        order("a", 3, customer=STALL, state="promised"),
        order("b", 5, customer=STALL, state="wish"),
        order("c", 7, state="promised"),
    ]
    assert prepared(shop(stock)) == 3
