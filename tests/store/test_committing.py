"""Booking a document: what it moves, and everything that stops it leaves the book as it was."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from sqlalchemy import event

from inventory.catalogue import Catalogue, Part, Tool
from inventory.errors import NotEnough, UnknownName
from inventory.jobs.stock.shelf import Filters, shelf
from inventory.ledger import Balance, Book, Claim, DueIn, Line, Lot, NewLot
from inventory.measures import read_length
from inventory.store import Store, verify

from . import shop


def test_opening_count(store: Store) -> None:
    """A load brings lots at their cost; the book is at version 1 and knows every balance."""
    found = shop.book(store)
    assert found.version == 1
    assert found.balances == {
        "dunlin chrome": Balance(10_000),
        "oak square": Balance(5_000),
        "thin glue": Balance(100_000),
    }
    assert found.lots_of(shop.KIT) == (Lot(1, shop.KIT, "drawer", shop.DAY, 10_000, 4_500),)
    assert found.lots_of(shop.GLUE) == (Lot(3, shop.GLUE, "", None, 100_000, 700, use_by=date(2026, 9, 1)),)
    assert (found.claims, found.due, found.to_count) == ((), (), ())


def test_documents_number_themselves(store: Store) -> None:
    """Documents are numbered in the order of booking, whatever their day."""
    assert store.commit(shop.receipt(shop.KIT, 1_000, 450)) == 2
    assert store.commit(replace(shop.receipt(shop.KIT, 1_000, 450), on=date(2020, 1, 1))) == 3
    with store.reading() as read:
        assert [one.id for one in read.documents()] == [3, 2, 1]
        assert [one.id for one in read.documents(last=1)] == [3]
        assert [one.id for one in read.documents(kind="load")] == [1]
        assert read.documents(last=1) == read.documents()[:1]


def test_document(store: Store) -> None:
    """One document is read with all it said; lots by number, orders and parts by name."""
    lines = (
        shop.claimed(shop.FIRST, 1_000),
        Line("shelf", shop.KIT, -1_000, -450, lot=1, reason="used", stage="turn"),
    )
    store.commit(shop.promise(shop.FIRST, *lines, to_count=(shop.KIT,), counted=(shop.OAK,)))
    with store.reading() as read:
        told = read.document(2)
    assert told.lines == lines
    assert told.order_states == ((shop.FIRST, "promised"),)
    assert told.doubts == ((shop.KIT, True), (shop.OAK, False))
    assert (told.document.kind, told.document.title, told.document.on) == ("promise", "Promise A-1", shop.DAY)


def test_no_document_yet(empty: Store) -> None:
    """A store just begun has no last document and an empty book."""
    with empty.reading() as read:
        assert read.documents(last=1) == ()
        assert read.book() == Book()


def test_first_in_first_out_order(store: Store) -> None:
    """Lots come oldest received first, those without a day before all, whenever they were booked."""
    store.commit(shop.receipt(shop.KIT, 2_000, 900, received_on=date(2026, 1, 1), name="late paper"))
    store.commit(shop.receipt(shop.KIT, 3_000, 900, name="no day"))
    assert [lot.name for lot in shop.book(store).lots_of(shop.KIT)] == ["no day", "late paper", "drawer"]
    with store.reading() as read:
        assert set(read.book(["DUNLIN chrome"]).lots) == {"dunlin chrome"}
        assert not read.book([]).lots


def test_emptied_lot_drops_out(store: Store) -> None:
    """A lot drawn to nothing is no longer among the open ones."""
    store.commit(shop.taken(shop.KIT, 10_000, 4_500, 1))
    assert shop.book(store).lots_of(shop.KIT) == ()
    assert shop.book(store).balance(shop.KIT) == Balance()


def test_measured_blank(store: Store) -> None:
    """A one-off keeps its own size, and what is claimed of this very lot is counted on it."""
    size = {"smallest_diameter": read_length("18 mm"), "length": read_length("70 mm")}
    store.commit(shop.receipt(shop.HORN, 1_000, 600, **size))
    store.commit(shop.promise(shop.FIRST, shop.claimed(shop.FIRST, 1_000, part=shop.HORN, lot=4)))
    assert shop.book(store).lots_of(shop.HORN) == (
        Lot(4, shop.HORN, "", None, 1_000, 600, 1_000, None, None, size["smallest_diameter"], size["length"]),
    )
    assert shop.book(store).claims == (Claim(shop.FIRST, shop.HORN, "claim", 1_000, 4),)
    with pytest.raises(NotEnough, match="Of “Horn piece” there is 0 free, and 1 is wanted"):
        store.commit(shop.taken(shop.HORN, 1_000, 600, 4))


def test_promise_buy_and_arrive(store: Store) -> None:
    """Claims on the shelf, on what is due in and still to buy are kept apart and move with the goods."""
    lines = shop.claimed(shop.FIRST, 2_000), shop.claimed(shop.FIRST, 3_000, "to buy", shop.OAK)
    store.commit(shop.promise(shop.FIRST, *lines))
    store.commit(shop.bought(shop.OAK, 5_000, 1_000))
    over = (
        shop.claimed(shop.FIRST, -3_000, "to buy", shop.OAK),
        shop.claimed(shop.FIRST, 3_000, "due claim", shop.OAK, purchase=1),
    )
    store.commit(shop.document(*over))
    found = shop.book(store)
    assert found.balance(shop.KIT) == Balance(10_000, 2_000)
    assert found.balance(shop.OAK) == Balance(5_000, 0, 5_000, 3_000)
    assert found.due == (
        DueIn(1, shop.OAK, shop.SUPPLIER, 5_000, 1_000, date(2026, 3, 8), 3_000, 1_000, "DU-C"),
    )
    assert found.claims == (
        Claim(shop.FIRST, shop.KIT, "claim", 2_000),
        Claim(shop.FIRST, shop.OAK, "due claim", 3_000, None, 1),
    )
    assert found.orders["a-1"].state == "promised"
    arrived = shop.document(
        Line("due", shop.OAK, -5_000, -1_000, purchase=1),
        Line("shelf", shop.OAK, 5_000, 1_050, lot="in"),
        shop.claimed(shop.FIRST, -3_000, "due claim", shop.OAK, purchase=1),
        shop.claimed(shop.FIRST, 3_000, part=shop.OAK),
        lots=(NewLot("in", shop.OAK),),
    )
    store.commit(arrived)
    assert shop.book(store).balance(shop.OAK) == Balance(10_000, 3_000)
    assert shop.book(store).due == ()
    assert verify(store) == ()


def test_claims_come_by_due_date(store: Store) -> None:
    """Claims are read in the order in which the orders are due."""
    store.commit(shop.promise(shop.FIRST, shop.claimed(shop.FIRST, 1_000)))
    store.commit(shop.promise(shop.SECOND, shop.claimed(shop.SECOND, 1_000)))
    assert [claim.order for claim in shop.book(store).claims] == [shop.SECOND, shop.FIRST]


def test_parts_to_count(store: Store) -> None:
    """Doubtful parts stay on the list until they are counted; doubted and counted at once means doubtful."""
    store.commit(shop.document(to_count=(shop.KIT, shop.GLUE)))
    store.commit(shop.document(counted=(shop.KIT,)))
    assert shop.book(store).to_count == (shop.GLUE,)
    store.commit(shop.document(counted=(shop.GLUE,), to_count=(shop.GLUE,)))
    assert shop.book(store).to_count == (shop.GLUE,)


def test_document_brings_parts_and_orders(store: Store) -> None:
    """A document may name a new part and a new order, and use both at once."""
    part, order = Part("Robbed kit", Tool("spare")), replace(shop.wishes()[0], name="B-1")
    lines = Line("shelf", "Robbed kit", 1_000, lot="r"), shop.claimed("B-1", 1_000, part="Robbed kit")
    store.commit(shop.document(*lines, lots=(NewLot("r", "Robbed kit"),), parts=(part,), orders=(order,)))
    assert shop.book(store).balance("robbed KIT") == Balance(1_000, 1_000)
    assert shop.book(store).orders["b-1"] == order


def test_fails_at_any_statement(store: Store) -> None:
    """Whichever statement of a commit fails, the book is exactly as before."""
    before, at = shop.book(store), 0
    wanted = shop.promise(
        shop.FIRST,
        shop.claimed(shop.FIRST, 1_000),
        lots=(NewLot("n", shop.OAK),),
        to_count=(shop.KIT,),
        fingerprint="f",
    )
    while True:
        seen = [0]

        def stop(*_: object, seen: list[int] = seen, at: int = at) -> None:
            seen[0] += 1
            if seen[0] > at:
                raise KeyboardInterrupt

        event.listen(store.engine, "before_cursor_execute", stop)
        try:
            store.commit(wanted)
        except KeyboardInterrupt:
            pass
        else:
            break
        finally:
            event.remove(store.engine, "before_cursor_execute", stop)
        assert shop.book(store) == before
        at += 1
    assert at > 10
    assert shop.book(store).version == 2
    assert verify(store) == ()


def test_progress_is_told(store: Store) -> None:
    """A long document says how far it is."""
    lines = tuple(Line("shelf", shop.KIT, 1, 0, lot=1) for _ in range(10_001))
    told: list[tuple[int, int]] = []
    store.commit(shop.document(*lines), progress=lambda done, of: told.append((done, of)))
    assert told == [(10_000, 10_001), (10_001, 10_001)]
    assert shop.book(store).balance(shop.KIT).on_hand == 20_001


def test_one_moment(where: str, store: Store) -> None:
    """What is read inside one `reading` belongs to one moment, whatever others book meanwhile."""
    from inventory.store import open_store

    with store.reading() as read:
        first = read.balances()
        with open_store(where) as other:
            other.commit(shop.receipt(shop.KIT, 1_000, 450))
        assert read.balances() == first
    assert shop.book(store).balance(shop.KIT).on_hand == 11_000


def test_history(store: Store) -> None:
    """The history of a part is every line that stands, in order, with its document, lot, order and supplier."""
    store.commit(shop.promise(shop.FIRST, shop.claimed(shop.FIRST, 2_000)))
    store.commit(shop.bought(shop.KIT, 1_000, 440))
    with store.reading() as read:
        before = read.history("dunlin CHROME")
    store.commit(store.undo(2, on=shop.DAY))
    with store.reading() as read:
        lines = read.history("dunlin CHROME")
        with pytest.raises(UnknownName, match="no part called “Dunlin crome”"):
            read.history("Dunlin crome")
    assert [(line.document.id, line.account, line.quantity, line.cost) for line in before] == [
        (1, "shelf", 10_000, 4_500),
        (2, "claim", 2_000, 0),
        (3, "due", 1_000, 440),
    ]
    assert (before[0].lot, before[0].lot_name, before[0].reason) == (1, "drawer", "opening")
    assert before[1].order == shop.FIRST
    assert (before[2].purchase, before[2].supplier) == (1, shop.SUPPLIER)
    assert lines == (before[0], before[2])  # what is taken back never was


def test_what_a_look_at_the_shelf_leaves_out_changes_no_row(store: Store) -> None:
    """Only lots that can go out of date are read for it: with a day of their own, or of a supply that keeps so long."""
    gone, soon = date(2026, 3, 15), date(2026, 9, 1)
    store.commit(shop.receipt(shop.KIT, 3_000, 900, name="sticker", use_by=gone))
    store.commit(shop.receipt(shop.OAK, 2_000, 900, use_by=soon))
    store.commit(shop.receipt(shop.GLUE, 28_000, 900, received_on=date(2025, 1, 1)))
    store.commit(shop.receipt(shop.GLUE, 28_000, 900, received_on=shop.DAY, opened_on=date(2026, 1, 1)))
    store.commit(shop.promise(shop.SECOND, shop.claimed(shop.SECOND, 2_000)))
    with store.reading() as read:
        assert [lot.name for lot in read.totals().lots_of(shop.KIT)] == ["sticker"]
        for day in (shop.DAY, date(2026, 4, 1), date(2027, 1, 1)):
            looked = shelf(Catalogue(read.parts()), read.totals(), Filters(), day)
            assert looked == shelf(read.catalogue(), read.book(), Filters(), day)
            assert sum(row.off > 0 for row in looked) == {3: 1, 4: 2, 1: 3}[day.month]
