"""A filled count sheet becomes a document: right, wrong, large, twice, late, of another book."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import fold
from inventory.errors import AlreadyBooked, BadSheet, Refused
from inventory.jobs.counting.count_booking import Moved, Since, book_count, checked_rows
from inventory.jobs.differences.reasons import BookMemory
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.promising import promise
from inventory.jobs.orders.requests import request_of
from inventory.ledger.documents.booked import Document, Happening
from inventory.ledger.shop import Shop
from jobs import goods
from jobs.booking import booked
from jobs.shop import TODAY, Stock, order, plenty, shop

from .counting_case import MARK, VERSION, count, on_hand, row, sheet


def test_a_right_count_books_that_it_was_counted() -> None:
    """No line, no difference; the part is no longer doubtful."""
    report, after = count(shop(), row(goods.TUBE, 80), row(goods.GLUE, 50))
    assert (report.right, report.found, report.asked_again, report.cost) == (2, (), (), 0)
    assert (report.proposal.kind, report.proposal.title) == ("count", "Count of 2 parts")
    assert (report.proposal.lines, report.proposal.counted) == ((), (goods.TUBE, goods.GLUE))
    assert report.books
    assert on_hand(after, goods.TUBE, goods.GLUE) == [80, 50]


def test_a_small_difference_is_booked_with_its_cost() -> None:
    """Three tubes of 0.30 are gone, one refill of 0.90 is over: the shelf follows, quantity and cost."""
    report, after = count(shop(), row(goods.TUBE, 77), row(goods.REFILL, 51))
    assert on_hand(after, goods.TUBE, goods.REFILL) == [77, 51]
    assert [(one.difference.part, one.difference.difference, one.value) for one in report.found] == [
        (goods.TUBE, -3000, -90),
        (goods.REFILL, 1000, 90),
    ]
    assert report.cost == 0
    assert all(one.difference.likely for one in report.found)


@pytest.mark.parametrize(
    ("part", "units", "why"),
    [
        (goods.TUBE, 60, "20 is a quarter or more of what was expected"),
        (goods.TUBE, 8, "72 is a quarter or more"),
        (goods.CHROME_KIT, 37, "it is worth much"),
        (goods.GLUE, 30, "20 ml is a quarter or more"),
    ],
)
def test_a_large_difference_is_asked_for_once_more(part: str, units: float, why: str) -> None:
    """A quarter of it, or dear: it waits for a second count, and the rest is booked."""
    report, after = count(shop(), row(part, units), row(goods.STRIP, 59))
    (again,) = report.asked_again
    assert again.difference.part == part
    assert why in again.again
    assert on_hand(after, part, goods.STRIP) == [*on_hand(shop(), part), 59]
    assert report.proposal.counted == (goods.STRIP,)
    for more in ({"as_counted": True}, {}):
        second = None if more else units
        report, after = count(shop(), row(part, units, second), row(goods.STRIP, 59), **more)
        assert (report.asked_again, on_hand(after, part)) == ((), [units])


@pytest.mark.parametrize(("part", "units"), [(goods.TUBE, 61), (goods.CHROME_KIT, 39), (goods.EPOXY, 49)])
def test_a_difference_that_is_not_large(part: str, units: float) -> None:
    """Less than a quarter and not dear."""
    report, _ = count(shop(), row(part, units))
    assert report.asked_again == ()


@pytest.mark.parametrize(("units", "asked"), [(91, False), (90, True), (110, True)])
def test_what_is_worth_five_coins_is_dear_in_a_small_shop(units: float, asked: bool) -> None:
    """All there is are 100 refills of 0.50: 2 % of it is 1.00, but nobody counts again for less than 5.00."""
    stock = Stock()
    stock.lot(goods.REFILL, 100_000, 5000)
    again = count(shop(stock), row(goods.REFILL, units))[0].asked_again
    assert [one.again for one in again] == ["it is worth much"] * asked


@pytest.mark.parametrize(("units", "asked"), [(90.05, False), (90, True)])
def test_two_in_a_hundred_of_all_there_is_are_dear(units: float, asked: bool) -> None:
    """100 ml of finish at 1.00 a millilitre and a kit for 400.00: 10.00 of the 500.00 are counted again, 9.95 not."""
    stock = Stock()
    stock.lot(goods.FINISH, 100_000, 10_000)
    stock.lot(goods.CHROME_KIT, 1000, 40_000)
    again = count(shop(stock), row(goods.FINISH, units))[0].asked_again
    assert [one.again for one in again] == ["it is worth much"] * asked


def test_one_of_two_is_no_large_difference() -> None:
    """One unit is never large by its share alone."""
    stock = Stock()
    stock.lot(goods.REFILL, 2000, 10)
    stock.lot(goods.GLUE, 2000, 10_000)
    report, after = count(shop(stock), row(goods.REFILL, 1))
    assert (report.asked_again, on_hand(after, goods.REFILL)) == ((), [1])


def test_more_than_one_unit_may_be_large() -> None:
    """Of 4 ml three are left: one unit. A thousandth more is gone: more than a unit, and more than a quarter."""
    stock = Stock()
    stock.lot(goods.GLUE, 4000, 40)
    assert count(shop(stock), row(goods.GLUE, 3))[0].asked_again == ()
    assert len(count(shop(stock), row(goods.GLUE, 2.999))[0].asked_again) == 1


def test_everything_asked_again_books_nothing() -> None:
    """The proposal is empty, and says so."""
    report = book_count(shop(), sheet(row(goods.TUBE, 8)), MARK)
    assert not report.books
    assert (report.proposal.lines, report.right) == ((), 0)


def test_a_part_the_book_had_none_of() -> None:
    """Two kits turn up: asked for once more, then booked as found, at the offer's price."""
    report, _ = count(shop(), row(goods.RHODIUM_KIT, 2))
    assert "2 is a quarter or more" in report.asked_again[0].again
    report, after = count(shop(), row(goods.RHODIUM_KIT, 2, 2))
    assert (on_hand(after, goods.RHODIUM_KIT), report.cost) == ([2], 1800)


def test_the_past_of_a_part_gives_its_reasons() -> None:
    """What the book remembers goes into the reasons."""
    head = Document(5, "arrival", "Parcel", TODAY - timedelta(days=3), "")
    past = BookMemory({fold(goods.TUBE): (Happening(head, goods.TUBE, "shelf", 6000, 0),)})
    report, _ = count(shop(), row(goods.TUBE, 74), context=past)
    assert "entry 5 (arrival, 2026-11-22) brought just 6" in report.found[0].difference.likely[0]
    assert [one.part for one in checked_rows(shop(), sheet(row(goods.TUBE, 74), row(goods.STRIP, 60)))] == [
        goods.TUBE,
        goods.STRIP,
    ]


def test_claims_follow_the_shelf() -> None:
    """Kits that are not there are taken from the promise, which is said with its day."""
    stock = plenty()
    stock.lots = [lot for lot in stock.lots if lot.part != goods.CHROME_KIT]
    stock.lot(goods.CHROME_KIT, 6000, 2400)
    one = order("Reed", 4)
    before = shop(stock)
    taken = booked(before, promise(before, one, check(before, request_of(one))))
    claimed = taken.book.balance(goods.CHROME_KIT).claimed
    report, after = count(taken, row(goods.CHROME_KIT, 2, 2))
    balance = after.book.balance(goods.CHROME_KIT)
    assert (balance.on_hand, balance.claimed, balance.to_buy) == (2000, 2000, claimed - 2000)
    assert [(s.order, s.part, s.quantity, s.due) for s in report.short] == [
        ("Reed", goods.CHROME_KIT, claimed - 2000, one.due)
    ]
    assert count(after, row(goods.CHROME_KIT, 4, 4), as_counted=True)[0].short == ()


# --- lots -----------------------------------------------------------------------------------------------------------


def antlers(*names: str) -> tuple[Shop, list[int]]:
    """Antler pieces all of one size: two called A7 and one A8, where nothing else is said."""
    stock = Stock()
    numbers = [stock.measured(name, "25 mm", "120 mm", 300) for name in names or ("A7", "A7", "A8")]
    return shop(stock), numbers


def test_one_very_lot() -> None:
    """A7 is there once more than was found; the other lots stay as they are."""
    here, (first, second, third) = antlers()
    report, after = count(here, row(goods.ANTLER, 0, lot=first), row(goods.ANTLER, 1, lot=third))
    assert on_hand(after, goods.ANTLER) == [2]
    assert len(after.book.lots_of(goods.ANTLER)) == 2
    (found,) = report.found
    assert (found.lot, found.value, report.right) == ("A7", -300, 1)
    assert second in {lot.id for lot in after.book.lots_of(goods.ANTLER)}
    here, numbers = antlers("A7", "A7", "A7", "A7")
    report, after = count(here, *(row(goods.ANTLER, 0, lot=one) for one in numbers[:2]))
    assert (on_hand(after, goods.ANTLER), len(report.found)) == ([2], 2)


def test_lots_and_the_rest() -> None:
    """A row without a lot speaks of what the other rows do not."""
    here, (first, _, third) = antlers()
    report, after = count(
        here, row(goods.ANTLER, 1, lot=first), row(goods.ANTLER, 1, lot=third), row(goods.ANTLER, 1)
    )
    assert (report.right, report.found, on_hand(after, goods.ANTLER)) == (3, (), [3])
    report, after = count(
        here, row(goods.ANTLER, 1, lot=first), row(goods.ANTLER, 0), row(goods.ANTLER, 1, lot=third)
    )
    assert (report.right, on_hand(after, goods.ANTLER)) == (2, [2])
    assert [one.difference.difference for one in report.found] == [-1000]


def test_a_lot_that_is_gone() -> None:
    """Counted as none: left out and said. Counted as some: refused, naming what there is."""
    here, _ = antlers()
    report = book_count(here, sheet(row(goods.ANTLER, 0, lot=999), row(goods.ANTLER, 3)), MARK)
    assert any("lot 999 is used up" in text for text in report.announced)
    with pytest.raises(BadSheet) as stop:
        book_count(here, sheet(row(goods.ANTLER, 1, lot=999)), MARK)
    assert "no lot 999 of antler any more: it has A7, A7, A8" in stop.value.where[0].problem
    with pytest.raises(BadSheet) as stop:
        book_count(here, sheet(row(goods.OLIVE, 1, lot=999)), MARK)
    assert "it has none" in stop.value.where[0].problem


def test_a_lot_without_a_name() -> None:
    """It is known by its number: the other one keeps what it has."""
    stock = Stock()
    only = stock.lot(goods.GLUE, 20_000, 100)
    _, after = count(shop(stock), row(goods.GLUE, 19, lot=only))
    assert on_hand(after, goods.GLUE) == [19]
    other = stock.lot(goods.GLUE, 30_000, 100)
    _, after = count(shop(stock), row(goods.GLUE, 19, lot=only))
    assert {lot.id: lot.quantity for lot in after.book.lots_of(goods.GLUE)} == {only: 19_000, other: 30_000}


def test_a_named_bottle() -> None:
    """One of two bottles is less full: the other keeps what it has."""
    stock = Stock()
    may, june = (
        stock.lot(goods.GLUE, 20_000, 100, name="May"),
        stock.lot(goods.GLUE, 30_000, 100, name="June"),
    )
    report, after = count(shop(stock), row(goods.GLUE, 18, lot=may))
    assert {lot.id: lot.quantity for lot in after.book.lots_of(goods.GLUE)} == {may: 18_000, june: 30_000}
    assert report.found[0].lot == "May"


# --- sheets that cannot be ------------------------------------------------------------------------------------------


def test_another_book_and_an_empty_sheet() -> None:
    """Both are refused with a way on; a sheet that has lost its mark is taken, and that is said."""
    with pytest.raises(Refused, match="another book"):
        book_count(shop(), sheet(row(goods.TUBE, 80), mark="that book"), MARK)
    with pytest.raises(Refused, match="empty"):
        book_count(shop(), sheet(), MARK)
    report = book_count(shop(), sheet(row(goods.TUBE, 80), mark="", version=0), MARK)
    assert "taken as of now" in report.announced[0]


def test_second_count_that_differs_and_a_part_twice() -> None:
    """All bad rows are named at once, each with what it said."""
    with pytest.raises(BadSheet, match="2 counts cannot be taken") as stop:
        book_count(
            shop(),
            sheet(row(goods.TUBE, 60, 61), row(goods.STRIP, 5), row(f" {goods.STRIP.upper()}", 6)),
            MARK,
        )
    assert [place.said for place in stop.value.where] == ["60", "6 strips"]
    assert "The second count, 61, differs" in stop.value.where[0].problem
    assert "stands here twice" in stop.value.where[1].problem
    for part, first, second in ((goods.TUBE, 60, 61), (goods.GLUE, 50, 50.001)):
        with pytest.raises(BadSheet, match="One count cannot"):
            book_count(shop(), sheet(row(part, first, second)), MARK)


# --- what happened since --------------------------------------------------------------------------------------------


def test_the_same_sheet_is_not_booked_twice() -> None:
    """Its parts were counted since, by its own document; the same rows have the same fingerprint."""
    report, after = count(shop(), row(goods.TUBE, 77))
    since = Since(counted={fold(goods.TUBE): 8})
    with pytest.raises(AlreadyBooked, match="by entry 8") as stop:
        book_count(after, sheet(row(goods.TUBE, 77)), MARK, since=since)
    assert "Nothing was booked." in stop.value.hint
    again = book_count(shop(), sheet(row(goods.TUBE, 77, 77)), MARK)
    assert again.proposal.fingerprint == report.proposal.fingerprint


def test_second_counts_written_into_the_same_sheet() -> None:
    """What was booked the first time is left out, what was asked for again is booked under another fingerprint."""
    first, after = count(shop(), row(goods.TUBE, 8), row(goods.STRIP, 59))
    since = Since(counted={fold(goods.STRIP): 8})
    second = book_count(after, sheet(row(goods.TUBE, 8, 8), row(goods.STRIP, 59)), MARK, since=since)
    assert second.proposal.counted == (goods.TUBE,)
    assert second.announced == (
        f"Left out, as entry 8 counted them after this sheet was made: {goods.STRIP}.",
    )
    assert second.proposal.fingerprint != first.proposal.fingerprint
    parts = (goods.STRIP, goods.OLIVE, goods.REFILL, goods.CHROME_KIT, goods.GLUE)
    many = Since(counted=dict.fromkeys(map(fold, parts), 8))
    rows = (row(part, 1) for part in (*parts, goods.TUBE))
    said = book_count(after, sheet(*rows), MARK, since=many).announced
    assert said[0].endswith(f"made: {goods.STRIP}, {goods.OLIVE}, {goods.REFILL} and 2 more.")
    early = Since(counted={fold(goods.TUBE): VERSION})
    assert book_count(shop(), sheet(row(goods.TUBE, 80)), MARK, since=early).right == 1


def test_a_part_that_was_moved_since() -> None:
    """Right as of now is right; else it is asked for again, and what was there before is recognised."""
    since = Since({fold(goods.TUBE): Moved(-4000, (8, 9))})
    assert book_count(shop(), sheet(row(goods.TUBE, 80)), MARK, since=since).right == 1
    before = book_count(shop(), sheet(row(goods.TUBE, 84)), MARK, since=since).asked_again[0]
    assert before.again == "it was moved since the sheet was made"
    assert before.difference.likely[0].startswith("counted before it was moved by entry 8 and 9: just that")
    other = book_count(shop(), sheet(row(goods.TUBE, 81, 81)), MARK, since=since).found[0]
    assert other.difference.likely[0] == "it was moved by entry 8 and 9 since the sheet was made"
    lost = book_count(shop(), sheet(row(goods.TUBE, 81), mark="", version=0), MARK, since=since)
    assert lost.asked_again == ()


@examples(35)
@given(
    st.dictionaries(
        st.sampled_from(
            [goods.CHROME_KIT, goods.TUBE, goods.OLIVE, goods.REFILL, goods.STRIP, goods.GLUE, goods.EPOXY]
        ),
        st.integers(0, 200_000),
        min_size=1,
    ),
    st.integers(0, 30),
)
def test_whatever_is_counted_is_what_is_there(counts: dict[str, int], pieces: int) -> None:
    """After booking, the shelf holds what was counted; cost moves by the lines; claims never exceed the shelf."""
    here = shop()
    if pieces:
        one = order("Reed", pieces)
        here = booked(here, promise(here, one, check(here, request_of(one))))
    rows = [row(part, steps / 1000) for part, steps in counts.items()]
    report, after = count(here, *rows, as_counted=True)
    assert {part: after.book.balance(part).on_hand for part in counts} == counts

    def worth(one: Shop) -> int:
        return sum(lot.cost for lots in one.book.lots.values() for lot in lots)

    assert worth(after) - worth(here) == report.cost
    assert report.right + len(report.found) == len(counts)
