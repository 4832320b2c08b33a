"""Sessions laid out by hand: evenings and what is said of them, blanks shared, left over, spare, bottles left alone."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from typing import TYPE_CHECKING, cast

import pytest

from inventory.catalogue import STALL, fold
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.requests import request_of
from inventory.jobs.sessions.bench import _spare
from inventory.jobs.sessions.blanks_used import _left_over, _weights
from inventory.jobs.sessions.cut_plan import CutReport, Cutting, ToCut, cut_pieces, cut_together
from inventory.jobs.sessions.plan_rows import PlannedSession, PlanRow, good_of
from inventory.jobs.sessions.planned_blanks import _Held
from inventory.jobs.sessions.planning import row_of
from inventory.jobs.sessions.reconciling.bills_drawn import Share, Work, scaled
from inventory.jobs.sessions.session_needs import Together
from inventory.jobs.sessions.sharing import NO_END, Parts, Room, notes_of, room_for
from inventory.jobs.sessions.sheet_contents import _idle, planned_again, said_of, setup_lines
from inventory.ledger.sessions import Planned, Session
from inventory.making.blanks.fitting import PieceSize
from inventory.making.blanks.model import Segment, Wanted
from jobs import goods
from jobs.shop import TODAY, Stock, order, plenty, shop

if TYPE_CHECKING:
    from inventory.jobs.orders.needs import Requirements
    from inventory.jobs.sessions.reconciling.piece_rows import Made

EACH, ONCE = 45, 27
"""Minutes of a Turnstone, and of setting up its stages."""
ALL_DAYS = {"hours": "mon 1, tue 1, wed 1, thu 2, fri 1, sat 1, sun 1"}


def day(after: int) -> date:
    """So many days from today, a Wednesday."""
    return TODAY + timedelta(days=after)


def a_row(count: int = 4, **more: object) -> PlanRow:
    """An order's row without losses: as many starts as pieces."""
    one = order("Reed", count, **more)
    here = shop(known=goods.catalogue().with_losses("olive wood"))
    return row_of(one, check(here, request_of(one)))


ROOM = Room((day(1), day(3)), {day(1): 100, day(3): 50}, None)


@pytest.mark.parametrize(
    ("on", "due", "told"),
    [
        ({1: 4}, 9, ""),
        ({1: 3, 3: 1}, 9, "Reed: 3 of 4 on Thu 2026-11-26, 1 on Sat 2026-11-28."),
        ({1: 3, 8: 1}, 9, "Reed: 3 of 4 on Thu 2026-11-26; 1 on Thu 2026-12-03, not planned yet."),
        ({1: 3}, 9, "Reed: 3 of 4 on Thu 2026-11-26; 1 does not fit: give more hours or days."),
        ({1: 2}, 9, "Reed: 2 of 4 on Thu 2026-11-26; 2 do not fit: give more hours or days."),
        (
            {8: 3, 9: 1},
            10,
            "Reed does not fit this session: 3 of 4 on Thu 2026-12-03, 1 on Fri 2026-12-04, not planned yet.",
        ),
        (
            {},
            9,
            "Reed (180 min) does not fit this session: one piece takes 72 min with setting up; "
            "give more hours or days.",
        ),
        ({1: 4}, 1, "Reed is due on 2026-11-26, the day of its last session."),
        ({3: 4}, 2, "Reed is due on 2026-11-27, before its session."),
        ({1: 4}, 2, ""),
    ],
)
def test_what_is_said_of_an_order(on: dict[int, int], due: int, told: str) -> None:
    """Nothing where all of it goes on one evening; else what goes where, what does not, and what comes too late."""
    row = a_row(due=day(due))
    assert (row.starts, row.minutes, sum(many for _, many in row.setting_up)) == (4, 4 * EACH, ONCE)
    parts = Parts(row, tuple((day(at), many, many) for at, many in on.items()))
    assert " ".join(notes_of(parts, ROOM)) == told
    assert parts.left == 4 - sum(on.values())


def test_what_the_stall_gets_is_never_late() -> None:
    """It has no customer that waits."""
    row = a_row(due=day(1), customer=STALL)
    assert list(notes_of(Parts(row, ((day(1), 4, 4),)), ROOM)) == []


def test_minutes_of_a_day() -> None:
    """Of those planned, then of usual evenings after the last; before it and without usual ones none."""
    (week,) = {room_for(shop(settings=ALL_DAYS), (day(1),), None, None, ()).week}
    room = replace(ROOM, week=week)
    assert [room.of(day(at)) for at in (1, 2, 3, 4, 8)] == [100, 0, 50, 60, 120]
    assert [ROOM.of(day(at)) for at in (1, 2, 4)] == [100, 0, 0]


def test_room_of_named_days() -> None:
    """What is said of the hours, else the week's, else no end; less what sessions of the book take, setting up once."""
    thursday = day(1)
    stock = plenty()
    stock.orders = [order("Reed", 4, state="promised"), order("Wren", 4, state="released")]
    here = shop(stock, settings=ALL_DAYS)

    def taken(*rows: tuple[str, int], on: date = thursday) -> Session:
        planned = tuple(Planned(name, goods.CHROME_KIT, starts) for name, starts in rows)
        return Session("one", on, planned, number=1)

    def minutes(hours: float | None, *sessions: Session) -> int:
        return room_for(here, (thursday,), None, hours, sessions).minutes[thursday]

    assert [minutes(None), minutes(1.75), minutes(0.51)] == [120, 105, 30]
    assert minutes(None, taken(("Reed", 1))) == 120 - EACH - ONCE
    assert minutes(None, taken(("Reed", 1), ("Wren", 1), ("Nobody", 1))) == 120 - EACH - ONCE
    assert minutes(5, taken(("Reed", 2)), taken(("reed", 1))) == 300 - 3 * EACH - ONCE
    assert minutes(None, taken(("Reed", 1), on=day(2))) == 120
    assert minutes(None, taken(("Reed", 3))) == 0
    free = room_for(shop(), (), None, None, ())
    assert (free.days, free.minutes, free.unsaid, free.by_parts) == ((TODAY,), {TODAY: NO_END}, (), False)
    sundays = shop(settings={"hours": "sun 2"})
    named = room_for(sundays, (day(1), day(4)), None, None, ())
    assert (named.minutes, named.unsaid) == ({day(1): NO_END, day(4): 120}, (day(1),))
    assert room_for(sundays, (day(1),), None, 2, ()).unsaid == ()
    usual = room_for(sundays, (), day(11), None, ())
    assert (usual.days, usual.by_parts) == ((day(4), day(11)), True)
    assert room_for(sundays, (), day(10), None, ()).days == (day(4),)
    assert room_for(shop(settings={"hours": "wed 2"}), (), day(6), None, ()).days == (TODAY,)
    assert room_for(sundays, (), None, None, ()).days[-1] == day(396)  # the last Sunday of four hundred days


def test_minutes_of_a_session_set_each_stage_up_once() -> None:
    """Two rows of four pieces; a row that begins none sets nothing up."""
    row = a_row()
    assert PlannedSession("one", TODAY, (row, row)).minutes == 8 * EACH + ONCE
    assert PlannedSession("one", TODAY, (replace(row, starts=0),)).setting_up == 0


def wanted(*lengths: int) -> PieceSize:
    """A piece of these lengths, mm."""
    return PieceSize(Wanted(0, tuple(Segment(Fraction(one)) for one in lengths)), None)


OLIVE, ACRYLIC = (goods.catalogue().part(one) for one in (goods.OLIVE, goods.ACRYLIC))


@pytest.mark.parametrize(("offcut", "said"), [(62, True), (61, False)])
def test_what_would_give_a_piece_is_left_over(offcut: int, said: bool) -> None:
    """30 + 30 and a cut of 2 need 62 mm; the longer piece of the kind and the shorter of another do not count."""
    pieces = [
        ToCut("0", OLIVE, wanted(30, 30), 1, 1),
        ToCut("1", OLIVE, wanted(70), 1, 1),
        ToCut("2", ACRYLIC, wanted(20), 1, 1),
    ]
    cut = Cutting(OLIVE, 1, (("0", 1),), Fraction(offcut), "grey", 7)
    told = list(_left_over(CutReport((cut, cut), (), True), pieces, Fraction(2), {}))
    assert [one.split(" left over")[0] for one in told] == [
        f"{goods.OLIVE}: {offcut} mm of “grey” are"
    ] * said
    assert list(_left_over(CutReport((cut,), (), True), pieces, Fraction(2), {(goods.OLIVE, 7): 1})) == []
    unsized = replace(cut, offcut=None)
    assert list(_left_over(CutReport((unsized,), (cut,), True), pieces, Fraction(2), {})) == []


def test_blanks_are_shared_by_length() -> None:
    """Two blanks give a 30 and two 45 each: 60 and 180. A piece of no known size counts as the longest."""
    pieces = [
        ToCut("0", OLIVE, wanted(30), 1, 2),
        ToCut("1", OLIVE, wanted(45), 1, 4),
        ToCut("2", OLIVE, PieceSize(None, None), 1, 1),
        ToCut("3", ACRYLIC, wanted(60), 1, 5),
    ]
    plain = Cutting(OLIVE, 2, (("0", 1), ("1", 2)), Fraction(1))
    odd = Cutting(OLIVE, 1, (("2", 1),), None)
    report = CutReport((plain,), (odd,), True)
    shares = _weights(report, pieces, (goods.OLIVE, None))
    assert [Fraction(one, shares[0]) for one in shares] == [1, 3, 1, 0]
    whole = _weights(report, pieces, (goods.OLIVE, 9))
    assert [Fraction(one, whole[0]) for one in whole] == [1, 3, 1, 0]
    assert _weights(report, [pieces[2]] * 3, (goods.OLIVE, None)) == [2, 4, 1]


def test_blanks_the_cut_plan_does_without_are_spare() -> None:
    """Reed holds five and three are cut; what is cut for another order of the evening alone is not his."""
    stock = plenty()
    stock.orders = [order("Reed", 4, state="promised")]
    stock.claim("Reed", goods.OLIVE, 5000)
    stock.claim("Wren", goods.OLIVE, 9000)
    stock.claim("Reed", goods.OLIVE, 2000, "to buy")
    here, row = shop(stock), a_row()
    session = PlannedSession("one", TODAY, (row,))
    for many, other, over in ((3, 0, [2]), (4, 0, [1]), (5, 0, []), (6, 0, []), (3, 2, [2])):
        cuts = [Cutting(OLIVE, many, (("reed", 1),), None), Cutting(OLIVE, other, (("Wren", 1),), None)]
        report = CutReport(tuple(cuts), (), True)
        assert [left for _, left in _spare(here, session, report)] == over
        in_part = replace(session, rows=(replace(row, in_part=True),))
        assert list(_spare(here, in_part, report)) == []


def test_the_stall_sets_aside_what_others_do_not_hold() -> None:
    """Reed holds three blanks, one that is due in and one very lot: of cuts for both the stall pays the rest, once."""
    stock = plenty()
    number = stock.measured("grey", "30 mm", "100 mm")
    bought = stock.coming(goods.OLIVE, 5000, TODAY)
    stock.claim("Reed", goods.OLIVE, 3000)
    stock.claim("Reed", goods.ANTLER, 1000, lot=number)
    stock.claims.append(
        replace(stock.claims[0], account="due claim", quantity=1000, lot=None, purchase=bought)
    )
    held = _Held(shop(stock), ["Reed", "stall a"])
    both = Cutting(OLIVE, 2, (("Reed", 1), ("stall a", 1)), None)

    def lines(cut: Cutting, account: str) -> list[tuple[str, int, str | None, str]]:
        return [
            (one.account, one.quantity, one.order, one.reason)
            for one in held.beyond(cut, account, ["stall a"])
        ]

    assert lines(both, "claim") == []
    assert lines(both, "claim") == [("claim", 1000, "stall a", "claimed")]
    assert lines(both, "claim") == [("claim", 2000, "stall a", "claimed")]
    assert lines(both, "to buy") == [("to buy", 1000, "stall a", "missing")]
    assert lines(replace(both, pieces=(("Reed", 1),)), "claim") == []
    antler = goods.catalogue().part(goods.ANTLER)
    assert lines(Cutting(antler, 1, (("stall a", 1),), None, "grey", number), "claim") == []


def test_bottles_the_session_hardly_touches() -> None:
    """Open ones first: sealed ones are left alone once they hold what it needs; what is out of date always."""
    stock = Stock()
    sealed = stock.lot(goods.GLUE, 56_000)
    opened = stock.lot(goods.GLUE, 5000, opened_on=day(-5))
    old = stock.lot(goods.GLUE, 9000, opened_on=day(-5), use_by=day(-1))
    second = stock.lot(goods.GLUE, 56_000)
    part = goods.catalogue().part(goods.GLUE)

    def idle(need: int) -> set[int]:
        return set(_idle(shop(stock), Together(part, {"glue": need}, 0.0, 1.0, 0, 1)))

    assert idle(5000) == {old, sealed, second}
    assert idle(5001) == {old, second}
    assert idle(61_000) == {old, second}
    assert idle(61_001) == {old}
    assert opened not in idle(0)


def test_ways_of_cutting_in_words() -> None:
    """How many alike, for whom, and what is left over where anybody knows."""
    one = Cutting(OLIVE, 1, (("Reed", 2), ("Wren", 1)), Fraction(62))
    assert said_of(one) == "2 for Reed and 1 for Wren, 62 mm left over"
    assert said_of(replace(one, blanks=2, offcut=None)) == "2 × 2 for Reed and 1 for Wren"
    assert said_of(replace(one, offcut=Fraction(0))).endswith(", 0 mm left over")


def test_what_is_laid_out_by_stage() -> None:
    """In working order whatever order it comes in; what needs nothing at a stage is not laid out there."""
    part = goods.catalogue().part(goods.EPOXY)
    needs = [Together(part, {"assemble": 1500, "glue": 2000, "cut": 0}, 0.0, 1.0, 0, 1)]
    assert list(setup_lines([], needs)) == [("glue", "epoxy: 2 ml"), ("assemble", "epoxy: 1.5 ml")]


@pytest.mark.parametrize("real", [0, 1, 4, 8])
def test_all_that_was_weighed_is_drawn(real: int) -> None:
    """The bills expect 9: rows are drawn with what the scale says, to the thousandth; other parts as the bills say."""
    each = Share(goods.GLUE, "glue", 2, 1), Share(goods.STRIP, "finish", 5, 0)
    work = [Work(cast("Made", None), cast("Requirements", None), each, ()) for _ in range(3)]
    drawn = scaled(work, {fold(goods.GLUE): real})
    shares = [one for row in drawn for one in row.shares if one.part == goods.GLUE]
    assert sum(one.used + one.lost for one in shares) == real
    assert all(0 <= one.used <= 2 and 0 <= one.lost <= 1 for one in shares)
    assert [row.shares[1] for row in drawn] == [each[1]] * 3
    assert scaled(work, {fold(goods.GLUE): 9}) == tuple(work)


def test_the_good_ones_of_the_first_starts() -> None:
    """Without losses one of each; with them five are begun for three, and of the first of these one is wanted."""
    assert [good_of(a_row(), starts) for starts in range(6)] == [0, 1, 2, 3, 4, 4]
    one = order("Reed", 3)
    row = row_of(
        one, check(shop(known=goods.catalogue().with_losses("olive wood", turn="0.2")), request_of(one))
    )
    found = [good_of(row, starts) for starts in range(row.starts + 1)]
    assert (found[:2], found[-1], found) == ([0, 1], 3, sorted(found))
    assert good_of(replace(row, wanted=0), 2) == 0


ANTLER = goods.catalogue().part(goods.ANTLER)


def test_measured_blanks_are_cut_for_what_fits_them() -> None:
    """A piece too long for plain blanks comes out of a measured one that is longer; one of no known size takes
    whatever is left, and one that is too long for all takes none.
    """
    stock = Stock()
    long, short = stock.measured("long", "30 mm", "250 mm"), stock.measured("short", "30 mm", "60 mm")
    pieces = [
        ToCut("Reed", ANTLER, wanted(200), 0, 1),
        ToCut("Tern", ANTLER, wanted(400), 0, 1),
        ToCut("Knot", ANTLER, PieceSize(None, None), 1, 2),
    ]
    done = cut_pieces(shop(stock), pieces, ())
    assert [(one.lot, one.pieces) for one in done.cuts] == [(long, (("Reed", 1),)), (short, (("Knot", 1),))]
    assert done.short == (("Tern", 1), ("Knot", 1))


def test_what_takes_no_blank_is_cut_from_none() -> None:
    """A bill of a kit alone, whatever blank its order names."""
    known = goods.catalogue()
    gloss = known.pattern("Turnstone gloss")
    bare = replace(gloss, bill=tuple(line for line in gloss.bill if line.part != "the blank"))
    there = shop(known=known.with_pattern(bare))
    one = order("Reed", 2)
    assert cut_together(there, [row_of(one, check(there, request_of(one)))]).every == ()


def test_sessions_of_one_order_share_its_good_pieces() -> None:
    """Four without losses, three begun on the one day and one on the other: three are wanted there and one here."""
    stock = plenty()
    stock.orders = [order("Reed", 4, state="promised")]
    here = shop(stock, goods.catalogue().with_losses("olive wood"))

    def planned(number: int, starts: int) -> Session:
        row = Planned("Reed", goods.CHROME_KIT, starts)
        return Session(str(number), day(number), (row,), number=number)

    first, second = planned(1, 3), planned(2, 1)
    for one, starts in ((first, 3), (second, 1)):
        (row,) = planned_again(here, one, (second, first)).rows
        assert (row.starts, row.wanted) == (starts, starts)
