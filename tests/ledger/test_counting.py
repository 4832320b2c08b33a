"""Counts: the book comes to what was found, lot by lot where a lot is named."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jobs import goods
from jobs.shop import TODAY, Stock, order
from searching import examples

from inventory.ledger import Count, Line
from inventory.ledger.costs import share_like
from inventory.ledger.counting.differences import Counted, Difference, book_counts, cost_of
from inventory.measures import read_length


def shelf(done: Counted) -> list[tuple[int, int, int | str | None, str]]:
    """Quantity, cost, lot and reason of every shelf line."""
    return [(one.quantity, one.cost, one.lot, one.reason) for one in done.lines if one.account == "shelf"]


def after(stock: Stock, done: Counted) -> Stock:
    """The stock once the counts are booked."""
    later = Stock()
    numbers: dict[object, int] = {}
    for lot in stock.lots:
        moved = [one for one in done.lines if one.lot == lot.id and one.account == "shelf"]
        quantity = lot.quantity + sum(one.quantity for one in moved)
        assert quantity >= 0
        if quantity:
            cost = lot.cost + sum(one.cost for one in moved)
            kept = {"received_on": lot.received_on, "opened_on": lot.opened_on, "use_by": lot.use_by}
            later.lot(lot.part, quantity, cost, name=lot.name, id=lot.id, **kept)
    for new in done.lots:
        lines = [one for one in done.lines if one.lot == new.tag]
        sizes: dict[str, object] = {"smallest_diameter": new.smallest_diameter, "length": new.length}
        sizes |= {"received_on": new.received_on, "opened_on": new.opened_on, "use_by": new.use_by}
        numbers[new.tag] = later.lot(
            new.part,
            sum(one.quantity for one in lines),
            sum(one.cost for one in lines),
            name=new.name,
            id=9000 + len(numbers),
            **sizes,
        )
    return later


def test_an_opening_count_brings_a_lot_a_row() -> None:
    """Where the book has nothing of a part, every row is a lot of its own, at its own cost, and no difference."""
    rows = [
        Count(goods.CHROME_KIT, 5000, Fraction(450), received_on=TODAY),
        Count(goods.CHROME_KIT, 3000, Fraction(1001, 3)),
        Count(goods.CHROME_KIT, 0),
        Count(goods.GLUE, 20_000, lot="blue", opened_on=TODAY, use_by=TODAY),
    ]
    done = book_counts(rows, Stock().book)
    assert shelf(done) == [
        (5000, 2250, "lot 1", "opening"),
        (3000, 1001, "lot 2", "opening"),
        (20_000, 0, "lot 3", "opening"),
    ]
    assert [(lot.name, lot.received_on, lot.opened_on, lot.use_by) for lot in done.lots] == [
        ("", TODAY, None, None),
        ("", None, None, None),
        ("blue", None, TODAY, TODAY),
    ]
    assert done.differences == []
    assert done.parts == [goods.CHROME_KIT, goods.GLUE]


def test_fewer_leave_the_oldest_lots_at_their_cost() -> None:
    """Three of eight found: the oldest five are written off at what they cost."""
    stock = Stock()
    first, second = stock.lot(goods.CHROME_KIT, 4000, 1601), stock.lot(goods.CHROME_KIT, 4000, 2000)
    done = book_counts([Count(goods.CHROME_KIT.upper(), 3000)], stock.book)
    assert shelf(done) == [(-4000, -1601, first, "not found"), (-1000, -500, second, "not found")]
    assert done.differences == [Difference(goods.CHROME_KIT.upper(), 8000, 3000)]


def test_more_are_found_at_the_newest_lot_s_cost_unless_one_is_given() -> None:
    """Found stock costs a piece what the newest lot does, or what the count says."""
    stock = Stock()
    stock.lot(goods.CHROME_KIT, 1000, 100)
    stock.lot(goods.CHROME_KIT, 2000, 901)
    assert shelf(book_counts([Count(goods.CHROME_KIT, 6000)], stock.book)) == [(3000, 1351, "lot 1", "found")]
    priced = book_counts([Count(goods.CHROME_KIT, 4000, Fraction(7))], stock.book)
    assert shelf(priced) == [(1000, 7, "lot 1", "found")]


def test_the_same_count_moves_nothing() -> None:
    """A count that agrees leaves the book alone and still says the part was looked at."""
    stock = Stock()
    stock.lot(goods.CHROME_KIT, 2000, 100)
    done = book_counts([Count(goods.CHROME_KIT, 1500), Count(goods.CHROME_KIT, 500)], stock.book)
    assert (done.lines, done.lots, done.differences, done.parts) == ([], [], [], [goods.CHROME_KIT])


def test_a_named_row_speaks_of_its_lot_alone() -> None:
    """The opened bottle is counted by its name; the row without a name speaks of all the rest."""
    stock = Stock()
    sealed = stock.lot(goods.GLUE, 56_000, 700)
    opened = stock.lot(goods.GLUE, 30_000, 375, name="Opened in May")
    rows = [Count(goods.GLUE, 56_000), Count(goods.GLUE, 12_000, lot="opened  in may")]
    assert shelf(book_counts(rows, stock.book)) == [(-18_000, -225, opened, "not found")]
    only = book_counts([Count(goods.GLUE, 0)], stock.book)
    assert {lot for _, _, lot, _ in shelf(only)} == {sealed, opened}


def test_a_name_the_book_does_not_know_is_a_lot_found() -> None:
    """A row that names a new lot brings it, and leaves the others as they are."""
    stock = Stock()
    stock.lot(goods.GLUE, 56_000, 700)
    done = book_counts([Count(goods.GLUE, 9000, Fraction(10), lot="green")], stock.book)
    assert shelf(done) == [(9000, 90, "lot 1", "found")]
    assert done.lots[0].name == "green"


def test_counting_a_named_lot_twice_finds_it_once() -> None:
    """More of a named lot makes a second lot of that name; the next count speaks of both together."""
    stock = Stock()
    stock.lot(goods.GLUE, 10_000, 100, name="blue")
    rows = [Count(goods.GLUE, 15_000, lot="blue")]
    later = after(stock, book_counts(rows, stock.book))
    assert sum(lot.quantity for lot in later.lots) == 15_000
    assert book_counts(rows, later.book).lines == []


def antler(name: str, diameter: str, quantity: int = 1000) -> Count:
    """A counted antler of 90 mm."""
    return Count(
        goods.ANTLER, quantity, None, name, None, None, None, read_length(diameter), read_length("90 mm")
    )


def test_measured_blanks_are_known_by_their_size() -> None:
    """A size the book has is that blank, whichever row comes first; a new size is a new blank."""
    stock = Stock()
    stock.measured("", "30 mm", "90 mm", 500)
    thin = stock.measured("", "22 mm", "90 mm", 400)
    done = book_counts([antler("", "30 mm"), antler("", "22 mm", 0), antler("", "26 mm")], stock.book)
    assert shelf(done) == [(-1000, -400, thin, "not found"), (1000, 0, "lot 1", "found")]
    assert done.lots[0].smallest_diameter == read_length("26 mm")


def test_measured_blanks_of_one_name_are_told_apart_by_size() -> None:
    """Two of three offcuts in one box are found: the one that is gone is known by its size."""
    stock = Stock()
    for size in ("30 mm", "26 mm", "22 mm"):
        stock.measured("box", size, "90 mm", 100)
    gone = stock.lots[0].id
    done = book_counts(
        [antler("box", "22 mm"), antler("box", "26 mm"), antler("box", "30 mm", 0)], stock.book
    )
    assert shelf(done) == [(-1000, -100, gone, "not found")]


def test_a_named_blank_measured_anew_is_the_same_blank() -> None:
    """A name is enough where the size has changed; a size the book has goes to its own lot first."""
    stock = Stock()
    stock.measured("tine", "30 mm", "90 mm")
    assert book_counts([antler("tine", "28 mm")], stock.book).lines == []
    both = book_counts([antler("tine", "28 mm"), antler("tine", "30 mm")], stock.book)
    assert shelf(both) == [(1000, 0, "lot 1", "found")]
    assert both.lots[0].smallest_diameter == read_length("28 mm")


def test_two_new_blanks_of_one_size_are_two_lots() -> None:
    """One-offs stay one-offs, although they measure the same."""
    stock = Stock()
    stock.measured("old", "30 mm", "90 mm")
    assert len(book_counts([antler("new", "25 mm"), antler("new", "25 mm")], stock.book).lots) == 2


def test_claims_follow_the_count() -> None:
    """Kits found go to who waits; kits not found are taken from the order due last."""
    stock = Stock()
    stock.orders += [order("A", due=TODAY), order("B")]
    stock.lot(goods.CHROME_KIT, 3000, 300)
    stock.claim("A", goods.CHROME_KIT, 1000)
    stock.claim("B", goods.CHROME_KIT, 2000)
    stock.claim("B", goods.CHROME_KIT, 500, "to buy")
    less = [one for one in book_counts([Count(goods.CHROME_KIT, 2000)], stock.book).lines if one.order]
    assert [(one.account, one.order, one.quantity) for one in less] == [
        ("claim", "B", -1000),
        ("to buy", "B", 1000),
    ]
    more = [one for one in book_counts([Count(goods.CHROME_KIT, 9000)], stock.book).lines if one.order]
    assert [(one.account, one.order, one.quantity) for one in more] == [
        ("to buy", "B", -500),
        ("claim", "B", 500),
    ]


def test_a_claimed_blank_that_is_gone_is_replaced_from_what_is_free() -> None:
    """The claim on a lost blank ends; another free blank of the part is set aside in its place."""
    stock = Stock()
    stock.orders.append(order("A"))
    lost = stock.measured("root", "30 mm", "90 mm")
    stock.measured("tine", "25 mm", "90 mm")
    stock.claim("A", goods.ANTLER, 1000, lot=lost)
    done = book_counts([Count(goods.ANTLER, 0, lot="root")], stock.book)
    assert [(one.account, one.quantity, one.lot) for one in done.lines] == [
        ("shelf", -1000, lost),
        ("claim", -1000, lost),
        ("to buy", 1000, None),
        ("to buy", -1000, None),
        ("claim", 1000, None),
    ]


@pytest.mark.parametrize(
    ("quantity", "unit_cost", "cost"),
    [(2500, Fraction(3), 8), (1500, Fraction(3), 4), (1000, Fraction(1, 3), 0)],
    ids=["half to even up", "half to even down", "a third"],
)
def test_cost_of_a_count(quantity: int, unit_cost: Fraction, cost: int) -> None:
    """Thousandths times the unit cost, rounded half to even."""
    assert cost_of(quantity, unit_cost) == cost


def test_cost_like_another_lot() -> None:
    """Found stock costs its proportion of a lot, rounded down, also where it is more than the lot."""
    stock = Stock()
    stock.lot(goods.GLUE, 3000, 100)
    assert [share_like(stock.lots[0], quantity).amount for quantity in (1000, 3000, 7000)] == [33, 100, 233]


names = st.sampled_from(["", "", "red", "blue"])
lots = st.lists(st.tuples(st.integers(1, 9000), st.integers(0, 500), names), max_size=5)
counts = st.lists(st.tuples(st.integers(0, 9000), names), min_size=1, max_size=5)


@examples(120)
@given(lots, counts)
def test_after_a_count_the_book_holds_what_was_found(
    there: list[tuple[int, int, str]], found: list[tuple[int, str]]
) -> None:
    """Spoken lots come to what was found, unspoken ones stay; counting once more changes nothing."""
    stock = Stock()
    for quantity, cost, name in there:
        stock.lot(goods.GLUE, quantity, cost, name=name)
    rows = [Count(goods.GLUE, quantity, lot=name) for quantity, name in found]
    done = book_counts(rows, stock.book)
    later = after(stock, done)
    said = {name for _, name in found}
    for name in {"red", "blue"} & said:
        assert sum(lot.quantity for lot in later.lots if lot.name == name) == sum(
            quantity for quantity, row in found if row == name
        )
    untouched = {"red", "blue"} - said if "" not in said else set()
    kept = [lot.quantity for lot in stock.lots if lot.name in untouched or (not lot.name and "" not in said)]
    assert sum(lot.quantity for lot in later.lots) == sum(kept) + sum(quantity for quantity, _ in found)
    assert all(lot.cost >= 0 for lot in later.lots)
    again = [one for one in book_counts(rows, later.book).lines if isinstance(one, Line)]
    assert again == []


def test_a_lot_that_may_have_been_renamed_is_asked_about() -> None:
    """A row names a lot nobody knew and none speaks of the one there is; a row of a known lot raises no doubt."""
    stock = Stock()
    stock.lot(goods.GLUE, 10_000, 100, name="blue")
    stock.lot(goods.GLUE, 5_000, 50, name="red")
    (note,) = book_counts([Count(goods.GLUE, 9000, lot="green")], stock.book).notes
    assert "no row speaks of" in note
    assert "blue" in note
    assert "red" in note
    assert list(book_counts([Count(goods.GLUE, 4000, lot="red")], stock.book).notes) == []
    nothing_new = [Count(goods.GLUE, 4000, lot="red"), Count(goods.GLUE, 0, lot="green")]
    assert list(book_counts(nothing_new, stock.book).notes) == []


def test_a_measured_blank_nobody_knew_is_no_renamed_one() -> None:
    """It is known by its size."""
    stock = Stock()
    stock.lot(goods.ANTLER, 1000, 100, name="box")
    assert list(book_counts([antler("tip", "20 mm")], stock.book).notes) == []
