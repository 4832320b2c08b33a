"""What a session's readings and bills come to, row by row, worked out by hand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from types import SimpleNamespace
from typing import Any, cast

import pytest

from inventory.catalogue import Kit, Part, Supply, fold
from inventory.errors import Place
from inventory.jobs.sessions.reconciling.bills_drawn import DrawnTally, Share, Work, less, scaled
from inventory.jobs.sessions.reconciling.booking import book_session
from inventory.jobs.sessions.reconciling.measured import Measures, _note
from inventory.jobs.sessions.reconciling.session_report import _lost, _made, _short, _used, look_back
from inventory.jobs.sessions.reconciling.weighing import Weighed, _family, weigh
from inventory.ledger import Lot
from inventory.ledger.costs import UNKNOWN, Cost
from inventory.ledger.learned import LearnedFigures, LearnedLoss, LearnedRate
from inventory.ledger.sessions import Observed, Outcome
from inventory.reports.filled import FilledBottle
from inventory.reports.session_report import SessionReport
from jobs import goods
from jobs.evening_case import Evening
from jobs.sessions import filled, piece
from jobs.shop import TODAY, order, plenty, shop

GLUE = fold(goods.GLUE)
LOT, OTHER = Lot(7, goods.GLUE, "", TODAY, 50_000, 600), Lot(8, goods.GLUE, "", TODAY, 50_000, 600)
ONCE = FilledBottle(Place("saturday", "bottles", 2), goods.GLUE, 7, 1000, 100)
TWICE = replace(ONCE, before=2000)


def weighed(used: int, error: int = 0, *, gone: int = 0, sound: bool = True) -> Weighed:
    """A row that says so much was used, of two bottles of 3 and 50 ml."""
    return Weighed(LOT, used, gone, error, ((7, 3000), (8, 50_000)), sound, ())


def noted(*rows: tuple[Weighed, FilledBottle]) -> Measures:
    """What several rows of one part come to."""
    done = Measures()
    for row, bottle in rows:
        _note(row, GLUE, bottle, done)
    return done


@pytest.mark.parametrize(
    ("used", "named", "fuller"),
    [
        (-5, [], [(LOT, 5)]),
        (0, [], []),
        (1, [(7, 1)], []),
        (3000, [(7, 3000)], []),
        (3001, [(7, 3000), (8, 1)], []),
        (9000, [(7, 3000), (8, 6000)], []),
    ],
)
def test_what_was_used_leaves_the_bottles_in_turn(
    used: int, named: Sequence[tuple[int, int]], fuller: Sequence[tuple[Lot, int]]
) -> None:
    """The first is drained before the next is touched; what is less than nothing was there beyond the book."""
    done = noted((weighed(used), ONCE))
    assert (done.named.get(GLUE, []), done.fuller) == (named, fuller)
    assert (done.used, done.way, done.gone) == ({GLUE: used}, {GLUE: "weighed"}, {})


def test_errors_of_several_bottles_add_up_as_squares() -> None:
    """0.3 and 0.4 ml are 0.5 together; what was used, and gone before, is added up."""
    done = noted(
        (weighed(1000, 300, gone=20), ONCE), (weighed(2000, 400), ONCE), (weighed(4000, gone=-5), ONCE)
    )
    assert (done.error, done.used, done.gone_of(GLUE)) == ({GLUE: 500}, {GLUE: 7000}, 15)
    assert noted((weighed(0), ONCE)).error == {GLUE: 0}


@pytest.mark.parametrize(
    ("bottles", "sure"),
    [
        ([TWICE], True),
        ([ONCE], False),
        ([TWICE, TWICE], True),
        ([TWICE, ONCE], False),
        ([ONCE, TWICE], False),
    ],
)
def test_a_use_is_sure_where_every_bottle_was_weighed_twice(bottles: list[FilledBottle], sure: bool) -> None:
    """One that was weighed only afterwards makes the sum of all unsure."""
    assert (GLUE in noted(*((weighed(10), one) for one in bottles)).sure) is sure


def test_a_reading_that_cannot_be_use_is_of_the_first_such_bottle() -> None:
    """It is no more there than the book says, either."""
    second = replace(weighed(-7, sound=False), lot=OTHER)
    done = noted((weighed(-9, sound=False), ONCE), (second, ONCE))
    assert (done.unsound, done.fuller) == ({GLUE: LOT}, [])


@pytest.mark.parametrize(
    ("more", "unseen", "sound"),
    [(5000, 0, True), (5001, 0, False), (7000, 2000, True), (7001, 2000, False)],
)
def test_a_tenth_of_a_bottle_may_be_more_than_the_book_has(more: int, unseen: int, sound: bool) -> None:
    """And what the bills drew of it since anybody looked, which may have been too much."""
    part = Part(goods.GLUE, Supply("adhesive", 50_000, 12_000, density=Fraction(1)), "ml")
    there = replace(LOT, quantity=20_000, opened_on=TODAY)
    row = replace(ONCE, gross=12_000 + 20_000 + more)
    done = weigh(part, [there], row, {7}, 0, unseen)
    assert done is not None
    assert (done.sound, done.used) == (sound, -more)


def test_shares_are_scaled_to_what_was_used_with_nothing_lost() -> None:
    """7 of 10 expected: each share rounded down as far as it adds up to 7; nothing of what was heavier than before."""
    shares = [
        Share(goods.GLUE, "glue", 3, 2),
        Share(goods.TUBE, "glue", 1000, 0),
        Share(goods.GLUE, "turn", 5, 0),
    ]
    work = [Work(cast(Any, None), cast(Any, None), tuple(shares), ())]
    for real, drawn in ((7, [2, 1, 4]), (10, [3, 2, 5]), (12, [3, 2, 5]), (0, [0, 0, 0]), (-4, [0, 0, 0])):
        (one,) = scaled(work, {GLUE: real, "not drawn": -5})
        found = [
            many for share in one.shares if share.part == goods.GLUE for many in (share.used, share.lost)
        ]
        assert [found[0], found[1], found[2] + found[3]] == drawn
        assert one.shares[1] == shares[1]


def test_lots_have_left_what_was_not_drawn_from_them() -> None:
    """In turn, the first to its end."""
    assert less([(7, 3), (8, 4), (9, 5)], 5) == [(8, 2), (9, 5)]
    assert less([(7, 3)], 3) == []


@pytest.mark.parametrize(
    ("caps", "bodies", "robbed", "taken"),
    [(2, 2, 0, [2, 2]), (2, 0, 2, [0, 0]), (1, 2, 1, [1, 1]), (0, 1, 2, [0, 0]), (3, 1, 1, [1, 1])],
)
def test_the_tube_there_is_least_of_says_how_many_kits_are_robbed(
    caps: int, bodies: int, robbed: int, taken: list[int]
) -> None:
    """Two pieces are lost with both their tubes: those that come out of kits come out in pairs."""
    known = goods.catalogue().with_parts(Part(goods.AVOCET_KIT, Kit("Avocet", "gunmetal", tubes_inside=True)))
    stock = plenty()
    stock.lot(goods.AVOCET_KIT, 9000, 900)
    for tube, many in ((goods.CAP_TUBE, caps), (goods.BODY_TUBE, bodies)):
        if many:
            stock.lot(tube, 1000 * many, 10)
    wanted = order("Tern", 3, pattern="Avocet gloss", platings=("gunmetal",))
    evening = Evening.of(shop(stock, known), [wanted])
    done = book_session(evening.after_planning, evening.session, filled([piece(1, 1, lost={"turn": 2})]))
    drawn = [done.tally.quantity[fold(part)] // 1000 for part in (goods.CAP_TUBE, goods.BODY_TUBE)]
    saved = [(f"{goods.AVOCET_KIT} without its tubes", 1000 * robbed)] if robbed else []
    assert (drawn, done.tally.saved, done.tally.found) == (taken, saved, [])


def test_what_promised_orders_wait_for_is_what_is_to_be_bought_for_them() -> None:
    """What is set aside for one, or due in, is not missing; nor is what an order waits for that there is no more."""
    stock = plenty()
    stock.orders = [order("Reed", due=TODAY + timedelta(days=9), state="promised")]
    for name, part, account in (
        ("Reed", goods.TUBE, "to buy"),
        ("Reed", goods.REFILL, "claim"),
        ("Reed", goods.OLIVE, "due claim"),
        ("Gone", goods.STRIP, "to buy"),
    ):
        stock.claim(name, part, 2000, account)  # type: ignore[arg-type]  # spelt as text
    (one,) = _short(cast(Any, SimpleNamespace(shop=shop(stock))))
    assert (one.order, one.part, one.quantity, one.due) == (
        "Reed",
        goods.TUBE,
        2000,
        TODAY + timedelta(days=9),
    )


SOLVENT = Part(goods.GLUE, Supply("solvent", 50_000, 12_000, density=Fraction(1)), "ml")


@pytest.mark.parametrize(
    ("there", "before", "gross", "full", "told"),
    [
        (150_000, 45_000, 41_000, None, (4000, 5000)),
        (150_000, 45_000, 41_000, 2, (4000, 5000)),
        (50_000, 45_000, 41_000, None, (4000, 5000)),
        (110_000, 8000, 5000, None, (3000, 2000)),
        (110_000, 8000, 5000, 1, (53_000, 2000)),
        (110_000, None, 5000, None, (5000, 0)),
        (110_000, None, 15_000, None, (-5000, 0)),
        (110_000, None, 15_001, None, (44_999, 0)),
        (110_000, None, None, 3, (-50_000, 0)),
        (110_000, None, None, 2, None),
    ],
)
def test_full_ones_and_the_open_one_together(
    there: int, before: int | None, gross: int | None, full: int | None, told: tuple[int, int] | None
) -> None:
    """In bottles of 50 ml. Where none was open one was opened before it was weighed; full ones alone say what is
    there beside what is in the open one. Used by the session, and gone before it.
    """
    inside = [None if one is None else 12_000 + one for one in (before, gross)]
    row = replace(ONCE, before=inside[0], gross=inside[1], full=full)
    done = weigh(SOLVENT, [replace(LOT, quantity=there)], row, {7}, 0)
    assert (done and (done.used, done.gone)) == told


SEALED, LATER = replace(LOT, id=5), replace(LOT, id=7)
OPEN = replace(LOT, id=8, opened_on=TODAY)


@pytest.mark.parametrize(
    ("lot", "rows", "family"),
    [
        (SEALED, {5, 7}, [5, 8]),
        (LATER, {5, 7}, [7]),
        (LATER, {7}, [7, 8]),
        (LATER, {7, 8}, [7]),
        (OPEN, {8}, [8]),
        (replace(LATER, name="b"), {5, 7}, [7]),
    ],
)
def test_what_was_opened_out_of_a_lot_is_of_the_first_row_of_its_like(
    lot: Lot, rows: set[int], family: list[int]
) -> None:
    """Two sealed lots of one name and day, and one opened out of them that has no row of its own, unless it has."""
    lots = [SEALED, lot if lot.id == 7 else LATER, OPEN]
    assert [one.id for one in _family(lots, lot, rows)] == family


def outcome(good: int, **lost: int) -> Outcome:
    """So many good ones of Reed's, and lost ones by stage."""
    return Outcome("Reed", "Turnstone gloss", goods.CHROME_KIT, goods.OLIVE, good, lost)


def test_what_was_made_and_lost_has_its_cost() -> None:
    """The rows with good pieces have one; of the second nothing came. What is lost at a stage is of all rows."""
    rows = outcome(2, turn=1), outcome(0, turn=2, cut=1), outcome(1)
    tally = DrawnTally(lost_cost=Counter(turn=70), lost_unpriced={"cut"})
    tally.pieces += [("Reed", "a", 2, Cost(900)), ("Reed", "a", 1, Cost(400, UNKNOWN))]
    done = cast(Any, SimpleNamespace(made=[SimpleNamespace(outcome=one) for one in rows], tally=tally))
    assert [(one.good, one.lost, one.cost, one.priced) for one in _made(done)] == [
        (2, 1, 900, True),
        (0, 3, 0, True),
        (1, 0, 400, False),
    ]
    assert [(one.stage, one.pieces, one.cost, one.priced) for one in _lost(done)] == [
        ("cut", 1, 0, False),
        ("turn", 3, 70, True),
    ]


def test_supplies_are_told_with_what_nobody_looked_at_before() -> None:
    """2 ml drawn earlier count on both sides; what no bill expects has 0. A tube is no supply."""
    seen = (
        Observed(goods.GLUE, 5000, 100, "weighed"),
        Observed(goods.FINISH, 1000, 100, "used"),
        Observed(goods.TUBE, 1000, 0, "counted"),
        Observed(goods.EPOXY, 1000, 0, "by the bill"),
    )
    done = SimpleNamespace(
        proposal=SimpleNamespace(observed=seen),
        shop=shop(),
        unseen=Counter({GLUE: 2000}),
        expected=Counter({GLUE: 4000}),
    )
    told = {one.part: (one.expected, one.used) for one in _used(cast(Any, done))}
    assert told == {goods.GLUE: (6000, 7000), goods.FINISH: (0, 1000)}


def looked_back(before: LearnedFigures, after: LearnedFigures) -> SessionReport:
    """A session in which nothing happened but that figures moved."""
    done = SimpleNamespace(
        shop=shop(),
        session=SimpleNamespace(on=TODAY),
        made=(),
        tally=DrawnTally(),
        proposal=SimpleNamespace(observed=()),
        notes=(),
    )
    return look_back(cast(Any, done), (), goods.catalogue(), before, after, ())


@pytest.mark.parametrize(
    ("before", "after", "told"),
    [
        (100, 101, True),
        (100, 100.99, False),
        (100, 99, True),
        (100, 99.01, False),
        (0, 0.01, True),
        (1, 1, False),
    ],
)
def test_a_rate_that_moved_by_a_hundredth_is_told(before: float, after: float, told: bool) -> None:
    """By a hundredth of what it was; one of nothing that becomes something, however little."""

    def learned(percent: float) -> LearnedFigures:
        return LearnedFigures((LearnedRate(goods.FINISH, "barrel area", round(10_000 * percent), 0, 0, 3),))

    rates = looked_back(learned(before), learned(after)).rates
    assert [(one.part, one.per) for one in rates] == [(goods.FINISH, "barrel area")] * told


@pytest.mark.parametrize(
    ("share", "lost", "told"), [(30_300, 0, True), (30_299, 0, False), (30_299, 1, True), (29_700, 0, True)]
)
def test_a_loss_is_told_where_it_moved_or_something_was_lost(share: int, lost: int, told: bool) -> None:
    """3 % is written: a hundredth of that either way, or any piece that was lost."""
    now = LearnedFigures((), (LearnedLoss("olive wood", "turn", share, 40, lost),))
    losses = looked_back(LearnedFigures(), now).losses
    assert [(one.material, one.stage) for one in losses] == [("olive wood", "turn")] * told
