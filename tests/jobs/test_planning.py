"""Planning sessions: who is made when, what is set aside for the stall, how blanks are cut across all rows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import STALL, Blank, Material, Part, Tool, Tube, fold
from inventory.errors import BadInput, Refused
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.requests import OrderRequest, request_of
from inventory.jobs.sessions.cut_plan import cut_together
from inventory.jobs.sessions.plan_rows import PlanRow
from inventory.jobs.sessions.planning import Ask, PlanReport, plan, promised_row, row_of
from inventory.jobs.sessions.sheet_contents import session_named
from inventory.ledger.claims import claims_of
from inventory.ledger.sessions import Planned, Session
from inventory.ledger.shop import Shop
from inventory.measures import read_length
from inventory.store import Store, verify
from jobs import goods
from jobs.sessions import SATURDAY, booked, filled, here, opened, piece, planned, promised
from jobs.shop import DUE, TODAY, Stock, order, plenty, shop

SUNDAY = SATURDAY + timedelta(days=1)
STALL_WISH = OrderRequest("Turnstone gloss", ("chrome",), goods.OLIVE, 3, SATURDAY)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """The small shop with two orders of 45 minutes a piece, the later one promised first."""
    with opened(tmp_path / "book.kitdrawer") as found:
        promised(found, order("Later", 4, due=DUE), order("Sooner", 4, due=SUNDAY))
        yield found


def rows(report: PlanReport) -> list[tuple[str, date, list[str]]]:
    """Sessions with the orders in each."""
    return [(one.name, one.on, [row.order.name for row in one.rows]) for one in report.sessions]


def test_earliest_due_first_into_the_first_session_with_room(store: Store) -> None:
    """Without hours everything is made on the first day; with hours what does not fit goes to the second.

    Four hours are 240 min, 27 of them setting up: four of five starts of 45 go in. Of the second evening one is
    Sooner's, three are Later's.
    """
    assert rows(planned(store, Ask((SATURDAY, SUNDAY)))) == [("2026-11-28", SATURDAY, ["Sooner", "Later"])]
    report = planned(store, Ask((SUNDAY, SATURDAY), hours=4, anew=True))
    assert rows(report) == [
        ("2026-11-28 a", SATURDAY, ["Sooner"]),
        ("2026-11-29", SUNDAY, ["Sooner", "Later"]),
    ]
    assert [[(row.starts, row.wanted) for row in one.rows] for one in report.sessions] == [
        [(4, 3)],
        [(1, 1), (3, 2)],
    ]
    assert report.notes == (
        "The session of 2026-11-28 is given up.",
        "Sooner: 3 of 4 on Sat 2026-11-28, 1 on Sun 2026-11-29.",
        "Sooner is due on 2026-11-29, the day of its last session.",
        "Later: 2 of 4 on Sun 2026-11-29; 2 do not fit: give more hours or days.",
    )
    assert [one.minutes for one in report.sessions] == [4 * 45 + 27, 4 * 45 + 27]


def test_what_finds_no_room_and_what_comes_too_late(store: Store) -> None:
    """Both are said by name; where nothing has room nothing is planned."""
    report = plan(here(store), (), Ask((SATURDAY,), hours=4))
    assert any(note.startswith("Later (") and "does not fit this session" in note for note in report.notes)
    late = plan(here(store), (), Ask((SUNDAY + timedelta(days=1),)))
    assert late.notes == (f"Sooner is due on {SUNDAY}, before its session.",)
    with pytest.raises(Refused, match=r"nothing to plan.*does not fit"):
        plan(here(store), (), Ask((SATURDAY,), hours=0.5))


def test_orders_that_are_planned_already(store: Store) -> None:
    """They are left out and said; nothing else to plan is refused."""
    planned(store, Ask((SATURDAY,), ("Sooner",)))
    report = planned(store, Ask((SUNDAY,)))
    assert rows(report) == [("2026-11-29", SUNDAY, ["Later"])]
    assert report.notes == ("Sooner is planned already, for 2026-11-28.",)
    with store.reading() as read:
        sessions = read.sessions()
    with pytest.raises(Refused, match=r"nothing to plan\. Sooner is planned already"):
        plan(here(store), sessions, Ask((SUNDAY,)))


@pytest.mark.parametrize(
    "ask", [Ask((TODAY - timedelta(days=1),)), Ask((), until=TODAY - timedelta(days=1))], ids=["on", "until"]
)
def test_days_that_cannot_be(store: Store, ask: Ask) -> None:
    """A past day."""
    with pytest.raises(BadInput, match="is past; today is"):
        plan(here(store), (), ask)


def test_no_day_is_today(store: Store) -> None:
    """Where no hours are known."""
    assert [one.on for one in plan(here(store), (), Ask(())).sessions] == [here(store).today]


def test_orders_that_cannot_be_planned(store: Store) -> None:
    """Unknown ones and ones nobody promised."""
    with pytest.raises(Refused, match="“Nobody” is not in the book"):
        plan(here(store), (), Ask((SATURDAY,), ("Nobody",)))
    request = shop(Stock(orders=[order("Dream")]))
    with pytest.raises(Refused, match="not promised: it is an enquiry"):
        plan(request, (), Ask((SATURDAY,), ("Dream",)))


def test_a_finished_order_needs_no_session(store: Store) -> None:
    """It is said to be finished."""
    planned(store, Ask((SATURDAY,), ("Sooner",)))
    booked(store, filled([piece(1, 4)]))
    assert plan(here(store), (), Ask((SUNDAY,))).notes == ("Sooner is finished: `handed-over Sooner`.",)


def test_the_stall_sets_parts_aside(store: Store) -> None:
    """An order of its own, promised, with claims; the same again has another name."""
    report = planned(store, Ask((SATURDAY,), stall=(STALL_WISH, STALL_WISH)))
    names = [row.order.name for row in report.sessions[0].rows]
    assert names == ["stall 2026-11-28 a", "stall 2026-11-28 b"]
    after = here(store)
    assert {after.book.orders[fold(name)].customer for name in names} == {STALL}
    assert all(claims_of(after.book, name) for name in names)
    assert verify(store) == ()


def test_the_stall_holds_the_blanks_it_will_be_cut_from(store: Store) -> None:
    """Two pieces come out of a blank, and every piece begun has its half of one, there or to buy."""
    row = planned(store, Ask((SATURDAY,), stall=(STALL_WISH,))).sessions[0].rows[0]
    held = [one for one in claims_of(here(store).book, row.order.name) if fold(one.part) == fold(goods.OLIVE)]
    assert sum(one.quantity for one in held) == 1000 * -(-row.starts // 2) > 0


def test_for_the_stall_alone_tells_who_is_left_out(store: Store) -> None:
    """Promised orders wait unless they are named, and nobody has to guess it; planned ones are no longer told."""
    told = "For the stall alone. Promised, and planned too if you name them: "
    assert plan(here(store), (), Ask((SATURDAY,), stall=(STALL_WISH,))).notes == (f"{told}Sooner, Later.",)
    planned(store, Ask((SATURDAY,), ("Sooner",)))
    with store.reading() as read:
        sessions = read.sessions()
    assert plan(here(store), sessions, Ask((SUNDAY,), stall=(STALL_WISH,))).notes == (f"{told}Later.",)


def test_planning_anew_lets_the_stall_go(store: Store) -> None:
    """Its orders are released with all they held; promised orders keep theirs."""
    before = here(store).book
    planned(store, Ask((SATURDAY,), ("Sooner",), (STALL_WISH,)))
    planned(store, Ask((SUNDAY,), ("Later",), anew=True))
    after = here(store).book
    assert after.orders["stall 2026-11-28 a"].state == "released"
    assert after.balances[fold(goods.CHROME_KIT)] == before.balances[fold(goods.CHROME_KIT)]
    assert {(c.order, c.part, c.quantity) for c in after.claims} == {
        (c.order, c.part, c.quantity) for c in before.claims
    }
    with store.reading() as read:
        assert [one.state for one in read.sessions()] == ["dropped", "planned"]
    assert verify(store) == ()


def test_nothing_is_set_aside_for_stall_pieces_without_room(store: Store) -> None:
    """Of two stall requests the second does not fit: it is said, and no order of it comes into the book."""
    report = plan(here(store), (), Ask((SATURDAY,), (), (STALL_WISH, STALL_WISH), hours=4))
    assert [one.name for one in report.proposal.orders] == ["stall 2026-11-28 a"]
    assert {line.order for line in report.proposal.lines} == {"stall 2026-11-28 a"}
    assert any("does not fit this session" in note for note in report.notes)


def test_what_cannot_be_made_is_not_planned_for_the_stall() -> None:
    """A blank that is too small is refused with the reason."""
    with pytest.raises(Refused, match="cannot be made for the stall") as caught:
        plan(shop(known=goods.catalogue().with_parts(too_small())), (), Ask((SATURDAY,), stall=(STALL_WISH,)))
    assert "too small" in caught.value.hint


def test_stall_pieces_are_made_whatever_is_finished(store: Store) -> None:
    """Finished ones on the shelf do not count: the stall wants more of them."""
    planned(store, Ask((SATURDAY,), (), (STALL_WISH,)))
    booked(store, filled([piece(1, 3)]))
    assert plan(here(store), (), Ask((SUNDAY,), stall=(STALL_WISH,))).sessions[0].rows[0].starts >= 3


def test_many_plans_of_one_day() -> None:
    """Names never run out: after the day come a, b … z, aa."""
    stock = plenty()
    stock.orders = [order(state="promised")]
    names = ["2026-11-28", *(f"2026-11-28 {x}" for x in "abcdefghijklmnopqrstuvwxyz")]
    past = [
        Session(name, SATURDAY, (Planned("Reed", goods.CHROME_KIT, 4),), "dropped", at)
        for at, name in enumerate(names)
    ]
    assert plan(shop(stock), past, Ask((SATURDAY,))).sessions[0].name == "2026-11-28 aa"


def test_which_session_is_meant() -> None:
    """By name, or the only planned one; booked and given-up ones are told apart from unknown ones."""
    booked_one, dropped, first, second = (
        Session(name, SATURDAY, (), state)  # type: ignore[arg-type]  # states as words
        for name, state in (("a", "booked"), ("b", "dropped"), ("c", "planned"), ("d", "planned"))
    )
    assert session_named([booked_one, first], "") is first
    assert session_named([first, second], "D") is second
    for several, name, said in (
        ([booked_one, first], "a", "session of a is booked"),
        ([dropped], "b", "session of b is given up"),
        ([first], "x", "No session is called “x”"),
        ([first, second], "", "Which session"),
        ([booked_one], "", "No session is planned"),
    ):
        with pytest.raises(Refused, match=said):
            session_named(several, name)


# --- cutting --------------------------------------------------------------------------------------------------------


def rows_for(here: Shop, *counts: int, blank: str = goods.OLIVE, **more: object) -> list[PlanRow]:
    """One row for each count, as if each had the shelf to itself."""
    done = []
    for at, many in enumerate(counts):
        one = order(f"order {at}", many, blank=blank, **more)
        done.append(row_of(one, check(here, request_of(one))))
    return done


def lossless() -> goods.Goods:
    """The shop where nothing goes wrong."""
    return goods.catalogue().with_losses("olive wood").with_losses("antler")


@examples(20)
@given(counts=st.lists(st.integers(1, 7), min_size=1, max_size=4))
def test_cutting_together_needs_no_more_blanks(counts: list[int]) -> None:
    """Every piece is cut, from no more blanks than the orders would take one by one."""
    there = shop(known=lossless())
    several = rows_for(there, *counts)
    found = cut_together(there, several)
    each: dict[str, int] = {}
    for cut in found.cuts:
        for name, many in cut.pieces:
            each[name] = each.get(name, 0) + many * cut.blanks
        assert cut.offcut is not None
        assert cut.offcut >= 0
    assert each == {row.order.name: row.starts for row in several}
    alone = sum(row.report.plan.blanks.needed for row in several)
    assert sum(cut.blanks for cut in found.cuts) <= alone
    assert (found.short, found.proven) == ((), True)


# Worked blanks of 127 mm: common practice, no source. Two tubes of 53 mm with 3.2 mm each and 2 mm of kerf take
# 114.4 mm: one pen; with 9.5 mm each 127.0 mm: one pen and nothing to spare. One tube of 57.15 mm at 3.2 mm with a
# kerf of 3.2 mm: two take 123.9 mm; at 6.35 mm they would take 130.2 mm: one.
@pytest.mark.practice
@pytest.mark.parametrize(
    ("tube", "tubes", "allowance", "kerf", "pieces", "over"),
    [
        ("53 mm", 2, "3.2 mm", "2 mm", 1, 127 - 114.4),
        ("53 mm", 2, "9.5 mm", "2 mm", 1, 0.0),
        ("57.15 mm", 1, "3.2 mm", "3.2 mm", 2, 127 - 123.9),
        ("57.15 mm", 1, "6.35 mm", "3.2 mm", 1, 127 - 63.5),
    ],
)
def test_pens_in_a_blank(tube: str, tubes: int, allowance: str, kerf: str, pieces: int, over: float) -> None:
    """Two orders of one pen each share a blank where both fit into it, and only there."""
    known = lossless()
    old = known.part(goods.TUBE)
    assert isinstance(old.detail, Tube)
    saw = known.part(goods.SAW)
    assert isinstance(saw.detail, Tool)
    known = known.with_parts(
        replace(old, detail=replace(old.detail, length=read_length(tube))),
        replace(saw, detail=replace(saw.detail, size=kerf)),
    )
    material = Material("olive wood", read_length(allowance))
    known = replace(known, materials={**known.materials, fold("olive wood"): material})
    barrel = known.family("Turnstone").barrels[0]
    known = known.with_family(
        "Turnstone", barrels=tuple(replace(barrel, name=f"b{at}") for at in range(tubes))
    )
    there = shop(known=known)
    found = cut_together(there, rows_for(there, 1, 1))
    assert sum(cut.blanks for cut in found.cuts) == 2 // pieces
    assert {sum(many for _, many in cut.pieces) for cut in found.cuts} == {pieces}
    assert float(found.cuts[0].offcut or 0) == pytest.approx(
        max(over - float(kerf.split()[0]), 0), abs=0.001
    )  # less the last cut


def test_too_few_blanks() -> None:
    """Pieces no blank is there for are named."""
    there = shop(plenty().with_only(goods.OLIVE, 1000), lossless())
    found = cut_together(there, rows_for(there, 2, 3))
    assert sum(many for _, many in found.short) == 3


def test_measured_blanks_are_shared_out() -> None:
    """Each goes to one order, named; those set aside for others are left alone."""
    stock = plenty()
    for name, length in (("A", "150 mm"), ("B", "70 mm"), ("C", "150 mm")):
        number = stock.measured(name, "20 mm", length)
    stock.claim("Somebody", goods.ANTLER, 1000, lot=number)
    stock.orders = [order("Somebody", 1, blank=goods.ANTLER)]
    there = shop(stock, lossless())
    found = cut_together(there, rows_for(there, 1, 1, blank=goods.ANTLER))
    assert found.short == ()
    names = {cut.name for cut in found.cuts}
    assert names
    assert names <= {"A", "B"}
    assert sum(many for cut in found.cuts for _, many in cut.pieces) == 2


def test_blanks_of_a_size_nobody_wrote_down() -> None:
    """A piece from each, until there are no more."""
    bare = Part(goods.OLIVE, Blank("olive wood", "square"))
    there = shop(plenty().with_only(goods.OLIVE, 3000), lossless().with_parts(bare))
    found = cut_together(there, rows_for(there, 2, 2))
    assert [(cut.blanks, cut.pieces) for cut in found.cuts] == [
        (2, (("order 0", 1),)),
        (1, (("order 1", 1),)),
    ]
    assert found.short == (("order 1", 1),)


def test_a_promised_row_keeps_its_plating() -> None:
    """What is set aside says in which plating the rest is made."""
    stock = plenty()
    stock.orders = [order(state="promised", platings=("rhodium", "chrome"))]
    stock.claim("Reed", goods.CHROME_KIT, 4000)
    assert promised_row(shop(stock), stock.orders[0]).report.plan.plating == "chrome"


def test_no_spare_kits_where_no_blank_will_do() -> None:
    """What cannot be cut asks for one kit a start, not for more and more of them."""
    there = shop(plenty().with_only(goods.CHROME_KIT, 3000), lossless().with_parts(too_small()))
    report = check(there, request_of(order("Reed", 3)))
    assert report.verdict == "cannot"
    assert {need.part.name: need.need for need in report.plan.parts}[goods.CHROME_KIT] == 3000


def too_small() -> Part:
    """An olive blank thinner than the pen."""
    return Part(goods.OLIVE, Blank("olive wood", "square", read_length("8 mm"), read_length("127 mm")))
