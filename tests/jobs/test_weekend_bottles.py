"""Containers on a session sheet: full ones and the open one; what a reading teaches, and what it cannot."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import Part, Supply
from inventory.errors import BadSheet, Place
from inventory.jobs.learning.learned_figures import relearn
from inventory.jobs.sessions.reconciling.booking import SessionBooking, book_session
from inventory.jobs.sessions.reconciling.weighing import Weighed, weigh
from inventory.ledger import Lot
from inventory.ledger.bottles.scales import Impossible
from inventory.ledger.learned import with_learned
from inventory.ledger.sessions import UNREAD, Happened, Planned, Session
from inventory.reports.filled import FilledBottle, FilledSession, FilledUse
from jobs import goods
from jobs.sessions import SATURDAY, filled, piece
from jobs.shop import TODAY, Stock, order, plenty, shop

WHERE = Place("saturday", "bottles", 2, "gross g")
NET, TARE, DENSITY = 50_000, 12_000, Fraction(105, 100)
CA = Part(goods.GLUE, Supply("adhesive", NET, TARE, 365, 90, (), DENSITY), "ml")
ALCOHOL = Part(goods.GLUE, Supply("solvent", NET, TARE, 365, 90, ("H225",), Fraction(1)), "ml")


def gross(content: int) -> int:
    """What the scale shows, thousandths of a gram, of so many thousandths of a millilitre."""
    return TARE + round(content * DENSITY)


def row(lot: int, inside: int | None, **more: object) -> FilledBottle:
    """One row; inside: thousandths in the open one."""
    usual = FilledBottle(WHERE, goods.GLUE, lot, None if inside is None else gross(inside), 100)
    return replace(usual, **more)  # type: ignore[arg-type]  # fields by name


def sealed(quantity: int, **more: object) -> Lot:
    """A lot of thin CA."""
    return replace(Lot(7, goods.GLUE, "batch 7", TODAY, quantity, 1000), **more)  # type: ignore[arg-type]  # fields by name


def said(lots: list[Lot], one: FilledBottle, expected: int = 4000) -> Weighed | None:
    """What one row comes to."""
    return weigh(CA, lots, one, {one.lot}, expected)


def used(lots: list[Lot], one: FilledBottle, expected: int = 4000) -> int:
    """What the session used, to a tenth of a millilitre."""
    done = said(lots, one, expected)
    assert done is not None
    assert done.sound
    return round(done.used, -2)


def test_three_bottles_of_one_lot_are_one_with_one_open() -> None:
    """Of 150 ml in three bottles the open one holds 45 ml afterwards: 5 ml were used, not 105."""
    three = [sealed(150_000)]
    assert used(three, row(7, 45_000)) == 5000
    assert used(three, row(7, 45_000, full=2)) == 5000
    assert used(three, row(7, 45_000, full=1)) == 55_000
    assert used([sealed(130_000)], row(7, 26_000)) == 4000
    assert (
        used([sealed(130_000)], row(7, 40_000), 42_000) == 40_000
    )  # the broached one is gone, the next was opened


def test_a_single_bottle_needs_no_full_ones() -> None:
    """What is on the scale is all there is, opened or not."""
    assert used([sealed(50_000)], row(7, 41_000)) == 9000
    assert used([sealed(31_000, opened_on=TODAY)], row(7, 30_000)) == 1000


def test_more_than_the_book_has_is_said_beyond_two_deviations() -> None:
    """Weighed to 0.1 g, so 95 of the book's steps: two weighings differ by 95/√12 · √2 = 39, and 78 is twice that."""
    open_one = [sealed(30_000, opened_on=TODAY)]
    for more, told in ((60, False), (78, False), (79, True)):
        done = said(open_one, row(7, 30_000 + more))
        assert done is not None
        assert any("more in it than the book says" in text for text in done.said) is told


def test_full_ones_without_a_weight() -> None:
    """None opened: nothing to say. More than the book has: found. Fewer: the open one has to be weighed."""
    three = [sealed(150_000)]
    assert said(three, row(7, None, full=3)) is None
    assert said(three, row(7, None)) is None
    more = said(three, row(7, None, full=4))
    assert more is not None
    assert (more.sound, more.used) == (False, -50_000)
    with pytest.raises(Impossible, match=r"^1 of the 3 full ones is opened.*12 g, an empty one"):
        said(three, row(7, None, full=2))


@pytest.mark.parametrize(
    ("lots", "one", "expected", "sentence"),
    [
        ([sealed(150_000)], row(7, 45_000), 60_000, "How many full ones are left"),
        ([sealed(150_000)], row(7, None, gross=11_000), 0, "less than the empty bottle"),
        ([sealed(150_000)], row(7, 56_000), 0, "a full one holds 50"),
        ([sealed(150_000)], row(9, 45_000), 0, "no such bottle"),
        ([sealed(50_000)], row(7, None, before=gross(30_000)), 0, "weighed before, but not after"),
        ([sealed(50_000)], row(7, 45_000, before=gross(30_000)), 0, "heavier than before"),
        (
            [sealed(50_000), sealed(30_000, id=8, opened_on=TODAY)],
            row(8, 20_000, full=1),
            0,
            "row of the open one",
        ),
    ],
)
def test_readings_that_cannot_be(lots: list[Lot], one: FilledBottle, expected: int, sentence: str) -> None:
    """Each is refused with a sentence that says what to do."""
    with pytest.raises(Impossible, match=sentence):
        said(lots, one, expected)


def test_a_supply_without_a_net_has_no_full_ones() -> None:
    """Where nobody knows what a full one holds, a lot is one container."""
    bulk = Part(goods.GLUE, Supply("adhesive", None, TARE, 365, 90, (), DENSITY), "ml")
    done = weigh(bulk, [sealed(150_000)], row(7, 140_000), (), 0)
    assert done is not None
    assert round(done.used, -2) == 10_000
    with pytest.raises(Impossible, match="give its net in the supplies tab"):
        weigh(bulk, [sealed(150_000)], row(7, 140_000, full=1), (), 0)


def test_which_bottle_is_meant() -> None:
    """A row added by hand is of the only lot, of the one of that name, or of the one that is open."""
    opened = sealed(30_000, id=8, name="", opened_on=TODAY)
    both = [sealed(100_000), opened]
    assert used(both, row(0, 29_000)) == 1000
    assert used([sealed(50_000)], row(0, 45_000)) == 5000
    assert used(both, row(0, 45_000, full=1, name="BATCH 7")) == 5000
    assert used(both, row(99, 29_000, name=f"opened {TODAY.isoformat()}")) == 1000
    with pytest.raises(Impossible, match=f"it has batch 7, opened {TODAY.isoformat()}"):
        weigh(CA, both, row(0, 29_000), {8}, 0)


def test_a_sheet_from_before_another_session_opened_a_bottle() -> None:
    """The row is of the lot and of what was opened out of it since: 100 and 45 ml were there, 100 and 41 are."""
    lots = [sealed(100_000), sealed(45_000, id=30, opened_on=TODAY)]
    done = said(lots, row(7, 41_000))
    assert done is not None
    assert round(done.used, -2) == 4000
    assert done.lots[0] == (30, 45_000)


@examples(100)
@given(
    full=st.integers(0, 4),
    inside=st.integers(0, NET),
    opened=st.integers(0, 4),
    use=st.integers(0, 24_000),
    step=st.sampled_from((10, 100)),
)
def test_what_was_used_is_worked_out_from_any_shelf(
    full: int, inside: int, opened: int, use: int, step: int
) -> None:
    """Truth first: so many full, so much in the open one; a session takes less than half a bottle, or says how many
    are full. What the row says is the truth, to the scale's step."""
    there = full * NET + inside
    use = min(use, there)
    left = there - use
    if not left:
        return
    after_full, after_inside = divmod(left, NET)
    if not (use or after_inside):
        return
    if not after_inside:
        after_full, after_inside = after_full - 1, NET
    told = row(7, after_inside, step=step, full=after_full if opened == 0 else None)
    told = replace(told, gross=round(gross(after_inside) / step) * step)
    done = said([sealed(there)], told, use)
    assert done is not None
    assert abs(done.used - use) <= step


def session(stock: Stock, sheet: FilledSession, part: Part = CA) -> SessionBooking:
    """A Saturday's sheet, worked out; five Turnstones were planned. Lots of thin CA go by 100, 101 …"""
    lots = [lot.id for lot in stock.lots if lot.part == goods.GLUE]
    sheet = replace(sheet, bottles=tuple(replace(one, lot=lots[one.lot - 100]) for one in sheet.bottles))
    here = shop(stock, goods.catalogue().with_parts(part), today=SATURDAY)
    kept = order("Reed", 5, state="promised")
    here = replace(here, book=replace(here.book, orders={"reed": kept}))
    known = Session("Saturday", SATURDAY, (Planned("Reed", "Turnstone kit chrome", 5),), number=1)
    return book_session(here, known, sheet)


def with_glue(*lots: tuple[int, Mapping[str, object]]) -> Stock:
    """Plenty of everything, and this of thin CA."""
    stock = plenty().without(goods.GLUE)
    for quantity, more in lots:
        stock.lot(goods.GLUE, quantity, quantity // 50, received_on=TODAY - timedelta(days=40), **more)
    return stock


def glue_lines(done: SessionBooking) -> list[tuple[int, str]]:
    """Quantity and reason of the lines of thin CA."""
    lines = done.proposal.lines
    return [(one.quantity, one.reason) for one in lines if one.part == goods.GLUE and one.account == "shelf"]


def learned(done: SessionBooking) -> list[int]:
    """What the rates of thin CA learn from, to a tenth of a millilitre."""
    seen = [one for one in done.proposal.observed if one.part == goods.GLUE and one.way not in UNREAD]
    return [round(one.used, -2) for one in seen]


def test_a_session_uses_the_open_one_of_three() -> None:
    """5 ml are used and learned, two stay sealed, the open one is a lot of its own with the day and 45 ml."""
    done = session(with_glue((150_000, {})), filled([piece(1, 5)], bottles=(row(100, 45_000),)))
    lots = done.shop.book.lots_of(goods.GLUE)
    assert [(round(one.quantity, -2), one.opened_on) for one in lots] == [(100_000, None), (45_000, SATURDAY)]
    assert learned(done) == [5000]
    assert any("taken as 2 full ones and the one on the scale" in text for text in done.announced)
    last = (SATURDAY + timedelta(days=90)).isoformat()
    assert any(f"opened on {SATURDAY.isoformat()}; best before {last}" in text for text in done.announced)


def test_more_full_ones_than_the_book_has_are_found_and_teach_nothing() -> None:
    """The bills are drawn as expected, the rest is booked as found; the total is what was counted."""
    done = session(with_glue((100_000, {})), filled([piece(1, 5)], bottles=(row(100, 45_000, full=3),)))
    assert round(done.shop.book.balance(goods.GLUE).on_hand, -2) == 195_000
    assert learned(done) == []
    assert any("nothing is learned of it" in text for text in done.announced)
    assert (
        sum(many for many, reason in glue_lines(done) if reason == "used")
        == -done.expected[goods.GLUE.casefold()]
    )


def test_what_was_gone_before_the_session_is_no_use() -> None:
    """40 ml by the book, 34 before the session, 30 after: 4 are used and learned, 6 went into the air."""
    sheet = filled(
        [piece(1, 5)],
        bottles=(FilledBottle(WHERE, goods.GLUE, 100, 42_000, 100, before=46_000),),
    )
    done = session(with_glue((40_000, {"opened_on": TODAY})), sheet, ALCOHOL)
    assert learned(done) == [4000]
    assert done.shop.book.balance(goods.GLUE).on_hand == 30_000
    assert sum(many for many, reason in glue_lines(done) if reason in ("used", "weighed")) == -4000
    before, after = done.differences[0], done.differences[-1]
    assert (before.difference, before.learned, after.expected) == (
        -6000,
        False,
        34_000 - done.expected[goods.GLUE.casefold()],
    )


@pytest.mark.parametrize(("missing", "taught"), [(100, [4000]), (0, [])])
def test_a_reason_is_of_what_was_missing_before_where_the_scale_tells(
    missing: int, taught: list[int]
) -> None:
    """A tenth of a gram is more than twice what weighing is off by: that was spilt. Where none is, the 4 ml were."""
    before = TARE + 40_000 - missing
    bottle = FilledBottle(WHERE, goods.GLUE, 100, before - 4000, 100, reason="spilt", before=before)
    done = session(
        with_glue((40_000, {"opened_on": TODAY})), filled([piece(1, 5)], bottles=(bottle,)), ALCOHOL
    )
    assert learned(done) == taught


ACCEPTED = {
    "": ([], "evaporated"),
    "used": ([5000], "weighed"),
    "Evaporation!": ([], "evaporated"),
    "spilled some": ([], "spilt"),
    "the cat": ([], "not used"),
}


@pytest.mark.parametrize("reason", ACCEPTED)
def test_the_reason_that_is_accepted_decides_what_is_learned(reason: str) -> None:
    """A little too much is gone from a flammable solvent: most likely evaporated, unless the maker says otherwise."""
    bottle = FilledBottle(WHERE, goods.GLUE, 100, 52_000, 100, reason=reason)
    stock = with_glue((45_000, {"opened_on": TODAY - timedelta(days=120)}))
    done = session(stock, filled([piece(1, 5)], bottles=(bottle,)), ALCOHOL)
    (one,) = [each for each in done.differences if each.part == goods.GLUE]
    rest = [word for _, word in glue_lines(done) if word not in ("used", "lost")]
    assert (learned(done), rest) == (ACCEPTED[reason][0], [ACCEPTED[reason][1]])
    assert one.learned == (reason == "used")
    assert one.likely[0].startswith(f"as you say: {reason}" if reason else "evaporation")
    assert done.shop.book.balance(goods.GLUE).on_hand == 40_000


def test_what_was_written_down_as_used_is_use() -> None:
    """The pencil says 6 ml of the solvent: learned whatever else it might be, unless its row says it was spilt."""
    for reason, wanted in (("", [6000]), ("spilt", [])):
        use = FilledUse(replace(WHERE, tab="used"), goods.GLUE, 6000, reason)
        stock = with_glue((45_000, {"opened_on": TODAY - timedelta(days=120)}))
        done = session(stock, filled([piece(1, 5)], uses=(use,)), ALCOHOL)
        assert learned(done) == wanted


def test_every_bad_reading_is_named_at_once() -> None:
    """Two rows, two places; nothing is booked."""
    rows = (row(100, 45_000, full=0, before=gross(1000)), row(101, None, full=0))
    with pytest.raises(BadSheet) as caught:
        session(with_glue((50_000, {}), (100_000, {})), filled([piece(1, 5)], bottles=rows))
    assert [place.column for place in caught.value.where] == ["gross g", "gross g"]


SOLVENT = Part(
    goods.EPOXY, Supply("solvent", 1_000_000, 62_000, None, None, ("H225",), Fraction(81, 100)), "ml"
)
"""The bill says 2 ml a session of it."""


def test_ten_sessions_tell_the_air_from_the_work() -> None:
    """Truth made apart: about 10 ml a session are used, 3 ml a week go into the air. Weighed before and after, the
    rate comes to what is used, not to the 16 ml that are missing; the air is booked all the same."""
    hand, known, past = Random(7), goods.catalogue().with_parts(SOLVENT), list[Happened]()
    learned = relearn(known, past)
    real = book = 900.0
    air = used = 0.0
    for n in range(10):
        gone, taken = 6 * hand.uniform(0.5, 1.5), hand.gauss(10, 2)
        weights = [62 + round(0.81 * (real - gone)), 62 + round(0.81 * (real - gone - taken))]
        real, air, used = real - gone - taken, air + gone, used + taken
        stock = plenty().without(goods.EPOXY)
        number = stock.lot(goods.EPOXY, round(1000 * book), 900, opened_on=TODAY - timedelta(days=180))
        bottle = FilledBottle(WHERE, goods.EPOXY, number, 1000 * weights[1], before=1000 * weights[0])
        here = shop(stock, with_learned(known, learned), today=SATURDAY)
        kept = order("Reed", 5, state="promised")
        here = replace(here, book=replace(here.book, orders={"reed": kept}))
        planned = Session("Saturday", SATURDAY, (Planned("Reed", "Turnstone kit chrome", 5),), number=1)
        done = book_session(here, planned, filled([piece(1, 5)], bottles=(bottle,)))
        past.append(Happened(n + 1, SATURDAY, done.proposal.outcomes, done.proposal.observed))
        learned = relearn(known, past)
        book = done.shop.book.balance(goods.EPOXY).on_hand / 1000
    (rate,) = [one for one in learned.rates if one.part == goods.EPOXY]
    assert abs(2 * rate.factor / 1e6 - used / 10) < 1.5 < air / 10
    assert abs(book - real) < 1


shelves = st.lists(
    st.tuples(
        st.integers(1, 200_000), st.booleans(), st.none() | st.integers(0, 4), st.none() | st.integers(0, NET)
    ),
    min_size=1,
    max_size=3,
)


@examples(25)
@given(shelf=shelves, before=st.none() | st.integers(0, NET), reason=st.sampled_from(("", "used", "spilt")))
def test_whatever_is_weighed_nothing_is_lost(
    shelf: list[tuple[int, bool, int | None, int | None]], before: int | None, reason: str
) -> None:
    """In = out + left, quantity and cost; and what a sound sheet says of every lot together is what is there."""
    stock = with_glue(
        *((quantity, {"opened_on": TODAY} if opened else {}) for quantity, opened, _, _ in shelf)
    )
    rows = tuple(
        row(
            100 + at, inside, full=full, reason=reason, before=None if before is None or at else gross(before)
        )
        for at, (_, _, full, inside) in enumerate(shelf)
        if inside is not None or full is not None
    )
    lots = [lot for lot in stock.lots if lot.part == goods.GLUE]
    try:
        done = session(stock, filled([piece(1, 5)], bottles=rows))
    except BadSheet:
        return
    lines = [one for one in done.proposal.lines if one.part == goods.GLUE and one.account == "shelf"]
    left = done.shop.book.lots_of(goods.GLUE)
    assert sum(lot.quantity for lot in left) == sum(lot.quantity for lot in lots) + sum(
        one.quantity for one in lines
    )
    assert sum(lot.cost for lot in left) == sum(lot.cost for lot in lots) + sum(one.cost for one in lines)
    assert sum(lot.quantity for lot in left) == done.shop.book.balance(goods.GLUE).on_hand
    assert all(lot.quantity > 0 and lot.cost >= 0 for lot in left)
    checked = [one for one in done.checked if one.part == goods.GLUE and not one.before]
    if checked:
        assert checked[0].counted == sum(lot.quantity for lot in left)
    if reason == "spilt" and before is None:
        assert learned(done) == []
