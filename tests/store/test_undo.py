"""Taking documents back: everything returns to what it was, and what later documents need stays."""

from __future__ import annotations

from dataclasses import replace

import pytest

from inventory.errors import AlreadyBooked, Refused, StillNeeded, UnknownName
from inventory.ledger import Balance, Book, Line, NewLot, NewPurchase, Proposal
from inventory.ledger.documents.proposal import Payment
from inventory.store import Store, verify

from . import shop
from .shop import FIRST, GLUE, KIT, OAK, SECOND, bought, claimed, document, promise, receipt, taken


def book(store: Store) -> Book:
    """The whole book, without the version that only grows."""
    with store.reading() as read:
        return replace(read.book(), version=0)


def undo(store: Store, number: int | None = None) -> int:
    """Propose and book an undo."""
    return store.commit(store.undo(number, on=shop.DAY))


EVERYTHING = {
    "receipt": receipt(KIT, 2_000, 901),
    "use": taken(GLUE, 33_333, 233, 3),
    "use it up": taken(KIT, 10_000, 4_500, 1),
    "promise": promise(FIRST, claimed(FIRST, 2_000), claimed(FIRST, 500, "to buy", OAK)),
    "purchase": bought(OAK, 4_000, 799),
    "doubt": document(to_count=(KIT, OAK), counted=(GLUE,)),
    "revaluing": document(Line("shelf", KIT, 0, 77, lot=1)),
}


@pytest.mark.parametrize("proposal", EVERYTHING.values(), ids=EVERYTHING.keys())
def test_there_and_back(store: Store, proposal: Proposal) -> None:
    """Undo puts everything back, undoing the undo brings it again, and so on; the book stays sound."""
    before = book(store)
    store.commit(proposal)
    after = book(store)
    assert after != before
    for wanted in (before, after, before, after):
        with store.reading() as read:
            (last,) = read.documents(last=1)
        undo(store, last.id)
        assert book(store) == wanted
        assert verify(store) == ()


def test_what_waits_anew_for_less(store: Store) -> None:
    """A document may let go of what an order waits for and have it wait for less: only both together count."""
    store.commit(promise(FIRST, claimed(FIRST, 2_000, "to buy", OAK)))
    less = (claimed(FIRST, -2_000, "to buy", OAK), claimed(FIRST, 1_000, "to buy", OAK))
    told = store.commit(document(*less))
    store.commit(document(claimed(FIRST, -1_000, "to buy", OAK), claimed(FIRST, 1_000, part=OAK, lot=2)))
    undo(store, told)
    kept = {(one.account, one.quantity) for one in book(store).claims}
    assert kept == {("to buy", 1_000), ("claim", 1_000)}
    assert verify(store) == ()


def test_undo_is_shown_first(store: Store) -> None:
    """The proposal says what it takes back, line by line, and changes nothing until it is booked."""
    store.commit(receipt(KIT, 2_000, 901))
    before = book(store)
    proposal = store.undo(on=shop.DAY)
    assert proposal.title == "Undo of 2: Some lines"
    assert proposal.lines == (Line("shelf", KIT, -2_000, -901, lot=4, reason="undone"),)
    assert (proposal.reverses, proposal.expected_version) == (2, 2)
    assert book(store) == before


def test_last_one_steps_back(store: Store) -> None:
    """Without a number, undo goes back one standing document at a time and skips what is undone already."""
    store.commit(receipt(KIT, 1_000, 450))
    store.commit(receipt(KIT, 2_000, 900))
    reversed_ = []
    for _ in range(3):
        reversed_.append(store.undo(on=shop.DAY).reverses)
        undo(store)
    assert reversed_ == [3, 2, 1]
    with pytest.raises(Refused, match="There is nothing to undo"):
        store.undo(on=shop.DAY)
    assert book(store).balances == {}


def test_brought_back_counts_as_standing(store: Store) -> None:
    """A document brought back is again the last one that stands, goes by its own number, and is taken back again."""
    store.commit(receipt(KIT, 1_000, 450))
    first, again = undo(store), undo(store, 3)
    assert (first, again) == (3, 4)
    assert store.undo(on=shop.DAY) == store.undo(2, on=shop.DAY)
    assert store.undo(2, on=shop.DAY).reverses == 4
    assert store.undo(2, on=shop.DAY).title == "Undo of 2: Some lines"
    with pytest.raises(StillNeeded, match="Entry 3 is already undone: entry 2 stands again, by entry 4"):
        store.undo(3, on=shop.DAY)
    assert undo(store, 2) == 5
    with pytest.raises(StillNeeded, match="Entry 2 is already undone, by entry 5") as caught:
        store.undo(2, on=shop.DAY)
    assert caught.value.hint == "Bring it back: kitdrawer undo 5."
    assert store.undo(5, on=shop.DAY).title == "Bring back 2: Some lines"


def test_a_plain_undo_never_goes_round(store: Store) -> None:
    """Repeated it steps back through what was booked, whatever was undone and brought back before."""
    for _ in range(4):
        store.commit(receipt(KIT, 1_000, 450))
    undo(store, undo(store, 3))
    undo(store, undo(store, undo(store, 2)))
    titles = []
    for _ in range(4):
        titles.append(store.undo(on=shop.DAY).title[:9])
        undo(store)
    assert titles == ["Undo of 5", "Undo of 4", "Undo of 3", "Undo of 1"]
    with pytest.raises(Refused, match="There is nothing to undo"):
        store.undo(on=shop.DAY)


def test_what_stands_on_it_is_what_makes_a_difference(store: Store) -> None:
    """A receipt taken back, brought back and taken back again lacks: its last undo is named; so is what came back."""
    first, second = (store.commit(receipt(KIT, 5_000, 2_000)) for _ in range(2))
    undo(store, undo(store, first))
    gone = undo(store, first)
    back = undo(store, undo(store, store.commit(receipt(KIT, 1_000, 400))))
    claim = store.commit(promise(FIRST, claimed(FIRST, 12_000)))
    with pytest.raises(StillNeeded) as caught:
        undo(store, second)
    named = [number for number in range(1, claim + 1) if f"entry {number}, " in caught.value.message]
    assert named == [gone, back, claim]


def test_twice(store: Store) -> None:
    """A document already undone is not undone again; its undo is named."""
    store.commit(receipt(KIT, 1_000, 450))
    late = store.undo(2, on=shop.DAY)
    undo(store, 2)
    with pytest.raises(StillNeeded, match="Entry 2 is already undone, by entry 3"):
        store.undo(2, on=shop.DAY)
    with pytest.raises(StillNeeded, match="Entry 2 is already undone, by entry 3"):
        store.commit(replace(late, expected_version=None))


def test_unknown_document(store: Store) -> None:
    """A number no document has is refused."""
    with pytest.raises(UnknownName, match="There is no entry called “9”"):
        store.undo(9, on=shop.DAY)


def test_catalogue_stays(store: Store) -> None:
    """Undoing a load takes its counts back; parts and wishes stay, and the same sheets may be booked again."""
    undo(store)
    with store.reading() as read:
        assert len(read.catalogue().parts) == len(shop.parts())
    assert book(store) == Book(orders=book(store).orders)
    assert len(book(store).orders) == 3
    shop.filled(store)
    assert book(store).balance(KIT) == Balance(10_000)
    with pytest.raises(AlreadyBooked, match="entry 3"):
        undo(store, 2)


def test_fingerprint_returns(store: Store) -> None:
    """A load brought back is known again and not booked twice."""
    undo(store, undo(store))
    with pytest.raises(AlreadyBooked, match="entry 1"):
        shop.filled(store)
    assert verify(store) == ()


def _hand_over() -> Proposal:
    return document(
        claimed(FIRST, -2_000), order_states=((FIRST, "handed over"),), kind="hand-over", title="Gone"
    )


NEEDED = {
    "used from its lot": ((receipt(KIT, 2_000, 900), taken(KIT, 1_000, 450, 4)), "“Dunlin chrome”"),
    "claimed from its lot": (
        (receipt(KIT, 2_000, 900), promise(FIRST, claimed(FIRST, 1_000, lot=4))),
        "“Dunlin chrome”",
    ),
    "claimed from the shelf": (
        (receipt(OAK, 2_000, 900), promise(FIRST, claimed(FIRST, 6_000, part=OAK))),
        "“Oak",
    ),
    "arrived": (
        (
            bought(OAK, 2_000, 400),
            document(
                Line("due", OAK, -2_000, -400, purchase=1),
                Line("shelf", OAK, 2_000, 400, lot="n"),
                lots=(NewLot("n", OAK),),
            ),
        ),
        "“Oak square”",
    ),
    "set aside of what is due in": (
        (bought(OAK, 2_000, 400), promise(FIRST, claimed(FIRST, 1_000, "due claim", OAK, purchase=1))),
        "“Oak square”",
    ),
    "claimed of anything due in": (
        (bought(OAK, 2_000, 400), promise(FIRST, claimed(FIRST, 1_000, "due claim", OAK))),
        "“Oak square”",
    ),
    "handed over": ((promise(FIRST, claimed(FIRST, 2_000)), _hand_over()), "“Dunlin chrome”"),
    "promised and handed over without parts": (
        (promise(FIRST), document(order_states=((FIRST, "handed over"),))),
        "its orders",
    ),
    "goods gone, cost left": (
        (document(Line("shelf", KIT, 5_000, 1, lot=1)), taken(KIT, 10_000, 3_000, 1)),
        "“Dunlin chrome”",
    ),
}


@pytest.mark.parametrize(("booked", "what"), NEEDED.values(), ids=NEEDED.keys())
def test_still_needed(store: Store, booked: tuple[Proposal, Proposal], what: str) -> None:
    """What later documents stand on is not taken away: they are named. In the right order both can be undone."""
    start = book(store)
    for proposal in booked:
        store.commit(proposal)
    before = book(store)
    with pytest.raises(StillNeeded, match=f"Entry 2 cannot be undone: .* with {what}.* entry 3, ") as caught:
        undo(store, 2)
    assert "entry 1 " not in caught.value.message
    assert book(store) == before
    undo(store, 3)
    undo(store, 2)
    assert book(store) == start
    assert verify(store) == ()


def test_only_the_ones_that_matter_are_named(store: Store) -> None:
    """Later documents about other lots, or undone ones, are not blamed."""
    store.commit(receipt(KIT, 2_000, 900))
    store.commit(taken(GLUE, 1_000, 7, 3))
    undo(store, store.commit(taken(KIT, 500, 225, 4)))
    store.commit(taken(KIT, 1_000, 450, 4))
    with pytest.raises(StillNeeded) as caught:
        undo(store, 2)
    assert "entry 6, “" in caught.value.message
    assert all(f"entry {number}, " not in caught.value.message for number in (3, 4, 5))


def test_undo_in_the_middle(store: Store) -> None:
    """Where nothing stands on it, a document is undone although later ones follow."""
    store.commit(taken(KIT, 2_000, 900, 1))
    store.commit(taken(KIT, 3_000, 1_350, 1))
    undo(store, 2)
    assert book(store).lots_of(KIT)[0].quantity == 7_000
    assert book(store).lots_of(KIT)[0].cost == 3_150
    assert verify(store) == ()


def test_states_go_back_to_the_last_word(store: Store) -> None:
    """An order goes back to what the documents still standing say of it."""
    store.commit(promise(FIRST))
    store.commit(promise(SECOND))
    store.commit(document(order_states=((FIRST, "released"),)))
    store.commit(promise(FIRST))
    undo(store, 5)
    assert book(store).orders["a-1"].state == "released"
    undo(store, 4)
    assert book(store).orders["a-1"].state == "promised"
    undo(store, 2)
    assert book(store).orders["a-1"].state == "wish"
    assert book(store).orders["a-2"].state == "promised"
    undo(store, 8)
    assert book(store).orders["a-1"].state == "promised"


def test_doubts_go_back(store: Store) -> None:
    """A part counted is doubtful again once the count is undone, and not doubtful once the doubt is too."""
    store.commit(document(to_count=(KIT,)))
    store.commit(document(counted=(KIT,)))
    undo(store, 3)
    assert book(store).to_count == (KIT,)
    undo(store, 2)
    assert book(store).to_count == ()


def test_undo_of_many_lots(store: Store) -> None:
    """A delivery of thousands of lots is taken back like any other."""
    lots = tuple(NewLot(f"t{n}", KIT) for n in range(6_000))
    lines = tuple(Line("shelf", KIT, 1_000, 450, lot=lot.tag) for lot in lots)
    before = book(store)
    purchase = NewPurchase("unused", shop.SUPPLIER, KIT)
    store.commit(document(*lines, lots=lots, purchases=(purchase,)))
    undo(store)
    assert book(store) == before


def test_money_given_back_stands_on_what_was_paid(store: Store) -> None:
    """Of 30 paid in two parts 20 went back: the 10 can be undone, for as much is still paid; the 20 not."""
    store.commit(promise(FIRST))
    for amount in (2_000, 1_000, -2_000):
        store.commit(document(kind="paid", payments=(Payment(FIRST, amount),)))
    with store.reading() as read:
        assert [one.id for one in read.stands_on(3)] == [4, 5]
        assert read.stands_on(4) == ()
    undo(store, 4)
    assert verify(store) == ()
