"""Cost layers: first in, first out, to the last minor unit."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jobs import goods
from searching import examples

from inventory.ledger import Lot, after, draw, share


def lot(number: int, quantity: int, cost: int, claimed: int = 0) -> Lot:
    """A lot of so many thousandths at so much in all."""
    return Lot(number, goods.OLIVE, "", None, quantity, cost, claimed)


def run(history: list[tuple[int, int]]) -> tuple[int, int]:
    """(units, unit cost in cents) in, (-units, 0) out: the cost of all that went out, and of what is left."""
    lots: tuple[Lot, ...] = ()
    gone = 0
    for number, (units, cents) in enumerate(history):
        if units > 0:
            lots = (*lots, lot(number, 1000 * units, units * cents))
        else:
            takes, missing = draw(lots, -1000 * units)
            assert missing == 0
            gone += sum(take.cost for take in takes)
            lots = after(lots, takes)
    return gone, sum(one.cost for one in lots)


@pytest.mark.outside
def test_accounting_principles_exhibits_60_and_61() -> None:
    """FIFO: 179 left, 511 gone (*Accounting Principles: A Business Perspective*, exhibits 60–61; from memory)."""
    history = [(10, 800), (10, 850), (-10, 0), (20, 840), (-20, 0), (10, 900), (-10, 0), (20, 880)]
    assert run([*history, (-20, 0), (10, 910)]) == (511_00, 179_00)


@pytest.mark.outside
def test_accounting_principles_exhibit_48() -> None:
    """FIFO: 5,080 left, 6,030 gone (*Accounting Principles: A Business Perspective*, exhibit 48, read)."""
    history = [(8, 300_00), (10, 300_00), (-12, 0), (10, 315_00), (-8, 0), (8, 320_00)]
    assert run(history) == (6030_00, 5080_00)


@pytest.mark.outside
def test_openstax_perpetual_fifo() -> None:
    """FIFO: 285 left are worth 8,955 (OpenStax, *Principles of Accounting* vol. 1, §10.2–10.3; from memory)."""
    gone, left = run([(150, 2100), (-120, 0), (225, 2700), (-180, 0), (210, 3300)])
    assert left == 8955_00
    assert gone == 120 * 2100 + 30 * 2100 + 150 * 2700


def test_oldest_first_and_what_is_missing() -> None:
    """Takes run through the lots in order; what no lot holds is said."""
    lots = (lot(1, 2000, 20), lot(2, 3000, 60))
    takes, missing = draw(lots, 6000)
    assert [(take.lot.id, take.quantity, take.cost) for take in takes] == [(1, 2000, 20), (2, 3000, 60)]
    assert missing == 1000
    assert after(lots, takes) == ()


def test_nothing_asked_takes_nothing() -> None:
    """A draw of nothing leaves every lot as it is."""
    lots = (lot(1, 2000, 20),)
    assert draw(lots, 0) == ((), 0)
    assert after(lots, ()) == lots


def test_stock_claimed_from_a_lot_is_left_alone() -> None:
    """What an order holds of a very lot is skipped, and drawn only where that lot is named."""
    lots = (lot(1, 2000, 20, claimed=1500), lot(2, 1000, 9))
    takes, missing = draw(lots, 2000)
    assert [(take.lot.id, take.quantity) for take in takes] == [(1, 500), (2, 1000)]
    assert missing == 500
    named, left = draw(lots, 2500, named=1)
    assert [(take.lot.id, take.quantity, take.cost) for take in named] == [(1, 2000, 20)]
    assert left == 500


def test_a_fully_claimed_lot_gives_nothing() -> None:
    """A lot all of which is claimed is passed over."""
    assert draw((lot(1, 1000, 5, claimed=1000),), 400) == ((), 400)


@given(st.integers(1, 10**9), st.integers(0, 10**12), st.data())
def test_share_never_rounds_a_coin_away(quantity: int, cost: int, data: st.DataObject) -> None:
    """A share is within one coin of the exact proportion and below it; all of a lot takes all of its cost."""
    taken = data.draw(st.integers(0, quantity))
    part = share(quantity, cost, taken)
    assert 0 <= cost * taken - part * quantity < quantity
    assert share(quantity, cost, quantity) == cost


moves = st.lists(
    st.one_of(
        st.tuples(st.just("in"), st.integers(1, 5000), st.integers(0, 9999)),
        st.tuples(st.just("out"), st.integers(1, 9000), st.just(0)),
        st.tuples(st.just("named"), st.integers(1, 9000), st.integers(0, 11)),
    ),
    max_size=12,
)


@examples(90)
@given(moves)
def test_what_came_in_is_what_went_out_and_what_is_left(history: list[tuple[str, int, int]]) -> None:
    """Any run of receipts and draws keeps quantity and cost, and a lot is never below nothing."""
    lots: tuple[Lot, ...] = ()
    came, spent, went, cost_out = 0, 0, 0, 0
    for number, (kind, quantity, other) in enumerate(history):
        if kind == "in":
            lots, came, spent = (*lots, lot(number, quantity, other)), came + quantity, spent + other
            continue
        takes, missing = draw(lots, quantity, named=other if kind == "named" else None)
        assert sum(take.quantity for take in takes) + missing == quantity
        went += sum(take.quantity for take in takes)
        cost_out += sum(take.cost for take in takes)
        lots = after(lots, takes)
        assert all(one.quantity > 0 and one.cost >= 0 for one in lots)
    assert came == went + sum(one.quantity for one in lots)
    assert spent == cost_out + sum(one.cost for one in lots)


@given(st.integers(1, 5000), st.integers(0, 9999), st.lists(st.integers(1, 700), max_size=12))
def test_small_draws_cost_what_one_big_draw_costs(quantity: int, cost: int, bites: list[int]) -> None:
    """However a lot is eaten, bite by bite, its whole cost goes with the last of it."""
    lots: tuple[Lot, ...] = (lot(1, quantity, cost),)
    paid = 0
    for bite in [*bites, quantity]:
        takes, _ = draw(lots, bite)
        paid += sum(take.cost for take in takes)
        lots = after(lots, takes)
    assert lots == ()
    assert paid == cost


def test_after_keeps_everything_but_quantity_and_cost() -> None:
    """Names, dates and sizes of a lot stay as they are."""
    one = replace(lot(4, 1000, 7), name="blue bottle")
    takes, _ = draw((one,), 400)
    assert after((one,), takes) == (replace(one, quantity=600, cost=7 - 2),)
