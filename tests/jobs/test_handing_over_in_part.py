"""A part of an order goes to its customer: the rest stays promised, and nothing is assumed to have been made."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import Order
from inventory.errors import BadInput, NeverMade, Refused, StillNeeded
from inventory.jobs.orders.handing_over import HandingOver, HandOver, hand_over
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.promising import promise, release
from inventory.jobs.orders.requests import request_of
from inventory.jobs.orders.standing.listing import standings
from inventory.jobs.sessions.planning import Ask, plan
from inventory.ledger import Intake, Proposal
from inventory.ledger.shop import Shop
from inventory.store import Store, verify
from jobs import goods
from jobs.booking import booked as moved_on
from jobs.sessions import SATURDAY, booked, filled, here, opened, piece, planned, promised
from jobs.shop import DUE, TODAY, order, plenty, shop

GOOD = 4


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """Reed wants five, and four are finished."""
    with opened(tmp_path / "book.kitdrawer") as found:
        promised(found, order("Reed", 5))
        planned(found)
        booked(found, filled([piece(1, GOOD)]))
        yield found


def reed(store: Store) -> Order:
    """The order as it is now."""
    return here(store).book.orders["reed"]


def given_out(store: Store, **how: object) -> HandOver:
    """A hand-over, booked."""
    done = hand_over(here(store), reed(store), HandingOver(**how))  # type: ignore[arg-type]  # fields by name
    store.commit(done.proposal)
    return done


def held(store: Store) -> dict[str, int]:
    """What is set aside for Reed, thousandths by part."""
    return {claim.part: claim.quantity for claim in here(store).book.claims_of("Reed")}


def test_four_of_five(store: Store) -> None:
    """Four go out; the fifth stays promised for its day, with its own parts; only finished pieces are used."""
    before = held(store)
    done = given_out(store, count=4)
    (drawn,) = done.drawn
    assert (drawn.quantity, drawn.part.startswith("Turnstone gloss, of")) == (4000, True)
    assert (reed(store).state, reed(store).count, reed(store).handed, reed(store).due) == (
        "promised",
        1,
        4,
        DUE,
    )
    after = held(store)
    assert (after[goods.CHROME_KIT], after[goods.TUBE]) == (before[goods.CHROME_KIT], before[goods.TUBE])
    assert drawn.part not in after
    assert "1 of Reed stays promised" in done.said[0]
    assert verify(store) == ()


def test_how_it_stands_and_what_is_still_made(store: Store) -> None:
    """`orders` says how many are out; a plan makes the rest alone."""
    given_out(store, count=4)
    (standing,) = standings(here(store), "Reed")
    assert standing.stands.startswith("4 of 5 handed over, ")
    with store.reading() as read:
        sessions = read.sessions()
    (row,) = plan(here(store), sessions, Ask((SATURDAY,))).sessions[0].rows
    assert row.wanted == 1


def test_the_last_one_goes_too(store: Store) -> None:
    """The rest is handed over by itself, and then the order is over."""
    given_out(store, count=4)
    with pytest.raises(BadInput, match="2 pieces of Reed cannot be handed over") as refused:
        given_out(store, count=2)
    assert "1 open" in refused.value.hint
    given_out(store, made_now=True)
    assert (reed(store).state, held(store)) == ("handed over", {})
    assert verify(store) == ()


def test_it_is_undone_and_brought_back(store: Store) -> None:
    """Everything stands as before, and again as after it; what stands on it is undone first."""
    before = (reed(store), held(store))
    given_out(store, count=4)
    after = (reed(store), held(store))
    with pytest.raises(StillNeeded):
        store.undo(2, on=SATURDAY)  # the promise
    number = store.commit(store.undo(on=SATURDAY))
    assert (reed(store), held(store)) == before
    store.commit(store.undo(number, on=SATURDAY))
    assert (reed(store), held(store)) == after
    given_out(store, made_now=True)
    with pytest.raises(StillNeeded):
        store.undo(5, on=SATURDAY)
    assert verify(store) == ()


def test_promised_anew_after_a_release_it_is_whole_again(store: Store) -> None:
    """What went out before belongs to the promise that was given up."""
    given_out(store, count=4)
    store.commit(release(here(store), reed(store)))
    assert (reed(store).count, reed(store).handed) == (5, 0)
    promised(store, reed(store))
    assert (reed(store).count, reed(store).handed) == (5, 0)


def test_the_same_sheet_of_orders_is_no_change(store: Store) -> None:
    """The order as it was asked for may be loaded again; another count is refused as before."""
    given_out(store, count=4)
    intake = Intake(goods.catalogue(), orders=(order("Reed", 5),))
    store.commit(Proposal("load", "Load orders", TODAY), intake)
    assert (reed(store).count, reed(store).handed) == (1, 4)
    with pytest.raises(Refused, match="stays as it was agreed"):
        store.commit(
            Proposal("load", "Load orders", TODAY), Intake(goods.catalogue(), orders=(order("Reed", 1),))
        )


def test_nothing_is_assumed_of_a_planned_session(tmp_path: Path) -> None:
    """The order stands in a plan that is not booked: its pieces are not taken for made."""
    with opened(tmp_path / "book.kitdrawer") as found:
        promised(found, order("Reed", 2))
        planned(found)
        with pytest.raises(NeverMade, match=r"never booked as made\. The session of 2026-11-28 is planned"):
            hand_over(here(found), reed(found), HandingOver(session="2026-11-28"))
        for how in (
            HandingOver(session="2026-11-28", made_now=True),
            HandingOver(session="2026-11-28", lost={"turn": 1}),
        ):
            assert hand_over(here(found), reed(found), how).said[0].startswith("Made now")


def lossless() -> Shop:
    """A shop where nothing goes wrong."""
    return shop(plenty(), goods.catalogue().with_losses("olive wood"))


@examples(15)
@given(count=st.integers(2, 6), parts=st.lists(st.integers(1, 3), min_size=1, max_size=3))
def test_in_parts_or_at_once(count: int, parts: list[int]) -> None:
    """However an order is cut into parts, the same kits leave in the end, and nothing stays set aside."""
    there, one = lossless(), order("Reed", count)
    there = moved_on(there, promise(there, one, check(there, request_of(one))))
    whole = there.book.balance(goods.CHROME_KIT).on_hand - 1000 * count
    left = count
    for many in parts:
        if many >= left:
            break
        now = there.book.orders["reed"]
        done = hand_over(there, _of(now, left, count), HandingOver(many, made_now=True))
        there = moved_on(there, done.proposal)
        left -= many
        assert {c.part: c.quantity for c in there.book.claims_of("Reed")}[goods.CHROME_KIT] == 1000 * left
    last = _of(there.book.orders["reed"], left, count)
    there = moved_on(there, hand_over(there, last, HandingOver(made_now=True)).proposal)
    assert (there.book.balance(goods.CHROME_KIT).on_hand, there.book.claims_of("Reed")) == (whole, ())


def _of(one: Order, left: int, count: int) -> Order:
    return replace(one, count=left, handed=count - left, state="promised")
