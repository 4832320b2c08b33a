"""Names, merges, retirements and agreed orders in the tables, on both engines: put down, found again, turned round."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from inventory.catalogue import Offer, Part, PriceStep, Supply, fold
from inventory.errors import StillNeeded
from inventory.ledger import Intake
from inventory.ledger.documents.changes import Change, Merged, Recoded, Renamed, Retired
from inventory.store import Store, verify

from . import shop

ON = date(2026, 11, 28)
OTHER = "second glue"
CHANGES: dict[str, Change] = {
    "renamed": Renamed("part", shop.KIT, "another kit"),
    "an order": Renamed("order", shop.FIRST, "another order"),
    "merged": Merged(OTHER, shop.GLUE),
    "retired": Retired("supplier", shop.SUPPLIER),
    "recoded": Recoded(shop.SUPPLIER, "OLD-1", "NEW-1"),
}


@pytest.fixture
def twofold(store: Store) -> Store:
    """The little shop with a second glue that has an offer, and one code."""
    with store.reading() as read:
        glue = read.written().part(shop.GLUE)
    offer = Offer(shop.SUPPLIER, OTHER, 20_000, (PriceStep(1, 500), PriceStep(3, 450)), "OLD-1")
    other = Part(OTHER, glue.detail if isinstance(glue.detail, Supply) else Supply("glue"), glue.unit)
    known = replace(
        shop.catalogue(), parts={**shop.catalogue().parts, fold(OTHER): other}, offers={fold(OTHER): (offer,)}
    )
    store.commit(shop.document(), Intake(known))
    return store


def picture(store: Store) -> tuple[object, ...]:
    """What things are."""
    with store.reading() as read:
        known = read.written()
        told = dict(known.parts), dict(known.suppliers), known.patterns, known.retired, known.codes
        return (*told, read.offers(), dict(read.orders()))


@pytest.mark.parametrize("what", CHANGES)
def test_a_change_is_turned_round_and_back(twofold: Store, what: str) -> None:
    """It makes a difference; undone there is none left; its undo undone there is the same again; the book is sound."""
    before = picture(twofold)
    number = twofold.commit(shop.document(changes=(CHANGES[what],)))
    after = picture(twofold)
    assert after != before
    for now in (before, after, before):
        twofold.commit(twofold.undo(number, on=ON))
        assert picture(twofold) == now
        assert verify(twofold) == ()
        with twofold.reading() as read:
            number = read.documents(last=1)[0].id


def test_an_agreed_order_is_turned_round(twofold: Store) -> None:
    """Its count, day and platings; a later word on the same row stands on it."""
    before = picture(twofold)
    with twofold.reading() as read:
        order = next(iter(read.orders().values()))
    first = twofold.commit(
        shop.document(agreed=(replace(order, count=9, due=date(2027, 3, 1), platings=()),))
    )
    second = twofold.commit(shop.document(agreed=(replace(order, count=8),)))
    with pytest.raises(StillNeeded, match=f"entry {second}"):
        twofold.undo(first, on=ON)
    for number in (second, first):
        twofold.commit(twofold.undo(number, on=ON))
    assert picture(twofold) == before


def test_another_change_of_the_same_kind_stands_in_nobodys_way(twofold: Store) -> None:
    """Of two parts renamed one after the other the first goes back to its name, and the second keeps the new one."""
    first, _ = (
        twofold.commit(shop.document(changes=(Renamed("part", old, new),)))
        for old, new in ((shop.KIT, "another kit"), (shop.GLUE, "another glue"))
    )
    twofold.commit(twofold.undo(first, on=ON))
    with twofold.reading() as read:
        known = read.written().parts
    assert [name in known for name in (fold(shop.KIT), "another kit", "another glue")] == [True, False, True]
