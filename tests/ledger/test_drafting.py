"""A document while it is written: every step sees what the ones before it did."""

from __future__ import annotations

from datetime import date

from inventory.ledger import Balance, Book, Claim, DueIn, Line, Lot, NewLot
from inventory.ledger.documents.drafting import Draft

DAY = date(2026, 11, 28)


def book() -> Book:
    """Ten kits in two lots, three of them set aside, five due in, of which two are promised."""
    old = Lot(1, "kit", "old", date(2026, 1, 1), 4000, 400, 1000)
    new = Lot(2, "kit", "new", date(2026, 6, 1), 6000, 900)
    due = DueIn(7, "kit", "Saltmarsh", 5000, 700, DAY, 2000)
    claims = (Claim("Reed", "kit", "claim", 2000), Claim("Reed", "kit", "claim", 1000, 1))
    return Book(3, {"kit": Balance(10_000, 3000, 5000, 2000, 0)}, {"kit": (old, new)}, claims, (due,), {}, ())


def test_a_draw_moves_lot_and_balance() -> None:
    """Quantity and cost leave the lot; an emptied lot is gone from the picture."""
    draft = Draft(book())
    draft.add([Line("shelf", "Kit", -1000, -100, lot=1), Line("shelf", "Kit", -6000, -900, lot=2)])
    assert draft.book.balance("kit").on_hand == 3000
    assert [(lot.id, lot.quantity, lot.cost) for lot in draft.book.lots_of("kit")] == [(1, 3000, 300)]
    assert book().balance("kit").on_hand == 10_000


def test_new_lots_go_by_tags_of_the_document() -> None:
    """Two steps bring lots under the same tag: they stay apart, and are drawn by the number the picture gave them."""
    draft = Draft(book())
    for many in (2000, 3000):
        (done,) = draft.add(
            [Line("shelf", "pen", many, many // 10, lot="made")], [NewLot("made", "pen", "x", DAY)]
        )
        assert done.lot == f"lot {len(draft.lots)}"
    lots = draft.book.lots_of("pen")
    assert [(lot.id, lot.quantity) for lot in lots] == [(-1, 2000), (-2, 3000)]
    (drawn,) = draft.add([Line("shelf", "pen", -500, -50, lot=lots[1].id)])
    assert drawn.lot == "lot 2"
    assert [lot.quantity for lot in draft.book.lots_of("pen")] == [2000, 2500]
    assert [lot.tag for lot in draft.lots] == ["lot 1", "lot 2"]
    assert len(draft.lines) == 3


def test_claims_follow() -> None:
    """Set aside, let go and to buy move the balance, the claims and the lot they are of."""
    draft = Draft(book())
    draft.add([Line("claim", "kit", -1000, lot=1, order="Reed"), Line("to buy", "kit", 4000, order="Tern")])
    balance = draft.book.balance("kit")
    assert (balance.claimed, balance.to_buy) == (2000, 4000)
    assert {(c.order, c.account, c.quantity) for c in draft.book.claims} == {
        ("Reed", "claim", 2000),
        ("Tern", "to buy", 4000),
    }
    assert draft.book.lots_of("kit")[0].claimed == 0


def test_what_is_due_follows() -> None:
    """Arrived: no longer due; promised of it: claimed there; other purchases stay as they are."""
    draft = Draft(book())
    draft.add(
        [
            Line("due claim", "kit", -2000, purchase=7, order="Reed"),
            Line("due", "kit", -1000, -140, purchase=7),
        ]
    )
    (row,) = draft.book.due
    assert (row.quantity, row.cost, row.claimed) == (4000, 560, 0)
    draft.add([Line("due", "kit", -1000, -1, purchase=8)])
    assert draft.book.due == (row,)
    draft.add([Line("due", "kit", -4000, -560, purchase=7)])
    assert len(draft.book.due) == 0


def test_a_claim_on_a_lot_the_document_brings() -> None:
    """It is set aside by its tag, and the picture knows it by its number."""
    draft = Draft(book())
    draft.add([Line("shelf", "pen", 1000, 10, lot="m")], [NewLot("m", "pen")])
    draft.add([Line("claim", "pen", 1000, lot=-1, order="Reed")])
    assert draft.lines[-1].lot == "lot 1"
    assert draft.book.lots_of("pen")[0].claimed == 1000
    assert [c.lot for c in draft.book.claims if c.part == "pen"] == [-1]
