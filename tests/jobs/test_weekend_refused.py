"""Session sheets that cannot be, or that are taken with a word about it."""

from __future__ import annotations

from typing import Any

import pytest

from inventory.errors import AlreadyBooked, BadSheet, Place, Refused
from inventory.jobs.orders.handing_over import hand_over
from inventory.jobs.orders.promising import release
from inventory.jobs.orders.requests import request_of
from inventory.jobs.orders.standing.listing import standings
from inventory.jobs.sessions.planning import Ask
from inventory.jobs.sessions.reconciling.booking import session_of
from inventory.jobs.sessions.sheet_contents import session_sheet
from inventory.reports.filled import FilledBottle, FilledCount, FilledUse
from inventory.store import Store, verify
from jobs import goods
from jobs.sessions import SATURDAY, booked, filled, here, piece, planned, worked_out
from jobs.weekend_case import rows_of


@pytest.mark.parametrize(
    ("name", "more", "column", "said"),
    [
        ("Knot", {"good": 1, "lost": {"glue": 1}}, "spoiled at glue", "no such stage; it has cut, drill, turn"),
        ("Reed", {"good": 1, "lost": {"cut": 1}, "tubes_saved": 1}, "tube sets salvaged", "only 0 spoiled after"),
        ("Reed", {"good": 1, "lost": {"turn": 1}, "in_part": 1}, "kits salvaged", "1 salvaged, but only 0 spoiled"),
        ("", {"good": 1, "blank": goods.OLIVE}, "pattern", "need their pattern"),
        ("", {"good": 1, "pattern": "Turnstone gloss"}, "blank", "need their blank"),
        ("", {"good": 1, "pattern": "Turnstone gloss", "blank": goods.OLIVE}, "pattern", "Which plating"),
        ("", {"good": 1, "pattern": "Turnstone gloss", "blank": goods.OLIVE, "order": "Nobody"}, "order",
         "no promised"),
        ("9", {"good": 1}, "row", "rows 1 to 4"),
    ],
)  # fmt: skip
def test_rows_that_cannot_be(store: Store, name: str, more: dict[str, Any], column: str, said: str) -> None:
    """Each bad cell has its place and what would be right; nothing is booked."""
    number = {"": 0, "9": 9}.get(name) if name in ("", "9") else rows_of(store)[name]
    with pytest.raises(BadSheet) as caught:
        worked_out(store, filled([piece(number or 0, **more)]))
    (place,) = caught.value.where
    assert place.column == column
    assert said in place.problem


@pytest.mark.parametrize(
    ("part", "gross", "said"),
    [
        (goods.GLUE, 11_000, "less than the empty bottle"),
        (goods.GLUE, 900_000, "a full one holds"),
        (goods.STRIP, 1, "empty weight"),
    ],
)
def test_weights_that_cannot_be(store: Store, part: str, gross: int, said: str) -> None:
    """Below the tare, above a full bottle, a thing without a tare: refused with its place."""
    lot = here(store).book.lots_of(part)[0].id
    bottle = FilledBottle(Place("saturday", "bottles", 2, "gross g"), part, lot, gross)
    with pytest.raises(BadSheet) as caught:
        worked_out(store, filled([piece(1, 1)], bottles=(bottle,)))
    assert said in caught.value.where[0].problem


def test_weighed_and_written_down_and_counted(store: Store) -> None:
    """One way for a part; a bottle the book has not; two counts that differ."""
    where = Place("saturday", "used", 2)
    weighed = FilledBottle(where, goods.GLUE, here(store).book.lots_of(goods.GLUE)[0].id, 20_000)
    used = FilledUse(where, goods.STRIP, 1000)
    for more, said in (
        ({"bottles": (weighed,), "uses": (FilledUse(where, goods.GLUE, 1),)}, "weighed too"),
        ({"uses": (used,), "counts": (FilledCount(where, goods.STRIP, 1000),)}, "Keep one"),
        ({"bottles": (FilledBottle(where, goods.GLUE, 0, 20_000),)}, "no such bottle"),
        ({"counts": (FilledCount(where, goods.STRIP, 1000, 2000),)}, "second count differs"),
    ):
        with pytest.raises(BadSheet) as caught:
            worked_out(store, filled([piece(1, 1)], **more))
        assert said in caught.value.where[0].problem


def test_a_row_said_twice_and_a_kit_by_name(store: Store) -> None:
    """The second is refused with its place; an added row may name its kit in place of the plating."""
    with pytest.raises(BadSheet) as caught:
        worked_out(store, filled([piece(1, 1), piece(1, 2)]))
    assert "stands there twice" in caught.value.where[0].problem
    extra = piece(0, 1, pattern="Turnstone gloss", blank=goods.OLIVE, kit=goods.CHROME_KIT)
    assert worked_out(store, filled([extra])).made[0].kit == goods.CHROME_KIT


def test_an_empty_sheet(store: Store) -> None:
    """Nothing made, weighed or counted is nothing to book."""
    with pytest.raises(Refused, match="empty"):
        worked_out(store, filled([piece(1), piece(2)]))


def test_fewer_more_and_missing_rows_are_announced(store: Store) -> None:
    """Fewer and more than planned, a row left empty, a row that is not on the sheet."""
    at = rows_of(store)
    with store.reading() as read:
        starts = {row.order: row.starts for row in read.sessions()[0].rows}
    done = worked_out(
        store, filled([piece(at["Reed"], starts["Reed"] - 1), piece(at["Tern"], 9), piece(at["Knot"])])
    )
    told = " ".join(done.announced)
    assert f"Reed: {starts['Reed'] - 1} of {starts['Reed']} planned pieces were started" in told
    assert f"Tern: 9 were started, {starts['Tern']} planned." in told
    assert "Knot: nothing written, taken as not made." in told
    assert "is not on the sheet: taken as not made." in told


def test_which_session_a_sheet_is_of(store: Store) -> None:
    """Another book's, an unknown one, a booked one, a dropped one are refused; without its tab the only one counts."""
    with store.reading() as read:
        sessions, mark = read.sessions(), read.mark()
    assert session_of(sessions, filled([], mark=mark), mark).number == 1
    assert session_of(sessions, filled([], session=0), mark).number == 1
    for sheet, said in (
        (filled([], mark="other"), "another book"),
        (filled([], session=8), "no session number 8"),
    ):
        with pytest.raises(Refused, match=said):
            session_of(sessions, sheet, mark)
    planned(store, Ask((SATURDAY,), ("Reed",), anew=True))
    with store.reading() as read:
        sessions = read.sessions()
    with pytest.raises(Refused, match="older plan") as caught:
        session_of(sessions, filled([]), mark)
    assert "2026-11-28 a" in caught.value.hint
    booked(store, filled([piece(1, 5)], session=2))
    with store.reading() as read:
        sessions = read.sessions()
    with pytest.raises(AlreadyBooked):
        session_of(sessions, filled([], session=2), mark)
    with pytest.raises(Refused, match="does not say which"):
        session_of(sessions, filled([], session=0), mark)


def test_rows_keep_their_numbers(store: Store) -> None:
    """An order handed over or released before the sheet is made leaves the others' numbers alone."""
    at = rows_of(store)
    shop = here(store)
    store.commit(hand_over(shop, shop.book.orders["reed"]).proposal)
    shop = here(store)
    store.commit(release(shop, shop.book.orders["tern"]))
    with store.reading() as read:
        sheet = session_sheet(here(store), read.sessions()[0], read.mark(), read.learned())
    assert {row.order: row.row for row in sheet.pieces} == {
        name: row for name, row in at.items() if name not in ("Reed", "Tern")
    }
    with pytest.raises(BadSheet) as caught:
        worked_out(store, filled([piece(at["Reed"], 1)]))
    assert "was handed over" in caught.value.where[0].problem
    done = booked(store, filled([piece(at["Tern"], 3)]))
    assert here(store).book.balance(done.tally.pieces[0][1]).unclaimed == 3000
    assert verify(store) == ()


def test_the_wish_of_an_undone_plan_is_nobodys(store: Store) -> None:
    """Undoing the plan leaves the stall's request in the book; `orders` shows it only with everything."""
    store.commit(store.undo(on=SATURDAY))
    shop = here(store)
    stalls = [one for one in shop.book.orders.values() if one.name.startswith("stall")]
    assert [one.state for one in stalls] == ["wish"]
    assert {one.order.name for one in standings(shop)} == {"Reed", "Tern", "Knot"}
    assert len(standings(shop, everything=True)) == 4
    assert request_of(stalls[0]).count == 2
