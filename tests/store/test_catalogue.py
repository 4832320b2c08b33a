"""What goes into the catalogue comes out of it, and a second load replaces only what it names."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from sqlalchemy import text

from inventory.catalogue import (
    BillLine,
    Catalogue,
    Family,
    Kit,
    Material,
    Offer,
    Part,
    Pattern,
    Plating,
    PriceStep,
    Supply,
    Tool,
)
from inventory.errors import Refused, UnknownName
from inventory.ledger import Intake
from inventory.measures import read_length
from inventory.store import Store, open_store

from . import shop


def put(store: Store, catalogue: Catalogue, **more: object) -> None:
    """Load a catalogue with an empty document."""
    store.commit(shop.document(kind="load", title="Sheets"), Intake(catalogue=catalogue, **more))  # type: ignore[arg-type]  # orders only


def test_catalogue_round_trip(store: Store) -> None:
    """Every field of every kind of thing is read as it was loaded; offers are kept apart."""
    with store.reading() as read:
        found = read.catalogue()
    assert found == replace(shop.catalogue(), offers={})


def test_lengths_keep_their_writing(store: Store) -> None:
    """A length is read with the designation it was loaded with, not merely its millimetres."""
    with store.reading() as read:
        found = read.catalogue()
    assert str(found.part(shop.TUBE).detail.length) == "2-3/32 in (53.18 mm)"  # type: ignore[union-attr]  # a tube
    assert str(found.family("Dunlin").barrels[0].finished_b) == "21/64 in (8.33 mm)"


@pytest.mark.parametrize(
    "parts", [None, [shop.KIT], ["dunlin  CHROME"]], ids=["all", "named", "other spelling"]
)
def test_offers(store: Store, parts: list[str] | None) -> None:
    """Offers come by part, each with its steps in order."""
    with store.reading() as read:
        assert read.offers(parts) == shop.catalogue().offers
        assert read.offers([shop.OAK]) == {}


def test_wishes_round_trip(store: Store) -> None:
    """Orders are read as they were loaded, as wishes."""
    with store.reading() as read:
        assert tuple(read.book().orders.values()) == shop.wishes()


def test_merge_replaces_only_what_is_named(store: Store) -> None:
    """A second load replaces a named part, even under another spelling, and leaves the rest."""
    put(store, Catalogue(parts={"x": Part("DUNLIN Chrome", Kit("dunlin", "GOLD"), note="new")}))
    with store.reading() as read:
        found = read.catalogue()
    assert found.part(shop.KIT) == Part("DUNLIN Chrome", Kit("Dunlin", "gold"), note="new")
    assert len(found.parts) == len(shop.parts())
    assert found.part(shop.GLUE) == shop.parts()[5]


def test_lists_are_replaced_as_a_whole(store: Store) -> None:
    """Barrels and tools of a family, a bill, losses, substitutes and steps do not pile up."""
    shorter = Catalogue(
        platings={"chrome": Plating("chrome")},
        materials={"oak": Material("Oak", read_length("4 mm"), {"turn": Fraction(1, 9)})},
        families={"dunlin": Family("Dunlin", "pencil")},
        patterns={"p": Pattern(shop.PATTERN, "Dunlin", bill=(BillLine("cut", "the blank", 2_000, "piece"),))},
        offers={
            "k": (Offer(shop.SUPPLIER, shop.KIT, 1_000, (PriceStep(1, 460),), "DU-C", "", date(2026, 3, 3)),)
        },
    )
    put(store, shorter)
    with store.reading() as read:
        found, offers = read.catalogue(), read.offers([shop.KIT])
    assert found.plating("chrome") == Plating("chrome")
    assert found.material("oak") == shorter.materials["oak"]
    assert found.family("dunlin") == shorter.families["dunlin"]
    assert found.pattern(shop.PATTERN) == shorter.patterns["p"]
    assert set(offers["dunlin chrome"]) == {
        *shorter.offers["k"],
        *shop.catalogue().offers["dunlin chrome"][1:],
    }


def test_part_moves_to_another_kind(store: Store) -> None:
    """A part that moved to another tab leaves nothing behind in the old one."""
    put(store, Catalogue(parts={"x": Part(shop.PILOT, Supply("sundry"))}))
    with store.reading() as read:
        assert read.catalogue().part(shop.PILOT) == Part(shop.PILOT, Supply("sundry"))
        assert read.connection.execute(text("SELECT count(*) FROM tool")).scalar() == 1


def test_unit_stays_once_booked(store: Store) -> None:
    """A part with lines keeps its unit: its quantities would mean something else. One without may change."""
    with pytest.raises(Refused, match=r"“Thin glue” is counted in ml in the book; the sheet says g"):
        put(store, Catalogue(parts={"x": Part(shop.GLUE, Supply("adhesive"), unit="g")}))
    put(store, Catalogue(parts={"x": Part(shop.REFILL, Supply("refill"), unit="box")}))
    with store.reading() as read:
        assert read.catalogue().part(shop.GLUE).unit == "ml"
        assert read.catalogue().part(shop.REFILL).unit == "box"


@pytest.mark.parametrize(
    ("catalogue", "what"),
    [
        (Catalogue(parts={"k": Part("K", Kit("Dunlyn", "chrome"))}), "There is no family called “Dunlyn”"),
        (Catalogue(parts={"k": Part("K", Kit("Dunlin", "crome"))}), "There is no plating called “crome”"),
        (Catalogue(platings={"p": Plating("brass", ("golds",))}), "There is no plating called “golds”"),
        (
            Catalogue(families={"f": Family("Godwit", "pen", "no refill")}),
            "There is no part called “no refill”",
        ),
        (
            Catalogue(patterns={"p": Pattern("P", "Dunlin", bill=(BillLine("cut", "Nothing", 1, "piece"),))}),
            "There is no part called “Nothing”",
        ),
        (
            Catalogue(offers={"k": (Offer("Nobody", shop.KIT, 1_000, ()),)}),
            "There is no supplier called “Nobody”",
        ),
    ],
    ids=["family", "plating", "substitute", "refill", "bill", "supplier"],
)
def test_unknown_names_load_nothing(store: Store, catalogue: Catalogue, what: str) -> None:
    """A name nobody gave to anything is refused with its nearest, and not even the document is left."""
    more = {**catalogue.parts, "new": Part("Brand new", Tool("saw", "1.2 mm"))}
    with pytest.raises(UnknownName, match=what):
        put(store, replace(catalogue, parts=more))
    with store.reading() as read:
        assert read.version == 1
        assert "brand new" not in read.catalogue().parts


def test_promised_order_stays_as_agreed(store: Store) -> None:
    """A load may repeat a promised order as it is, and is refused where it says something else."""
    store.commit(shop.promise(shop.FIRST))
    put(store, Catalogue(), orders=(replace(shop.wishes()[0], name="a-1", platings=("GOLD", "Chrome")),))
    with pytest.raises(Refused, match="“A-1” is promised and stays as it was agreed"):
        put(store, Catalogue(), orders=(replace(shop.wishes()[0], count=3),))
    with store.reading() as read:
        assert read.book().orders["a-1"] == replace(shop.wishes()[0], state="promised")


@pytest.mark.parametrize("state", ["wish", "released"])
def test_open_wish_may_change(store: Store, state: str) -> None:
    """A wish, or an order that was released, is replaced, its platings too."""
    store.commit(shop.document(order_states=((shop.FIRST, state),)))
    changed = replace(shop.wishes()[0], count=7, platings=("chrome",), refill=None, extra_diameter=None)
    put(store, Catalogue(), orders=(changed,))
    with store.reading() as read:
        assert read.book().orders["a-1"] == replace(changed, state=state)  # type: ignore[arg-type]  # from the table above


def test_settings_and_currency(where: str, empty: Store) -> None:
    """Settings are text by key: given at the beginning, changed beside a document, there again when reopened."""
    empty.commit(shop.document(), settings={"confidence": "95", "pot life": "5"})
    with open_store(where) as again, again.reading() as read:
        assert dict(read.settings()) == {"confidence": "95", "pot life": "5"}
        assert (read.currency, read.version) == ("EUR", 1)
