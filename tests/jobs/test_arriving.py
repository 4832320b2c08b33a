"""Deliveries: of which purchase a line is, what a price is for, and days that are still to come."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import Offer, PriceStep
from inventory.errors import BadInput, Refused
from inventory.jobs.purchasing.arriving import BookedParcel, arrive
from inventory.jobs.purchasing.parcels import check_rows
from inventory.ledger import Claim
from inventory.ledger.shop import Shop
from inventory.reports.purchasing.parcels import Arrived, Delivery
from jobs import goods
from jobs.booking import booked
from jobs.shop import TODAY, Stock, order, shop

SALT = "Saltmarsh Turning"
SINGLE, TEN = 1000, 10_000


def ordered(*purchases: tuple[int, int, int], part: str = goods.TUBE) -> Stock:
    """Purchases of one part: (thousandths due, cost, pack)."""
    stock = Stock()
    for quantity, cost, pack in purchases:
        stock.coming(part, quantity, TODAY, cost)
        stock.due[-1] = replace(stock.due[-1], pack=pack)
    return stock


TWO = (3 * SINGLE, 150, SINGLE), (2 * TEN, 800, TEN)
"""Three single tubes at 0.50, two packs of ten at 4.00."""


def came(stock: Stock, *lines: Arrived, on: date = TODAY, known: Shop | None = None) -> BookedParcel:
    """One parcel from the one supplier."""
    return arrive(known or shop(stock), Delivery(SALT, on, lines))


def lots(done: BookedParcel) -> list[tuple[int, int]]:
    """Quantity and cost of what goes on the shelf."""
    return [(one.quantity, one.cost) for one in done.proposal.lines if one.account == "shelf"]


def left(done: BookedParcel, stock: Stock) -> dict[int, int]:
    """What is still due, by pack."""
    book = booked(shop(stock), done.proposal).book
    return {row.pack: row.quantity for row in book.due}


def test_a_day_to_come_is_refused() -> None:
    """Nothing arrives tomorrow; yesterday is fine."""
    stock = ordered(TWO[0])
    with pytest.raises(BadInput, match="2026-11-26 is still to come; today is 2026-11-25"):
        came(stock, Arrived(goods.TUBE, 1000), on=TODAY + timedelta(days=1))
    assert came(stock, Arrived(goods.TUBE, 1000), on=TODAY - timedelta(days=1)).proposal.on < TODAY


def test_a_price_is_for_the_pack_of_its_purchase() -> None:
    """A line a pack: singles at 0.55 each, tens at 4.20 a pack; each clears its own purchase."""
    stock = ordered(*TWO)
    done = came(
        stock,
        Arrived(goods.TUBE, TEN, price=420, pack=TEN),
        Arrived(goods.TUBE, 3 * SINGLE, price=55, pack=SINGLE),
    )
    assert lots(done) == [(TEN, 420), (3 * SINGLE, 165)]
    assert left(done, stock) == {SINGLE: 0, TEN: TEN}


def test_the_order_of_purchases_does_not_matter() -> None:
    """The same parcel whichever was bought first."""
    for stock in (ordered(*TWO), ordered(*reversed(TWO))):
        done = came(stock, Arrived(goods.TUBE, TEN, price=420, pack=TEN))
        assert lots(done) == [(TEN, 420)]
        assert left(done, stock) == {SINGLE: 3 * SINGLE, TEN: TEN}


def test_a_price_without_a_pack_is_refused_where_both_came() -> None:
    """Thirteen at 4.20: of a single or of ten? Without a price, or of one pack only, it is clear."""
    stock = ordered(*TWO)
    with pytest.raises(BadInput, match="packs of 1 and 10: a price alone does not say of which"):
        came(stock, Arrived(goods.TUBE, 13_000, price=420))
    assert lots(came(stock, Arrived(goods.TUBE, 13_000))) == [(13_000, 150 + 400)]
    assert lots(came(stock, Arrived(goods.TUBE, 2 * SINGLE, price=55))) == [(2 * SINGLE, 110)]


def test_what_will_not_come_is_that_of_its_pack() -> None:
    """The rest of the tens is called off, the singles are still to come; without a pack all is."""
    stock = ordered(*TWO)
    done = came(stock, Arrived(goods.TUBE, TEN, rest_cancelled=True, pack=TEN))
    assert left(done, stock) == {SINGLE: 3 * SINGLE, TEN: 0}
    assert left(came(stock, Arrived(goods.TUBE, SINGLE, rest_cancelled=True)), stock) == {SINGLE: 0, TEN: 0}


def test_a_pack_nobody_ordered_serves_what_is_due() -> None:
    """Ordered singly, sent as a bag of five at 2.30: the price is that of the bag."""
    stock = ordered((5 * SINGLE, 250, SINGLE))
    done = came(stock, Arrived(goods.TUBE, 5 * SINGLE, price=230, pack=5 * SINGLE))
    assert lots(done) == [(5 * SINGLE, 230)]
    assert left(done, stock) == {SINGLE: 0}


def test_the_price_seen_is_kept_with_the_offer_of_that_pack() -> None:
    """Two offers of one part: only the pack that came gets its new price."""
    offers = tuple(
        Offer(SALT, goods.TUBE, pack, (PriceStep(1, price),)) for pack, price in ((SINGLE, 50), (TEN, 400))
    )
    known = shop(ordered(*TWO), replace(goods.catalogue(), offers=goods.by_part(offers)))
    done = came(Stock(), Arrived(goods.TUBE, TEN, price=420, pack=TEN), known=known)
    ((seen,),) = done.intake.catalogue.offers.values()
    assert (seen.pack, seen.steps, seen.seen_on) == (TEN, (PriceStep(1, 420),), TODAY)
    assert any("the price was 4.00 EUR and is 4.20 EUR a pack" in note for note in done.notes)


def test_a_part_sent_instead_is_priced_by_its_own_pack() -> None:
    """Not by that of the part that was ordered."""
    stock = ordered((TEN, 400, TEN))
    (lot,) = lots(
        came(stock, Arrived(goods.CHROME_KIT, 2000, price=450, instead_of=goods.TUBE, settles=True))
    )
    assert lot == (2000, 900)


def test_one_part_twice_in_a_parcel() -> None:
    """Two packs are two lines; the same pack twice is refused."""
    ten = Arrived(goods.TUBE, TEN, pack=TEN)
    check_rows([ten, Arrived(goods.TUBE, SINGLE, pack=SINGLE)])
    with pytest.raises(BadInput, match="stands twice"):
        check_rows([ten, ten])


@examples(35)
@given(
    st.lists(
        st.tuples(st.integers(1, 40), st.integers(0, 9000), st.sampled_from([SINGLE, TEN])),
        min_size=1,
        max_size=4,
    ),
    st.integers(1, 60),
    st.sampled_from([None, SINGLE, TEN]),
)
def test_nothing_due_is_lost(bought: list[tuple[int, int, int]], pieces: int, pack: int | None) -> None:
    """What was due = what arrived of it + what is still due, and its cost likewise, whichever pack is named."""
    stock = ordered(*((1000 * n, cost, size) for n, cost, size in bought))
    done = came(stock, Arrived(goods.TUBE, 1000 * pieces, pack=pack))
    book = booked(shop(stock), done.proposal).book
    due = sum(1000 * n for n, _, _ in bought)
    taken = min(due, 1000 * pieces)
    assert sum(row.quantity for row in book.due) == due - taken
    paid = sum(one.cost for one in done.proposal.lines if one.account == "due")
    assert sum(row.cost for row in book.due) - paid == sum(cost for _, cost, _ in bought)
    if pack is not None and taken <= sum(1000 * n for n, _, size in bought if size == pack):
        assert all(
            row.quantity == 1000 * n
            for row, (n, _, size) in zip(book.due, bought, strict=True)
            if size != pack
        )


def test_what_is_broken_and_what_will_not_come_at_its_cost() -> None:
    """Of ten tubes at 40.00 seven come, one broken, 4.90 of postage: 28.00 of goods, a seventh of 32.90 is lost.

    Of seven that were waited for the first by day gets its three, the other the rest of six; one is to buy anew.
    """
    stock = ordered((TEN, 4000, SINGLE))
    stock.orders = [
        order("Late", due=TODAY + timedelta(days=9)),
        order("Soon", due=TODAY + timedelta(days=3)),
    ]
    stock.claims = [
        Claim("Late", goods.TUBE, "due claim", 4000, None, 900),
        Claim("Soon", goods.TUBE, "due claim", 3000, None, 900),
    ]
    line = Arrived(goods.TUBE, 6000, 1000, rest_cancelled=True)
    done = arrive(shop(stock), Delivery(SALT, TODAY, (line,), 490))
    assert lots(done) == [(7000, 2800), (0, 490), (-1000, -470)]
    assert [(one.quantity, one.cost) for one in done.proposal.lines if one.account == "due"] == [
        (-10_000, -4000)
    ]
    claims = [(one.order, one.account, one.quantity) for one in done.proposal.lines if one.order]
    assert [one for one in claims if one[1] != "due claim"] == [
        ("Soon", "claim", 3000),
        ("Late", "claim", 3000),
        ("Late", "to buy", 1000),
    ]
    assert sum(many for _, account, many in claims if account == "due claim") == -7000


def test_postage_by_value_and_by_quantity_where_nothing_cost() -> None:
    """Goods of 3.00 and 1.00 share 4.90; of no cost, 3 and 1 pieces do."""
    stock = ordered((3000, 300, SINGLE))
    stock.coming(goods.REFILL, 1000, TODAY, 100)
    rows = Arrived(goods.TUBE, 3000), Arrived(goods.REFILL, 1000)
    done = arrive(shop(stock), Delivery(SALT, TODAY, rows, 490))
    assert sorted(lots(done)) == [(0, 122), (0, 368), (1000, 100), (3000, 300)]
    free = tuple(replace(row, price=0) for row in rows)
    assert sorted(lots(arrive(shop(stock), Delivery(SALT, TODAY, free, 490))))[:2] == [(0, 122), (0, 368)]


def test_what_came_and_was_not_due() -> None:
    """Nothing at all, or fewer than none, is refused, and what is not due; more of what is due is taken."""
    stock = ordered((3000, 300, SINGLE))
    for line in (Arrived(goods.TUBE, 0), Arrived(goods.TUBE, -1, 2), Arrived(goods.TUBE, 2, -1)):
        with pytest.raises(BadInput, match="nothing came"):
            came(stock, line)
    with pytest.raises(Refused, match="not due in"):
        came(stock, Arrived(goods.REFILL, 1000))
    more = came(stock, Arrived(goods.TUBE, 4000))
    assert lots(more) == [(4000, 400)]
    assert any("1 more than ordered" in one for one in more.notes)
    gone = came(stock, Arrived(goods.TUBE, 0, rest_cancelled=True))
    assert lots(gone) == []
    assert [one.quantity for one in gone.proposal.lines] == [-3000]
