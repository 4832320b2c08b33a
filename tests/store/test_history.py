"""Laws of the book, over random histories: what came in is what went out and what is left."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, reject
from hypothesis import strategies as st
from searching import examples

from inventory.errors import KitdrawerError, NotEnough, Refused
from inventory.ledger import Book, Line, NewLot, Proposal, draw
from inventory.ledger.documents.booked import Happening
from inventory.ledger.sessions import Observed, RateWord
from inventory.store import Store, open_store, verify

from . import shop

PARTS = st.sampled_from([shop.KIT, shop.OAK, shop.GLUE])
SOME = st.integers(1, 9_000)
Step = Callable[[Store], Proposal]


def _book(store: Store) -> Book:
    with store.reading() as read:
        return read.book()


def _use(part: str, quantity: int) -> Step:
    def step(store: Store) -> Proposal:
        takes, _ = draw(_book(store).lots_of(part), quantity)
        return shop.document(
            *(
                Line("shelf", part, -take.quantity, -take.cost, lot=take.lot.id, reason="used")
                for take in takes
            )
        )

    return step


def _undo(number: int) -> Step:
    return lambda store: store.undo(1 + number % _book(store).version, on=shop.DAY)


STEPS = st.lists(
    st.one_of(
        st.builds(
            lambda part, quantity, cost: lambda _: shop.receipt(part, quantity, cost), PARTS, SOME, SOME
        ),
        st.builds(_use, PARTS, SOME),
        st.builds(
            lambda order, part, quantity: (
                lambda _: shop.promise(order, shop.claimed(order, quantity, part=part))
            ),
            st.sampled_from([shop.FIRST, shop.SECOND]),
            PARTS,
            SOME,
        ),
        st.builds(
            lambda order, part, quantity: lambda _: shop.document(shop.claimed(order, -quantity, part=part)),
            st.sampled_from([shop.FIRST, shop.SECOND]),
            PARTS,
            SOME,
        ),
        st.builds(
            lambda part, quantity, cost: lambda _: shop.bought(part, quantity, cost), PARTS, SOME, SOME
        ),
        st.builds(_undo, st.integers(0, 40)),
    ),
    min_size=1,
    max_size=14,
)


def _past(store: Store, version: int) -> list[object]:
    """Every reading of the past there is."""
    with store.reading() as read:
        return [
            replace(read.book(), version=0),
            read.used_since(shop.DAY),
            read.used_since(shop.DAY + timedelta(days=1)),
            read.used_by_stretch([shop.DAY, shop.DAY + timedelta(days=1)]),
            read.first_use(shop.DAY + timedelta(days=2)),
            read.handed_over(),
            read.lateness(),
            read.counted_by(),
            read.last_counted(),
            read.moved_since(version),
            [[_said(line) for line in read.history(part)] for part in (shop.KIT, shop.OAK, shop.GLUE)],
            read.happened(),
            read.seen(),
            read.rate_words(),
        ]


def _said(line: Happening) -> Happening:
    return replace(line, document=replace(line.document, undone_by=None))


def _later(step: Step, days: int) -> Step:
    return lambda store: replace(step(store), on=shop.DAY + timedelta(days=days))


def _hands_over(order: str, part: str, quantity: int) -> Step:
    def step(store: Store) -> Proposal:
        return replace(_use(part, quantity)(store), kind="hand-over", order_states=((order, "handed over"),))

    return step


def _arrives(store: Store) -> Proposal:
    """All that is due in comes, or some glue that nobody expected."""
    rows = _book(store).due
    if not rows:
        return shop.receipt(shop.GLUE, 500, 4)
    lots = tuple(NewLot(f"l{row.purchase}", row.part) for row in rows)
    gone = (
        Line("due", row.part, -row.quantity, -row.cost, purchase=row.purchase, reason="arrived")
        for row in rows
    )
    came = (Line("shelf", row.part, row.quantity, row.cost, lot=f"l{row.purchase}") for row in rows)
    return shop.document(*gone, *came, lots=lots, kind="arrival")


TELLING = st.one_of(
    st.builds(_later, st.just(_arrives), st.integers(5, 20)),
    st.builds(_later, st.builds(_use, PARTS, SOME), st.integers(0, 3)),
    st.builds(
        _later,
        st.builds(_hands_over, st.sampled_from([shop.FIRST, shop.SECOND]), PARTS, SOME),
        st.integers(0, 3),
    ),
    st.builds(lambda part, days: lambda _: counting(part, days), PARTS, st.integers(0, 3)),
    st.just(lambda _: shop.document(kind="rates", rate_words=(RateWord(shop.GLUE, "piece", "reset"),))),
    st.just(
        lambda _: shop.document(
            kind="weekend", outcomes=(shop.OUTCOME,), observed=(Observed(shop.GLUE, 400, 30),)
        )
    ),
)


def counting(part: str, days: int) -> Proposal:
    """A count that found what the book had, some days later."""
    return Proposal("count", "Count", shop.DAY + timedelta(days=days), counted=(part,))


@contextmanager
def _copied(template: Path) -> Iterator[Store]:
    """A store with the little shop in it, as one that is begun for every history would be."""
    with (
        tempfile.TemporaryDirectory() as folder,
        open_store(shutil.copy(template, Path(folder) / "book")) as store,
    ):
        yield store


@examples(3, suppress_health_check=[HealthCheck.too_slow])
@given(steps=STEPS, last=TELLING, days=st.integers(1, 9))
def test_what_is_undone_is_in_no_reading_of_the_past(
    template: Path, steps: list[Step], last: Step, days: int
) -> None:
    """Whatever was booked last and taken back later: all of the past reads as before; brought back, as it did then."""
    with _copied(template) as store:
        for step in steps:
            with suppress(KitdrawerError):
                store.commit(step(store))
        version = _book(store).version
        before = _past(store, version)
        try:
            number = store.commit(last(store))
        except NotEnough:  # the steps before left too little of it
            reject()
        with_it = _past(store, version)
        undo = store.commit(store.undo(on=shop.DAY + timedelta(days=days)))
        assert _past(store, version) == before
        store.commit(store.undo(undo, on=shop.DAY + timedelta(days=days + 1)))
        assert _past(store, version) == with_it
        store.commit(store.undo(number, on=shop.DAY + timedelta(days=days + 2)))
        assert _past(store, version) == before
        assert verify(store) == ()


@examples(10)
@given(steps=STEPS)
def test_nothing_appears_or_vanishes(template: Path, steps: list[Step]) -> None:
    """Whatever is booked, refused or undone: in = out + left, for goods and money, and the proof holds."""
    with _copied(template) as store:
        for step in steps:
            before = _book(store)
            try:
                store.commit(step(store))
            except Refused:
                assert _book(store) == before
        assert verify(store) == ()
        _check_sums(store)


def _check_sums(store: Store) -> None:
    book = _book(store)
    with store.reading() as read:
        for part in (shop.KIT, shop.OAK, shop.GLUE):
            lines = [line for line in read.history(part) if line.account == "shelf"]
            came = (
                sum(line.quantity for line in lines if line.quantity > 0),
                sum(line.cost for line in lines if line.quantity > 0),
            )
            went = (
                -sum(line.quantity for line in lines if line.quantity < 0),
                -sum(line.cost for line in lines if line.quantity < 0),
            )
            left = (
                sum(lot.quantity for lot in book.lots_of(part)),
                sum(lot.cost for lot in book.lots_of(part)),
            )
            assert came == (went[0] + left[0], went[1] + left[1])
            assert book.balance(part).on_hand == left[0]


@examples(6)
@given(steps=STEPS)
# what was left by an undo may hold up a later document: each is taken back in its turn, undos too
@example(
    [
        lambda _: shop.promise(shop.FIRST, shop.claimed(shop.FIRST, 1, part=shop.GLUE)),
        lambda _: shop.receipt(shop.GLUE, 1, 1),
        _undo(0),
    ]
)
def test_all_the_way_back(template: Path, steps: list[Step]) -> None:
    """Every document taken back, from the last to the first, any history ends where it began."""
    with _copied(template) as store:
        for step in steps:
            with suppress(KitdrawerError):
                store.commit(step(store))
        for number in range(_book(store).version, 0, -1):
            store.commit(store.undo(_standing_for(store, number), on=shop.DAY))
        with pytest.raises(Refused, match="nothing to undo"):
            store.undo(on=shop.DAY)
        book = _book(store)
        assert (book.balances, book.lots, book.claims, book.due) == ({}, {}, (), ())
        assert {order.state for order in book.orders.values()} == {"wish"}
        assert verify(store) == ()


def _standing_for(store: Store, number: int) -> int:
    """The document itself, or the last that brought it back."""
    with store.reading() as read:
        while (later := read.document(number).document.undone_by) is not None:
            number = later
    return number
