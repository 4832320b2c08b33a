"""When and by which document each part was last counted, and what moved it since."""

from __future__ import annotations

from datetime import timedelta

from inventory.catalogue import fold
from inventory.ledger import Line, Proposal
from inventory.store import Store

from .shop import DAY, GLUE, KIT, OAK, document, receipt

LATER = DAY + timedelta(days=9)


def count(*parts: str) -> Proposal:
    """A count that found these as the book had them."""
    return Proposal("count", "Count", LATER, counted=parts)


def test_the_newest_count_that_stands(store: Store) -> None:
    """A later count takes the place of an earlier one until it is undone, and again once that is undone."""
    first = store.commit(count(KIT, OAK))
    second = store.commit(count(KIT))
    with store.reading() as read:
        assert read.counted_by() == {fold(KIT): second, fold(OAK): first}
        assert read.last_counted() == {fold(KIT): LATER, fold(OAK): LATER}
    undo = store.commit(store.undo(second, on=LATER))
    with store.reading() as read:
        assert read.counted_by() == {fold(KIT): first, fold(OAK): first}
    back = store.commit(store.undo(undo, on=LATER))
    with store.reading() as read:
        assert read.counted_by()[fold(KIT)] == second
        assert read.moved_since(second) == {}
    assert back > undo


def test_a_doubt_is_no_count(store: Store) -> None:
    """What a document made doubtful was not counted by it."""
    store.commit(Proposal("weekend", "Session", DAY, to_count=(GLUE,), counted=(OAK,)))
    with store.reading() as read:
        assert set(read.last_counted()) == {fold(OAK)}


def test_what_moved_since(store: Store) -> None:
    """Only later documents, only the shelf, in all; what was taken back is as if it never was."""
    with store.reading() as read:
        version = read.version
        (lot,) = read.book().lots_of(KIT)
        assert read.moved_since(version) == {}
        assert read.moved_since(0)[fold(KIT)] == (10_000, (1,))
    came = store.commit(receipt(GLUE, 5000, 10))
    used = store.commit(document(Line("shelf", KIT, -2000, -lot.cost // 5, lot=lot.id)))
    more = store.commit(document(Line("shelf", KIT, -1000, -lot.cost // 10, lot=lot.id)))
    store.commit(store.undo(came, on=LATER))
    with store.reading() as read:
        assert read.moved_since(version) == {fold(KIT): (-3000, (used, more))}
        assert read.moved_since(used, [fold(GLUE)]) == {fold(GLUE): (-5000, (more + 1,))}
        assert read.moved_since(used, [f"part {n}" for n in range(6000)]).keys() == {fold(KIT), fold(GLUE)}
        assert read.moved_since(used) == {fold(KIT): (-1000, (more,)), fold(GLUE): (-5000, (more + 1,))}
