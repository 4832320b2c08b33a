"""What can be promised, day by day, on a book of our own."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from inventory.catalogue import Kit, Order, Part, Supply
from inventory.ledger import Balance, Book, Claim, DueIn, Lot
from inventory.ledger.availability import free, free_by_day, gone_of

TODAY = date(2026, 11, 28)
KIT = Part("Kit", Kit("Dunlin", "chrome"))


def order(name: str, due: date) -> Order:
    return Order(name, "Dunlin pen", "walnut", 1, due, ("chrome",), state="promised")


def test_what_is_promised_for_later_is_not_free_now() -> None:
    """Five on the shelf, three of them due next week; ten come on the 5th, of which two are waited for."""
    soon, late = date(2026, 12, 3), date(2026, 12, 20)
    book = Book(
        balances={"kit": Balance(5000, 3000, 10_000, 2000, 1000)},
        claims=(
            Claim("A", "Kit", "claim", 3000),
            Claim("B", "kit", "due claim", 2000, purchase=1),
            Claim("B", "kit", "to buy", 1000),
            Claim("gone", "other", "claim", 1000),
        ),
        due=(
            DueIn(1, "kit", "Seller", 10_000, 0, date(2026, 12, 5), 2000),
            DueIn(2, "kit", "Seller", 4000, 0, None),
            DueIn(3, "other", "Seller", 4000, 0, soon),
        ),
        orders={"a": order("A", soon), "b": order("B", late)},
    )
    assert free_by_day(book, KIT, TODAY) == ((TODAY, 2000), (date(2026, 12, 5), 9000))


def test_late_receipts_count_when_they_usually_come() -> None:
    """What should have come already is counted on a week after its day, without a past; nothing free is told as 0."""
    book = Book(
        balances={"kit": Balance(1000, 1000)},
        claims=(Claim("lost", "kit", "claim", 1000),),
        due=(DueIn(1, "kit", "Seller", 2000, 0, date(2026, 11, 25)),),
    )
    assert free_by_day(book, KIT, TODAY) == ((TODAY, 0), (date(2026, 12, 2), 2000))
    assert free_by_day(Book(), KIT, TODAY) == ((TODAY, 0),)


GLUE = Part("glue", Supply("adhesive"), unit="ml")
bottles = st.lists(
    st.tuples(st.integers(0, 9), st.integers(0, 9), st.none() | st.integers(-9, 20)), min_size=1, max_size=5
)


@given(bottles, st.integers(0, 60))
def test_free_is_what_is_good_and_nobodys(rows: list[tuple[int, int, int | None]], wanted: int) -> None:
    """Bottle by bottle: claims on a very bottle are served from it alone, all others from what is still good."""
    lots, good, own = [], 0, 0
    for number, (quantity, claimed, days) in enumerate(rows, start=1):
        held = min(claimed, quantity)
        last = None if days is None else TODAY + timedelta(days=days)
        lots.append(Lot(number, "glue", "", TODAY, quantity, 0, held, use_by=last))
        good += 0 if last is not None and last < TODAY else quantity - held
        own += held
    there = sum(lot.quantity for lot in lots)
    claimed = own + min(wanted, there - own)
    book = Book(balances={"glue": Balance(there, claimed)}, lots={"glue": tuple(lots)})
    assert free(book, GLUE, TODAY) == max(good - (claimed - own), 0)
    assert free_by_day(book, GLUE, TODAY)[0] == (TODAY, free(book, GLUE, TODAY))


def test_what_goes_off_is_free_until_then() -> None:
    """30 ml of which 10 go off after the 3rd: free now, and less from the 4th; what is one's own counts for oneself."""
    last = date(2026, 12, 3)
    lots = (Lot(1, "glue", "", None, 10_000, 0, use_by=last), Lot(2, "glue", "", None, 20_000, 0))
    claims = (Claim("A", "glue", "claim", 5000),)
    book = Book(balances={"glue": Balance(30_000, 5000)}, lots={"glue": lots}, claims=claims)
    assert free_by_day(book, GLUE, TODAY) == ((TODAY, 25_000), (last + timedelta(days=1), 15_000))
    assert free(book, GLUE, TODAY, ["a"]) == 30_000


def test_what_has_gone_off_and_is_nobodys() -> None:
    """Of 10 ml that went off, 4 claimed from that very bottle, 6 are nobody's; what is still good is none of it."""
    yesterday = TODAY - timedelta(days=1)
    bad = Lot(1, "glue", "", None, 10_000, 0, 4000, use_by=yesterday)
    assert gone_of(GLUE, (bad, Lot(2, "glue", "", None, 20_000, 0, 5000, use_by=TODAY)), TODAY) == 6000
    assert gone_of(GLUE, (replace(bad, claimed=12_000),), TODAY) == 0
