"""A moment of the book: what is asked of it twice is read once, and the next moment knows nothing of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest
from sqlalchemy import event

from inventory.catalogue import fold
from inventory.ledger import Line
from inventory.store import Read, Store

from . import shop


@pytest.mark.parametrize(
    "ask",
    [Read.book, Read.orders, Read.catalogue, Read.happened, lambda read: read.lots([shop.KIT])],
    ids=["book", "orders", "catalogue", "happened", "lots of a part"],
)
def test_what_is_asked_twice_is_read_once(store: Store, ask: Callable[[Read], object]) -> None:
    """The second answer is the first one, without a statement to the database."""
    said: list[str] = []
    with store.reading() as read:
        first = ask(read)
        event.listen(read.connection, "before_cursor_execute", lambda *told: said.append(told[2]))
        assert ask(read) is first
        assert said == []


def test_another_question_is_another_answer(store: Store) -> None:
    """Lots of one part are not those of another, nor those of all; a list that is walked once serves as well."""
    with store.reading() as read:
        kits, glue = read.lots(iter([shop.KIT])), read.lots([shop.GLUE])
        assert len(kits) == len(glue) == 1
        assert kits != glue
        assert {**kits, **glue}.keys() < read.lots().keys()
        assert read.lots([]) == {}


def test_the_next_moment_is_read_anew(store: Store) -> None:
    """What was booked since is in it."""
    with store.reading() as read:
        before = read.book()
    store.commit(shop.receipt(shop.KIT, 1_000, 400))
    with store.reading() as read:
        assert len(read.book().lots_of(shop.KIT)) == len(before.lots_of(shop.KIT)) + 1


def test_who_books_alone_sees_what_was_booked(store: Store) -> None:
    """After the booking the same hand reads it anew."""
    with store.exclusive() as hand:
        before = hand.book()
        hand.commit(shop.receipt(shop.KIT, 1_000, 400))
        assert len(hand.book().lots_of(shop.KIT)) == len(before.lots_of(shop.KIT)) + 1


def test_use_by_stretches_is_what_was_used_in_each(store: Store) -> None:
    """From each day to the next, the last without end; on every kind of database."""
    for days, many in ((0, 5), (3, 2), (4, 1)):
        with store.reading() as read:
            lot = read.lots([shop.KIT])[fold(shop.KIT)][0]
        line = Line("shelf", shop.KIT, -many, 0, lot=lot.id, reason="used")
        store.commit(replace(shop.document(line), on=shop.DAY + timedelta(days=days)))
    with store.reading() as read:
        found = read.used_by_stretch([shop.DAY + timedelta(days=days) for days in (-1, 1, 4)])
        assert found == {fold(shop.KIT): (5, 2, 1)}
        assert read.used_since(shop.DAY) == {fold(shop.KIT): 8}
