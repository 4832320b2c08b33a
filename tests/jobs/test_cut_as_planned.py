"""Blanks cut together: what the plan cuts is laid out, set aside and drawn; what is not used is free again."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import Barrel, fold
from inventory.errors import BadSheet, Place
from inventory.jobs.orders.handing_over import HandingOver, hand_over
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.promising import promise
from inventory.jobs.orders.requests import request_of
from inventory.jobs.sessions.bench import benches
from inventory.jobs.sessions.cut_plan import cut_together
from inventory.jobs.sessions.reconciling.booking import SessionBooking
from inventory.jobs.sessions.sheet_contents import session_sheet
from inventory.ledger.shop import Shop
from inventory.measures import read_drill
from inventory.reports.filled import FilledBlank
from inventory.store import verify
from jobs import goods
from jobs.booking import booked as moved_on
from jobs.sessions import booked, filled, here, opened, piece, planned, promised, worked_out
from jobs.shop import order, plenty, shop

from .evening_case import NOTHING, Evening, antlers, lossless

CELL = Place("saturday", "cutting", 2)


def cut(evening: Evening) -> int:
    """Blanks of the cut plan, those to be bought with them."""
    (session,) = evening.report.sessions
    return sum(one.blanks for one in cut_together(evening.report.shop, session.rows).every)


def laid_out(evening: Evening, blank: str = goods.OLIVE) -> int:
    """Blanks the session asks for."""
    (bench,) = benches(evening.report, NOTHING)
    return next(one.total for one in bench.needs if one.part.name == blank) // 1000


def aside(there: Shop, blank: str = goods.OLIVE) -> int:
    """Blanks set aside or to buy for anybody."""
    return sum(one.quantity for one in there.book.claims_on(blank)) // 1000


# --- the plan, the bench and the book -------------------------------------------------------------------------------


def test_two_orders_share_a_blank(tmp_path: Path) -> None:
    """A blank gives two: one is cut and laid out, each promise holds one, one is drawn, and the other free again."""
    with opened(tmp_path / "book.kitdrawer") as store:
        promised(store, order("Reed", 1), order("Tern", 1))
        before = here(store).book.balance(goods.OLIVE)
        report = planned(store)
        evening = Evening(here(store), report, report.proposal.sessions[0])
        starts = sum(row.starts for row in report.sessions[0].rows)
        wanted = -(-starts // 2)
        assert (before.claimed > 1000 * wanted, cut(evening), laid_out(evening)) == (True, wanted, wanted)
        done = booked(
            store, filled([piece(at, row.starts) for at, row in enumerate(report.sessions[0].rows, 1)])
        )
        assert done.tally.quantity[fold(goods.OLIVE)] == 1000 * wanted
        balance = here(store).book.balance(goods.OLIVE)
        assert (before.on_hand - balance.on_hand, balance.claimed) == (1000 * wanted, 0)
        assert verify(store) == ()


def test_what_the_bench_says_of_blanks_held_twice() -> None:
    """Promises hold two, the plan cuts one: it says that the other will be free."""
    evening = Evening.of(shop(known=lossless()), [order("Reed", 1), order("Tern", 1)])
    (bench,) = benches(evening.report, NOTHING)
    assert [(part.name, many) for part, many in bench.spare] == [(goods.OLIVE, 1)]


@examples(25)
@given(
    counts=st.lists(st.integers(1, 5), max_size=3),
    stall=st.lists(st.integers(1, 5), max_size=3),
    blanks=st.integers(1, 12),
)
def test_all_goes_as_planned(counts: list[int], stall: list[int], blanks: int) -> None:
    """Cut plan = laid out = drawn; the stall's set-asides are what promises leave of it; nothing is lost or made."""
    if not counts and not stall:
        return
    there = shop(plenty().with_only(goods.OLIVE, 1000 * blanks, 100 * blanks + 7), lossless())
    evening = Evening.of(there, [order(f"order {at}", many) for at, many in enumerate(counts)], stall)
    wanted = cut(evening)
    assert wanted == -(-sum(row.starts for row in evening.session.rows) // 2)
    assert laid_out(evening) == wanted
    assert aside(evening.report.shop) == max(wanted, aside(evening.before))
    done = evening.done()
    assert done.tally.quantity[fold(goods.OLIVE)] == 1000 * wanted
    balance = done.shop.book.balance(goods.OLIVE)
    assert (balance.on_hand, balance.claimed) == (1000 * max(blanks - wanted, 0), 0)
    made = sum(cost.amount for *_, cost in done.tally.pieces)
    assert worth(there) + found(done) == worth(done.shop)
    assert made == sum(done.tally.cost.values())


def worth(there: Shop) -> int:
    """The cost of everything on the shelf."""
    return sum(lot.cost for lots in there.book.lots.values() for lot in lots)


def found(done: SessionBooking) -> int:
    """What turned up costs."""
    return sum(line.cost for line in done.proposal.lines if line.reason == "found")


def test_fewer_started_than_planned_cut_less() -> None:
    """Two of four were started: one blank is cut for them, the other stays."""
    evening = Evening.of(shop(known=lossless()), [order("Reed", 4)])
    assert evening.done(fewer=2).tally.quantity[fold(goods.OLIVE)] == 1000


def test_the_stall_takes_what_promises_leave() -> None:
    """Reed's blank has room for a stall piece: none is set aside for the stall, and none to buy."""
    there = shop(plenty().with_only(goods.OLIVE, 1000), lossless())
    evening = Evening.of(there, [order("Reed", 1)], [1])
    assert (cut(evening), aside(evening.report.shop)) == (1, 1)
    assert not any(bench.shortages() and [*bench.shortages()] for bench in benches(evening.report, NOTHING))


# --- what was really cut --------------------------------------------------------------------------------------------


def test_how_many_were_really_cut() -> None:
    """Three where one was planned: three are drawn, shared by the pieces, and it is said."""
    evening = Evening.of(shop(known=lossless()), [order("Reed", 1), order("Tern", 1)])
    done = evening.done(FilledBlank(CELL, goods.OLIVE, 3))
    assert done.tally.quantity[fold(goods.OLIVE)] == 3000
    drawn = [
        -line.quantity for line in done.proposal.lines if line.part == goods.OLIVE and line.reason == "used"
    ]
    assert drawn == [1500, 1500]
    assert f"{goods.OLIVE}: 3 cut, 1 reckoned for what was started." in done.announced


def test_a_piece_of_unknown_size_takes_as_much_as_the_longest() -> None:
    """Three blanks for a short barrel, a long one and one nobody measured: the last two take the same of them."""
    known = lossless().with_family("Godwit", barrels=(Barrel("stopper", None, read_drill("3/8")),))
    orders = [
        order("Reed", 1),
        order("Tern", 1, pattern="Avocet gloss", platings=("gunmetal",)),
        order("Knot", 1, pattern="Godwit plain"),
    ]
    stock = plenty()
    for part in (goods.AVOCET_KIT, goods.GODWIT_KIT, goods.CAP_TUBE, goods.BODY_TUBE):
        stock.lot(part, 4000)
    evening = Evening.of(shop(stock, known), orders)
    done = evening.done(FilledBlank(CELL, goods.OLIVE, 3))
    lines = [one for one in done.proposal.lines if one.part == goods.OLIVE and one.reason == "used"]
    drawn = {one.order: -one.quantity for one in lines}
    assert sum(drawn.values()) == 3000
    assert drawn["Reed"] < drawn["Tern"] - 1 <= drawn["Knot"] <= drawn["Tern"]  # thousandths, nothing lost


def test_an_empty_cell_is_as_reckoned_for_what_was_started() -> None:
    """And a blank written down as it was reckoned says nothing."""
    evening = Evening.of(shop(known=lossless()), [order("Reed", 3)])
    for done in (evening.done(), evening.done(FilledBlank(CELL, goods.OLIVE, 2))):
        assert done.tally.quantity[fold(goods.OLIVE)] == 2000
        assert not any("reckoned" in said for said in done.announced)


def test_a_remainder_that_would_give_a_piece_is_noted() -> None:
    """Half a blank is left: it is said, and is no stock."""
    evening = Evening.of(shop(known=lossless()), [order("Reed", 3)])
    done = evening.done()
    (said,) = [one for one in done.announced if "left over" in one]
    assert said.startswith(f"{goods.OLIVE}: ")
    assert "not in the book" in said
    assert done.shop.book.balance(goods.OLIVE).on_hand == 38_000
    whole = Evening.of(shop(known=lossless()), [order("Reed", 4)]).done()
    assert not any("left over" in one for one in whole.announced)


def lot_named(there: Shop, name: str) -> int:
    """The number of a measured antler."""
    return next(lot.id for lot in there.book.lots_of(goods.ANTLER) if lot.name == name)


def drawn_lots(done: SessionBooking) -> dict[int, int]:
    """Thousandths drawn of each antler."""
    sums: dict[int, int] = {}
    for line in done.proposal.lines:
        if line.account == "shelf" and line.part == goods.ANTLER and isinstance(line.lot, int):
            sums[line.lot] = sums.get(line.lot, 0) - line.quantity
    return sums


def test_a_measured_blank_is_shared_and_drawn_as_the_very_one() -> None:
    """Two orders' pieces out of the long antler: that one is drawn, the ones set aside are free again."""
    there = shop(antlers("70 mm", "70 mm", "140 mm"), lossless())
    evening = Evening.of(there, [order("Reed", 1, blank=goods.ANTLER), order("Tern", 1, blank=goods.ANTLER)])
    (session,) = evening.report.sessions
    lots = {one.lot for one in cut_together(evening.report.shop, session.rows).cuts}
    done = evening.done()
    assert drawn_lots(done) == dict.fromkeys(lots, 1000)
    balance = done.shop.book.balance(goods.ANTLER)
    assert (balance.on_hand, balance.claimed) == (3000 - 1000 * len(lots), 0)


def test_of_unknown_size_each_piece_takes_a_measured_blank_whole() -> None:
    """Nobody knows how much it takes of one: the first two of three, one for each of two pieces."""
    known = lossless().with_family("Godwit", barrels=(Barrel("stopper", None, read_drill("3/8")),))
    stock = antlers("70 mm", "90 mm", "140 mm")
    stock.lot(goods.GODWIT_KIT, 4000)
    evening = Evening.of(shop(stock, known), [order("Knot", 2, pattern="Godwit plain", blank=goods.ANTLER)])
    (session,) = evening.report.sessions
    cuts = cut_together(evening.report.shop, session.rows).cuts
    assert [(one.blanks, one.pieces) for one in cuts] == [(1, (("Knot", 1),))] * 2
    assert drawn_lots(evening.done()) == {one.lot: 1000 for one in cuts}


def test_another_antler_was_cut() -> None:
    """By its name, and the planned one was left whole."""
    there = shop(antlers("70 mm", "70 mm"), lossless())
    evening = Evening.of(there, [order("Reed", 1, blank=goods.ANTLER)])
    (session,) = evening.report.sessions
    (one,) = cut_together(evening.report.shop, session.rows).cuts
    other = "B" if one.name == "A" else "A"
    done = evening.done(
        FilledBlank(CELL, goods.ANTLER, 0, one.lot or 0),
        FilledBlank(CELL, goods.ANTLER, 1, name=f" {other.lower()}"),
    )
    assert drawn_lots(done) == {lot_named(there, other): 1000}


@pytest.mark.parametrize(
    ("blanks", "said"),
    [
        ([FilledBlank(CELL, goods.OLIVE, 1), FilledBlank(CELL, goods.OLIVE, 2)], "twice"),
        ([FilledBlank(CELL, goods.OLIVE, 0)], "at least one was cut"),
        ([FilledBlank(CELL, goods.ANTLER, 1)], "No piece of the sheet was started from it"),
        ([FilledBlank(CELL, goods.OLIVE, 1, name="the long one")], "The book has no such olive square"),
    ],
)
def test_blanks_that_cannot_be(blanks: list[FilledBlank], said: str) -> None:
    """Every bad cell is named, and nothing is booked."""
    evening = Evening.of(shop(known=lossless()), [order("Reed", 1)])
    with pytest.raises(BadSheet) as caught:
        evening.done(*blanks)
    assert any(said in place.problem for place in caught.value.where)


def test_none_cut_is_of_one_kind_of_blank() -> None:
    """Pieces were begun from olive and from antler: that an antler was cut says nothing of the olive."""
    orders = [order("Reed", 1), order("Tern", 1, blank=goods.ANTLER)]
    evening = Evening.of(shop(antlers("70 mm"), lossless()), orders)
    with pytest.raises(BadSheet) as caught:
        evening.done(FilledBlank(CELL, goods.OLIVE, 0))
    assert ["at least one was cut" in place.problem for place in caught.value.where] == [True]


def test_antlers_that_cannot_be() -> None:
    """One that is set aside for an order outside the session, and two of one that there is once."""
    there = shop(antlers("70 mm", "70 mm"), lossless())
    evening = Evening.of(there, [order("Reed", 1, blank=goods.ANTLER), order("Tern", 1, blank=goods.ANTLER)])
    alone = replace(evening, session=replace(evening.session, rows=evening.session.rows[:1]))
    held = {c.order: c.lot or 0 for c in evening.report.shop.book.claims_on(goods.ANTLER)}
    for blank, said in (
        (FilledBlank(CELL, goods.ANTLER, 1, held["Tern"]), "set aside for Tern"),
        (FilledBlank(CELL, goods.ANTLER, 2, held["Reed"]), "only 1 of it"),
    ):
        with pytest.raises(BadSheet) as caught:
            alone.done(blank)
        assert said in caught.value.where[0].problem
    assert not alone.done(
        FilledBlank(CELL, goods.OLIVE, 0)
    ).proposal.to_count  # a nought for what was not begun is fine


def test_the_sheet_asks(tmp_path: Path) -> None:
    """A row for each kind and each measured blank, with the plan in words."""
    with opened(tmp_path / "book.kitdrawer") as store:
        promised(store, order("Reed", 1), order("Tern", 1))
        planned(store)
        with store.reading() as read:
            (row,) = session_sheet(here(store), read.sessions()[0], read.mark(), read.learned()).blanks
        assert (row.part, row.lot, row.name) == (goods.OLIVE, 0, "")
        assert row.planned >= 1
        assert "for Reed" in row.pieces
        assert "for Tern" in row.pieces


def test_pieces_nobody_planned_are_cut_with_the_others(tmp_path: Path) -> None:
    """A row added by hand shares the blank: three good pieces of two rows are two blanks, not one and two halves."""
    with opened(tmp_path / "book.kitdrawer") as store:
        promised(store, order("Reed", 1))
        planned(store)
        more = {"pattern": "Turnstone gloss", "plating": "chrome", "blank": goods.OLIVE}
        done = worked_out(store, filled([piece(1, 1), piece(0, 2, **more)]))
        assert done.tally.quantity[fold(goods.OLIVE)] == 2000
        drawn = [-x.quantity for x in done.proposal.lines if x.part == goods.OLIVE and x.reason == "used"]
        assert drawn == [666, 1334]  # thousandths by length, nothing lost


# --- handing over without a session ---------------------------------------------------------------------------------


def test_one_cut_for_all_starts() -> None:
    """One good and one lost piece come out of one blank that gives two."""
    there = moved_on(
        shop(known=lossless()),
        promise(
            shop(known=lossless()),
            order("Reed", 1),
            check(shop(known=lossless()), request_of(order("Reed", 1))),
        ),
    )
    done = hand_over(there, there.book.orders["reed"], HandingOver(lost={"turn": 1}))
    assert {one.part: one.quantity for one in done.drawn}[goods.OLIVE] == 1000


def test_a_lost_antler_takes_another_free_one() -> None:
    """What the order holds is not enough for what was lost: a free one is drawn, not one of somebody else."""
    stock = antlers("70 mm", "70 mm", "70 mm")
    there = shop(stock, lossless())
    for name in ("Reed", "Tern"):
        one = order(name, 1, blank=goods.ANTLER)
        there = moved_on(there, promise(there, one, check(there, request_of(one))))
    held = {c.order: c.lot for c in there.book.claims_on(goods.ANTLER)}
    done = hand_over(there, there.book.orders["reed"], HandingOver(lost={"turn": 1}))
    drawn = {
        line.lot for line in done.proposal.lines if line.account == "shelf" and line.part == goods.ANTLER
    }
    assert len(drawn) == 2
    assert held["Tern"] not in drawn
