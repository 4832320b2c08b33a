"""Documents that cannot be: refused with a sentence, and nothing of them is there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from inventory.errors import AlreadyBooked, BadInput, BookMoved, NotEnough, UnknownName
from inventory.ledger import Balance, Line, NewLot, NewPurchase, Proposal
from inventory.store import Store, verify

from . import shop

REFUSALS: dict[str, tuple[Callable[[], Proposal], str]] = {
    "from a lot": (
        lambda: shop.taken(shop.KIT, 11_000, 4_500, 1),
        "Of “Dunlin chrome” there is 10 free, and 11 are wanted",
    ),
    "from one of two lots": (
        lambda: shop.document(
            Line("shelf", shop.KIT, -11_000, -4_500, lot=1),
            Line("shelf", shop.KIT, 5_000, 2_000, lot="n"),
            lots=(NewLot("n", shop.KIT),),
        ),
        "Of “Dunlin chrome” there is 10 in lot 1, and 11 wanted",
    ),
    "claim": (
        lambda: shop.promise(shop.FIRST, shop.claimed(shop.FIRST, 12_500)),
        "there is 10 free, and 12.5 are wanted",
    ),
    "claim of a lot": (
        lambda: shop.document(
            shop.claimed(shop.FIRST, 6_000, lot="n"),
            Line("shelf", shop.KIT, 5_000, 9, lot="n"),
            lots=(NewLot("n", shop.KIT),),
        ),
        "there is 0 free in lot 4, and 1 wanted",
    ),
    "glue": (
        lambda: shop.taken(shop.GLUE, 100_001, 700, 3),
        "Of “Thin glue” there is 100 ml free, and 100.001 ml are wanted",
    ),
    "unclaim": (
        lambda: shop.document(shop.claimed(shop.FIRST, -1_000)),
        "there is 0 set aside, and 1 to be taken off",
    ),
    "to buy": (
        lambda: shop.document(shop.claimed(shop.FIRST, -1_000, "to buy")),
        "there is 0 to buy, and 1 to be taken off",
    ),
    "due claim": (
        lambda: shop.document(shop.claimed(shop.FIRST, 1_000, "due claim")),
        "there is 0 due in and nobody's, and 1 wanted",
    ),
    "due claim of nobody": (
        lambda: shop.document(shop.claimed(shop.FIRST, -1_000, "due claim")),
        "there is 0 set aside of what is due in, and 1 to be taken off",
    ),
    "other order's claim": (
        lambda: shop.document(shop.claimed(shop.FIRST, 2_000), shop.claimed(shop.SECOND, -1_000)),
        r"there is 0 for the order “A-2” \(claim\), and 1 to be taken off",
    ),
    "unclaim a lot": (
        lambda: shop.document(shop.claimed(shop.FIRST, 2_000), shop.claimed(shop.FIRST, -1_000, lot=1)),
        "there is 0 set aside in lot 1, and 1 to be taken off",
    ),
    "due": (
        lambda: shop.document(
            Line("due", shop.KIT, -1_000, 0, purchase="p"),
            purchases=(NewPurchase("p", shop.SUPPLIER, shop.KIT),),
        ),
        "there is 0 due in and nobody's, and 1 wanted",
    ),
}


@pytest.mark.parametrize(("proposal", "sentence"), REFUSALS.values(), ids=REFUSALS.keys())
def test_not_enough(store: Store, proposal: Callable[[], Proposal], sentence: str) -> None:
    """More than there is is refused by name and amount, and nothing at all is booked."""
    before = shop.book(store)
    with pytest.raises(NotEnough, match=sentence):
        store.commit(proposal())
    assert shop.book(store) == before
    assert verify(store) == ()


def test_what_is_due_in_and_claimed_already_is_not_promised_twice(store: Store) -> None:
    """Of 3 due in 2 are an order's: one is nobody's, and 2 are refused with these figures."""
    store.commit(shop.bought(shop.KIT, 3_000, 900))
    due = next(iter(shop.book(store).due)).purchase
    store.commit(shop.promise(shop.FIRST, shop.claimed(shop.FIRST, 2_000, "due claim", purchase=due)))
    with pytest.raises(NotEnough, match="there is 1 due in and nobody's, and 2 wanted"):
        store.commit(shop.promise(shop.SECOND, shop.claimed(shop.SECOND, 2_000, "due claim", purchase=due)))


def test_no_more_is_let_go_of_a_lot_than_was_set_aside_in_it(store: Store) -> None:
    """Of a lot of which 2 are set aside 3 cannot be let go, though others are for the same order; it is said so."""
    store.commit(
        shop.promise(shop.FIRST, shop.claimed(shop.FIRST, 2_000, lot=1), shop.claimed(shop.FIRST, 2_000))
    )
    with pytest.raises(NotEnough, match="there is 2 set aside in lot 1, and 3 to be taken off"):
        store.commit(shop.document(shop.claimed(shop.FIRST, -3_000, lot=1)))


@pytest.mark.parametrize(
    ("quantity", "cost"),
    [(3_000, 4_501), (10_000, 4_499)],
    ids=["more than it cost", "cost left without goods"],
)
def test_stale_cost(store: Store, quantity: int, cost: int) -> None:
    """A cost worked out from another state of the lot is refused: in = out + left would not hold."""
    with pytest.raises(BookMoved, match="What “Dunlin chrome” cost in lot 1 is not what it was"):
        store.commit(shop.taken(shop.KIT, quantity, cost, 1))


@pytest.mark.parametrize(
    ("expected_version", "sentence"),
    [(0, "1 entry was booked since"), (-1, "2 entries were booked since"), (5, "from another book")],
)
def test_book_moved(store: Store, expected_version: int, sentence: str) -> None:
    """A proposal made from another version of the book is not booked."""
    with pytest.raises(BookMoved, match=sentence):
        store.commit(replace(shop.receipt(shop.KIT, 1_000, 450), expected_version=expected_version))
    store.commit(replace(shop.receipt(shop.KIT, 1_000, 450), expected_version=1))


def test_already_booked(store: Store) -> None:
    """The same fingerprint a second time is refused, naming the earlier document; no fingerprint never is."""
    with pytest.raises(AlreadyBooked, match="entry 1, “Opening count”, Sun 1 Mar 2026") as caught:
        shop.filled(store)
    assert "kitdrawer entries" in caught.value.hint
    assert "--again" not in caught.value.hint
    again = replace(shop.opening(), counted=(shop.GLUE,))
    with pytest.raises(AlreadyBooked) as caught:
        store.commit(again, shop.intake())
    assert "load it with --again, where you counted again" in caught.value.hint
    assert store.commit(shop.receipt(shop.KIT, 1_000, 450)) == 2
    assert store.commit(shop.receipt(shop.KIT, 1_000, 450)) == 3


@pytest.mark.parametrize(
    ("change", "what"),
    [
        ({"lines": (Line("shelf", "Dunlin crome", 1, lot=1),)}, "part called “Dunlin crome”"),
        ({"lines": (shop.claimed("A-9", 1),)}, "order called “A-9”"),
        ({"order_states": (("A-9", "promised"),)}, "order called “A-9”"),
        ({"to_count": ("Nothing",)}, "part called “Nothing”"),
        ({"lots": (NewLot("n", "Nothing"),)}, "part called “Nothing”"),
        ({"purchases": (NewPurchase("n", "Nobody", shop.KIT),)}, "supplier called “Nobody”"),
        ({"reverses": 77}, "entry called “77”"),
    ],
    ids=["part", "order", "state", "doubt", "lot", "supplier", "document"],
)
def test_unknown_names(store: Store, change: dict[str, object], what: str) -> None:
    """A document naming what is not there is refused whole."""
    with pytest.raises(UnknownName, match=what):
        store.commit(replace(shop.document(), **change))  # type: ignore[arg-type]  # from the table above
    assert shop.book(store).version == 1


@pytest.mark.parametrize(
    "lines",
    [
        (Line("shelf", shop.KIT, 1),),
        (Line("due", shop.KIT, 1),),
        (Line("claim", shop.KIT, 1),),
        (Line("shelf", shop.KIT, 1, lot=2),),
        (Line("shelf", shop.KIT, 1, lot=99),),
        (Line("shelf", shop.KIT, 1, lot="n"), Line("claim", shop.OAK, 1, lot="n", order=shop.FIRST)),
        (
            Line("due", shop.KIT, 1, purchase="p"),
            Line("due claim", shop.OAK, 1, purchase="p", order=shop.FIRST),
        ),
    ],
    ids=[
        "no lot",
        "no purchase",
        "no order",
        "other part's lot",
        "no such lot",
        "two parts",
        "two parts due",
    ],
)
def test_senseless_lines_are_bugs(store: Store, lines: tuple[Line, ...]) -> None:
    """Lines that contradict themselves are the proposer's bug, shown as one, and book nothing."""
    wanted = shop.document(
        *lines, lots=(NewLot("n", shop.KIT),), purchases=(NewPurchase("p", shop.SUPPLIER, shop.KIT),)
    )
    with pytest.raises(ValueError, match=r"names no|another part|not in the book"):
        store.commit(wanted)
    assert shop.book(store).version == 1


def test_tags_are_told_apart(store: Store) -> None:
    """Two lots of one document cannot share a tag."""
    with pytest.raises(ValueError, match="the same tag"):
        store.commit(shop.document(lots=(NewLot("n", shop.KIT), NewLot("n", shop.OAK))))


@pytest.mark.parametrize("quantity", [2**62 - 10_000, 2**62, 2**70], ids=["just", "62 bits", "70 bits"])
def test_too_large(store: Store, quantity: int) -> None:
    """A quantity no column can hold is refused in a sentence, never rounded."""
    with pytest.raises(BadInput, match=r"more than a book can hold|too large for the book"):
        store.commit(shop.document(Line("shelf", shop.KIT, quantity, lot=1)))
    assert shop.book(store).balance(shop.KIT) == Balance(10_000)
    store.commit(shop.document(Line("shelf", shop.KIT, 2**62 - 10_001, lot=1)))
    assert shop.book(store).balance(shop.KIT) == Balance(2**62 - 1)
