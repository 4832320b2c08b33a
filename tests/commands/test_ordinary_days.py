"""Each line of the table of ordinary days on the sample, with undo after it; the book proves sound throughout."""

from __future__ import annotations

from pathlib import Path

import pytest

from inventory.ledger import Balance
from inventory.store import open_store

from .conftest import Kitdrawer

Words = tuple[str, ...]
PROMISED: tuple[Words, ...] = (("promise", "S42"),)
FETCHED: tuple[Words, ...] = (*PROMISED, ("handed-over", "S42", "--made-now"))
PARTLY: tuple[Words, ...] = (*PROMISED, ("handed-over", "S42", "--count", "3", "--made-now"))
ANY_WOOD: Words = (
    *("promise", "T7", "-m", "Dunlin pen", "-p", "chrome", "--by", "2026-12-20", "--count", "2"),
    *("--blank", "walnut or olivewood"),
)
LENT: tuple[Words, ...] = (("took", "tube 7 x 53", "2", "--reason", "lent", "--to", "the neighbour"),)

DAYS: dict[str, tuple[tuple[Words, ...], Words]] = {
    "three more kits on the shelf, no parcel": ((), ("add", "Dunlin kit chrome", "3", "--paid", "4.10")),
    "a kit nobody knew": (
        (),
        ("add", "Dunlin kit copper", "2", "--family", "Dunlin", "--plating", "antique copper"),
    ),
    "gave one away": ((), ("took", "Dunlin kit chrome", "1", "--reason", "gave away")),
    "a present": ((), ("took", "walnut blank", "1", "--reason", "gift")),
    "broke one": ((), ("took", "Dunlin kit chrome", "1", "--reason", "broke")),
    "threw out the old glue": ((), ("took", "CA thin", "--reason", "threw out")),
    "lent two": ((), LENT[0]),
    "they are back": (LENT, ("found", "tube 7 x 53", "--back")),
    "found a kit in a drawer": ((), ("found", "Dunlin kit chrome", "1")),
    "a clip taken from a kit": ((), ("took", "clip", "1", "--from", "Dunlin kit chrome")),
    "a wrong name": ((), ("rename", "Dunlin kit chrome", "Dunlin set chrome")),
    "a wrong code": ((), ("rename", "SM-1021", "SM-1012")),
    "two names for one thing": (PROMISED, ("merge", "CA thin", "into", "CA thick")),
    "a plating gone": ((), ("retire", "black titanium")),
    "a supplier gone": ((), ("retire", "Far Reach Fittings")),
    "4, not 6, a week later, in olive": (
        PROMISED,
        ("change", "S42", "--count", "4", "--by", "2026-12-21", "--blank", "olivewood blank"),
    ),
    "any light wood will do": ((ANY_WOOD, ("release", "T7")), ("promise", "T7")),
    "it is made of the other wood": ((ANY_WOOD,), ("made", "--order", "T7", "--blank", "olivewood blank")),
    "now a third wood would do too": ((ANY_WOOD,), ("change", "T7", "--blank", "walnut, olivewood or ash")),
    "4, not 6, and it was planned for Saturday": (
        (*PROMISED, ("plan", "--on", "2026-11-28")),
        ("change", "S42", "--count", "4", "--again"),
    ),
    "half is ready, half is fetched": (PROMISED, ("handed-over", "S42", "--count", "3", "--made-now")),
    "the other half is fetched": (PARTLY, ("handed-over", "S42", "--made-now")),
    "sent back for a new refill": (FETCHED, ("came-back", "S42")),
    "sold at the market": (
        (("weekend", "book", "{saturday}"),),
        ("sold", "Avocet pen chrome", "1", "--price", "38", "--at", "harbour market"),
    ),
    "many at once": (PROMISED, ("days", "{days}")),
}
LINES = """what,part,how many,why,paid,plating,blank,due,new name
add,walnut blank,2,,,,,,
took,walnut blank,3,broke,,,,,
found,tube 7 x 53,4,,,,,,
made,Dunlin pen,1,,,chrome,walnut,,
paid,S42,,,30,,,,
change,S42,4,,,,,2026-12-21,
rename,Dunlin kit chrome,,,,,,,Dunlin set chrome
hours,"tue 2, sat 5",,,,,,,
"""


@pytest.mark.parametrize("day", DAYS)
def test_each_day_and_undo_after_it(
    kitdrawer: Kitdrawer, store: Path, once_booked: Path, tmp_path: Path, day: str
) -> None:
    """It is booked as one entry, the book proves sound, and undo leaves everything as it was, to the last coin."""
    before, words = DAYS[day]
    if day == "sold at the market":
        store.write_bytes(once_booked.read_bytes())
        before = ()
    sheet = tmp_path / "market.csv"
    sheet.write_text(LINES, encoding="utf-8")
    for come_before in before:
        assert kitdrawer(*come_before, "--yes").code in (0, 3), come_before
    picture, entries = _picture(store), _entries(store)
    looked = kitdrawer(*(word.format(days=sheet) for word in words), "--json")
    assert looked.code in (0, 3), looked.err
    assert (_picture(store), _entries(store)) == (picture, entries)
    answer = kitdrawer(*(word.format(days=sheet) for word in words), "--yes")
    assert answer.code in (0, 3), answer.err
    assert words[0] == "handed-over" or len(answer.out.splitlines()) <= 24
    assert _entries(store) == entries + 1
    assert _picture(store) != picture
    assert kitdrawer("verify").code == 0
    assert kitdrawer("undo", "--yes").code == 0
    assert _picture(store) == picture
    assert kitdrawer("verify").code == 0


def _entries(store: Path) -> int:
    with open_store(store) as found, found.reading() as read:
        return read.version


def _picture(store: Path) -> tuple[object, ...]:
    """Everything there is: what is there and what it cost, claims, what is due, orders, offers, what is lent.

    A part that came into being with an entry stays known when it is taken back, with nothing of it there, and the order
    of a sale is given up: both are left out.
    """
    with open_store(store) as found, found.reading() as read:
        book = read.book()
        names = sorted(part.name for key, part in read.written().parts.items() if book.balance(key).on_hand)
        orders = {key: one for key, one in book.orders.items() if one.state != "released"}
        there = {key: one for key, one in book.balances.items() if one != Balance()}
        lent = [(one.lot, one.quantity, one.cost) for one in read.lent()]
        told = there, book.lots, book.claims, book.due, orders, set(book.to_count), names
        return (*told, read.offers(), read.retired(), lent)
