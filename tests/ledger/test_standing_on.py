"""Which later entries stand on one that is to be taken back."""

from __future__ import annotations

from datetime import date

from inventory.ledger.book import Claim
from inventory.ledger.documents.booked import Booked, Document
from inventory.ledger.documents.lines import Line
from inventory.ledger.documents.undoing import Layer, Surroundings, standing_on

DAY = date(2026, 5, 1)


def document(number: int) -> Document:
    return Document(number, "promised", f"Entry {number}", DAY, f"{DAY}T12:00:00+00:00")


def test_only_what_was_done_with_the_same_part_for_the_same_order_stands_on_a_claim() -> None:
    """Two kits set aside for Anna and used since: what used hers is named, not what went to Bert or was of tubes."""
    booked = Booked(document(1), (Line("claim", "kit", 2000, lot=7, order="Anna"),))
    later = [
        (document(2), Line("claim", "Kit", -2000, lot=7, order="Anna")),
        (document(3), Line("claim", "kit", 1000, lot=8, order="Bert")),
        (document(4), Line("claim", "tube", 1000, lot=9, order="Anna")),
    ]
    around = Surroundings(
        lots={7: Layer("kit", 5000, 100, 2000)},
        balances={},
        claims=(Claim("Bert", "kit", "claim", 1000, 8),),
        later=lambda _: later,
    )
    assert [one.id for one in standing_on(booked, around)] == [2]
