"""Where each coin of a piece goes: none is lost, none goes twice, whatever lots cost and however many are made."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import Part, Tool, fold
from inventory.jobs.accounts.cost import expected_cost
from inventory.jobs.accounts.cost_made import SPOILED, _of_lot, cost_of_piece
from inventory.jobs.accounts.wear import wear_of_one
from inventory.jobs.orders.finished import piece_part
from inventory.jobs.orders.money.pricing import would_draw
from inventory.jobs.orders.order_check import check
from inventory.ledger import Lot
from inventory.ledger.past.made import MadeLot, PiecesMade, TookLine
from inventory.ledger.shop import Shop
from jobs import goods
from jobs.shop import plenty, request
from jobs.shop import shop as shop_of


def dear(costs: list[int]) -> Shop:
    """The shop with plenty of everything, its lots at these costs."""
    there = shop_of(plenty())
    lots = {
        key: tuple(replace(lot, cost=costs[(at + lot.id) % len(costs)]) for at, lot in enumerate(several))
        for key, several in there.book.lots.items()
    }
    return replace(there, book=replace(there.book, lots=lots))


@examples(12)
@given(
    costs=st.lists(st.integers(0, 99_999), min_size=1, max_size=7),
    count=st.integers(1, 9),
    usually=st.booleans(),
)
def test_rows_are_all_that_would_be_drawn(costs: list[int], count: int, usually: bool) -> None:
    """Parts and spoiled ones come to what drawing it would book, to the last coin; no row is below nothing."""
    shop = dear(costs)
    report = check(shop, request(count))
    made = expected_cost(shop, report, usually=usually)
    times = made.minutes / Fraction(report.price.minutes * report.starts)
    drawn = would_draw(shop, report.plan, report.sourcing.buy, times)
    parts = sum(row.cost for row in made.rows if row.of not in ("tools", "work"))
    assert parts == sum(one.cost for one in drawn)
    assert min(row.cost for row in made.rows) >= 0
    assert made.total == sum(made.by_kind.values()) == made.goods + made.by_kind.get("work", 0)
    if not usually:
        assert parts == report.price.total


LINES = st.lists(st.tuples(st.sampled_from(("used", "lost")), st.integers(0, 5_000)), min_size=1, max_size=8)


@examples(25)
@given(lines=LINES, more=st.integers(0, 400), pieces=st.integers(1, 6))
def test_rows_of_made_pieces_are_their_lot(lines: list[tuple[str, int]], more: int, pieces: int) -> None:
    """What a lot cost is shared to the last coin over what its making used, also where that made others besides."""
    shop = shop_of(plenty())
    part = piece_part(shop.catalogue, "Turnstone gloss", goods.CHROME_KIT, goods.OLIVE, None, None)
    took = [
        TookLine(5, f"part {at}", "piece", "materials", word, 1000, cost)
        for at, (word, cost) in enumerate(lines)
    ]
    used = sum(cost for word, cost in lines if word == "used")
    mine = used * 3 // 4
    lot = MadeLot(5, date(2026, 11, 1), 1000 * pieces, mine)
    told = cost_of_piece(shop, part, PiecesMade([lot], took, (), {5: mine + more}))
    assert told is not None
    assert sum(row.cost for row in told.rows if row.of == "materials") == mine
    lost = sum(cost for word, cost in lines if word == "lost")
    spoiled = told.by_kind.get("spoiled", 0)
    assert spoiled <= lost
    assert more or not mine or spoiled == lost
    assert told.pieces == pieces


def test_what_goes_by_no_size_wears_too() -> None:
    """By hand, a Turnstone of one barrel: a use of the inserts, of 60 at 1,200 and of 50 at 2,000, and a cut of the
    saw, of 500 at 5,000; with two barrels a cut more. A cutter or a trimmer that is touched up costs nothing."""
    bare = shop_of(plenty())
    tools = {
        "round": (Tool("insert", "", 60), 1200),
        "square": (Tool("insert", "", 50), 2000),
        "blade": (Tool("Saw", "2 mm", 500), 5000),
        "head": (Tool("trimmer", "", 35), 1450),
        "gouge": (Tool("cutter", "", 9), 4000),
        "old square": (Tool("insert", "", None), 900),  # whose life nobody knows shares nothing
    }
    parts = {name: Part(name, tool) for name, (tool, _) in tools.items()}
    lots = {
        name: (Lot(number, name, "", None, 1000, cost),)
        for number, (name, (_, cost)) in enumerate(tools.items())
    }
    there = replace(
        bare,
        catalogue=replace(bare.catalogue, parts={**bare.catalogue.parts, **parts}),
        book=replace(bare.book, lots={**bare.book.lots, **lots}),
    )
    before, after = (wear_of_one(one, one.catalogue.pattern("Turnstone gloss")) for one in (bare, there))
    inserts = Fraction(1200, 60) / 2 + Fraction(2000, 50) / 2
    assert after - before == inserts + Fraction(5000, 500)
    one = there.catalogue.family(there.catalogue.pattern("Turnstone gloss").family)
    (barrel,) = one.barrels
    two = replace(one, barrels=(barrel, replace(barrel, name="cap")))
    both = replace(there, catalogue=replace(there.catalogue, families={fold(one.name): two}))
    without = wear_of_one(replace(both, book=bare.book), both.catalogue.pattern("Turnstone gloss"))
    more = wear_of_one(both, both.catalogue.pattern("Turnstone gloss"))
    assert more - without == inserts + 2 * Fraction(5000, 500)


def test_each_making_is_told_by_its_own_entry() -> None:
    """Two evenings made one piece each: what the one drew, and lost, is no part of what the other's cost."""
    day = date(2026, 5, 1)
    took = [
        TookLine(1, goods.TUBE, "piece", "materials", "used", 1000, 40),
        TookLine(1, goods.CHROME_KIT, "piece", "materials", "used", 1000, 460),
        TookLine(1, goods.TUBE, "piece", "materials", "lost", 1000, 40),
        TookLine(2, goods.TUBE, "piece", "materials", "used", 1000, 70),
        TookLine(2, goods.CHROME_KIT, "piece", "materials", "used", 1000, 530),
    ]
    lots = [MadeLot(1, day, 1000, 500), MadeLot(2, day, 1000, 600)]
    told = [_of_lot(lot, PiecesMade(lots, took, (), {1: 500, 2: 600}), ()) for lot in lots]
    first, second = ([(row.name, row.cost) for row in rows] for rows in told)
    assert first == [(goods.TUBE, 40), (goods.CHROME_KIT, 460), (SPOILED, 40)]
    assert second == [(goods.TUBE, 70), (goods.CHROME_KIT, 530)]
