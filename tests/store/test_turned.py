"""What would be learned from once a document is taken back: asked before, it is what the book says after."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace

import pytest

from inventory.ledger import Proposal
from inventory.ledger.learned import LearnedFigures
from inventory.ledger.sessions import Happened, Observed, Planned, RateWord, Session
from inventory.store import Store, verify

from . import shop

NOTHING = LearnedFigures()
TUBES = "tube glue volume"
WORD, MADE, FREED, MADE_AGAIN, DELIVERY = 2, 4, 5, 7, 8


def rates(*words: RateWord) -> Proposal:
    """The maker's words as a document of their own."""
    return shop.document(kind="rates", title="Rates", rate_words=words, learned=NOTHING)


@pytest.fixture
def taught(store: Store) -> Store:
    """2: a pin; 3, 4: a session planned and booked with a pin; 5: freed; 6, 7: another session; 8: a delivery."""
    store.commit(rates(RateWord(shop.GLUE, "piece", "pin", 2_000_000)))
    store.commit(shop.planned(shop.FIRST))
    store.commit(shop.made(shop.FIRST, 1))
    store.commit(rates(RateWord(shop.GLUE, TUBES, "free"), RateWord(shop.GLUE, "piece", "reset")))
    second = Session("2026-03-08", shop.DAY, (Planned(shop.SECOND, shop.KIT, 1),))
    store.commit(shop.document(kind="plan", title="Plan", sessions=(second,)))
    store.commit(
        shop.document(
            kind="weekend",
            title="Weekend",
            session=2,
            session_states=((2, "booked"),),
            outcomes=(replace(shop.OUTCOME, order=shop.SECOND, lost={}, good=1),),
            observed=(Observed(shop.GLUE, 400, 30),),
            learned=NOTHING,
        )
    )
    store.commit(shop.receipt(shop.KIT, 1_000, 400))
    return store


def undo(store: Store, number: int) -> int:
    """Book the undo of a document; what is learned is of no matter here."""
    return store.commit(replace(store.undo(number, on=shop.DAY), learned=NOTHING))


def said(store: Store, turned: int | None = None) -> tuple[Sequence[Happened], Sequence[RateWord]]:
    """What there is to learn from, once `turned` is reversed."""
    with store.reading() as read:
        return read.happened(turned), read.rate_words(turned)


def documents(store: Store, turned: int | None = None) -> tuple[list[int], list[int]]:
    """The documents that are learned from, and those whose words stand."""
    happened, words = said(store, turned)
    return [one.document for one in happened], list(dict.fromkeys(one.document for one in words))


def teaches(store: Store, number: int) -> bool:
    with store.reading() as read:
        return read.teaches(number)


def test_who_teaches(taught: Store) -> None:
    """Sessions that are booked and words on rates do; plans, deliveries and the opening count do not."""
    assert [number for number in range(1, 9) if teaches(taught, number)] == [WORD, MADE, FREED, MADE_AGAIN]


def test_all_that_stands(taught: Store) -> None:
    """Untouched, every session and every word is there, oldest first, as it was written."""
    happened, words = said(taught)
    assert documents(taught) == ([MADE, MADE_AGAIN], [WORD, MADE, FREED])
    assert happened[0].observed == (shop.OBSERVED,)
    assert happened[1].observed == (Observed(shop.GLUE, 400, 30),)
    assert {(one.document, one.per, one.word) for one in words} == {
        (WORD, "piece", "pin"),
        (MADE, TUBES, "pin"),
        (FREED, TUBES, "free"),
        (FREED, "piece", "reset"),
    }


@pytest.mark.parametrize(
    ("number", "left"),
    [
        (WORD, ([MADE, MADE_AGAIN], [MADE, FREED])),
        (MADE, ([MADE_AGAIN], [WORD, FREED])),
        (FREED, ([MADE, MADE_AGAIN], [WORD, MADE])),
        (MADE_AGAIN, ([MADE], [WORD, MADE, FREED])),
        (DELIVERY, ([MADE, MADE_AGAIN], [WORD, MADE, FREED])),
    ],
)
def test_without_one_of_them(taught: Store, number: int, left: tuple[list[int], list[int]]) -> None:
    """Asking changes nothing; what was asked is what the book says once the undo is booked."""
    before = said(taught)
    asked = said(taught, number)
    assert documents(taught, number) == left
    assert said(taught) == before
    undo(taught, number)
    assert said(taught) == asked
    assert verify(taught) == ()


def test_undo_of_the_undo_of_the_undo(taught: Store) -> None:
    """However long the chain is: each undo is told before as it is after, and by turns all is gone and back."""
    before, without = said(taught), said(taught, MADE)
    number = MADE
    for expected in (without, before, without, before):
        assert teaches(taught, number)
        assert said(taught, number) == expected
        number = undo(taught, number)
        assert said(taught) == expected


def test_everything_taken_back(taught: Store) -> None:
    """Nothing stands: nothing to learn from, as in a new book; each may come back by itself."""
    for number in (MADE_AGAIN, FREED, MADE, WORD):
        last = undo(taught, number)
    assert said(taught) == ((), ())
    assert documents(taught, last) == ([], [WORD])


def test_an_empty_book(store: Store) -> None:
    """No session and no word, whichever document is taken back."""
    assert said(store) == said(store, 1) == ((), ())
    assert not teaches(store, 1)


@pytest.mark.parametrize("seed", range(3))
def test_taken_back_in_any_order(taught: Store, seed: int) -> None:
    """Whatever is taken back and brought back: told before as it is after; what stands is what was never undone."""
    dice = random.Random(seed)
    every = (WORD, MADE, FREED, MADE_AGAIN)
    last = dict(zip(every, every, strict=True))
    off: set[int] = set()
    for _ in range(8):
        number = dice.choice(every)
        expected = said(taught, last[number])
        last[number] = undo(taught, last[number])
        off ^= {number}
        assert said(taught) == expected
        happened, words = documents(taught)
        assert happened == [one for one in (MADE, MADE_AGAIN) if one not in off]
        assert words == [one for one in (WORD, MADE, FREED) if one not in off]
    assert verify(taught) == ()


def test_a_count_of_what_sessions_drew_unseen_is_told_too(store: Store) -> None:
    """Who learns has to know that the book was brought to what is there; what was looked at needs no such word."""
    store.commit(shop.document(title="Count", kind="count", counted=(shop.GLUE,)))  # 2: before any session
    store.commit(shop.planned(shop.FIRST))
    store.commit(
        replace(shop.made(shop.FIRST, 1), observed=(Observed(shop.GLUE, 400, 0, "by the bill"),))
    )  # 4
    store.commit(shop.document(title="Count", kind="count", counted=(shop.GLUE, shop.KIT)))  # 5
    store.commit(shop.document(title="Count", kind="count", counted=(shop.KIT,)))  # 6
    assert [number for number in range(1, 7) if teaches(store, number)] == [4, 5]
    happened, _ = said(store)
    counted = Observed(shop.GLUE, 0, 0, "not learned")
    assert [(one.document, one.outcomes, one.observed) for one in happened[1:]] == [(5, (), (counted,))]
    before = said(store, 5)
    undo(store, 5)
    assert said(store) == before
    assert documents(store)[0] == [4]
