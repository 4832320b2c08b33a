"""Wishes checked against the catalogue before anything is computed."""

from __future__ import annotations

from datetime import timedelta

import pytest

from inventory.catalogue import Kit, Part, Tool
from inventory.errors import BadInput
from inventory.jobs.orders.requests import kits_in, request_of, resolve
from inventory.measures import read_length
from jobs import goods
from jobs.shop import DUE, TODAY, order, request


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"count": 0}, "0 pieces"),
        ({"count": 10_001}, "10001 pieces"),
        ({"due": TODAY - timedelta(days=1)}, "is past"),
        ({"confidence": 0.0}, "A confidence of 0 %"),
        ({"confidence": 1.0}, "A confidence of 100 %"),
        ({"confidence": float("nan")}, "A confidence of nan %"),
        ({"platings": ()}, "Which plating"),
        ({"platings": ("gold",)}, "no plating called"),
        ({"refill": goods.GLUE}, "is not a refill"),
        ({"blank": goods.GLUE}, "no blank called"),
        ({"blank": "oliv squar"}, "no blank called"),
        ({"pattern": "Heron"}, "no pattern called"),
    ],
    ids=lambda value: next(iter(value)) if isinstance(value, dict) else "",
)
def test_a_wish_that_cannot_be_meant(changes: dict[str, object], said: str) -> None:
    """Every slip is refused in a sentence with a remedy."""
    with pytest.raises(BadInput, match=said) as caught:
        resolve(goods.catalogue(), request(**{"count": 4, **changes}), TODAY)  # type: ignore[arg-type]  # fields by name
    assert caught.value.hint


def test_a_family_that_does_not_come_in_a_plating() -> None:
    """The platings it does come in are named; a family without kits asks for them."""
    with pytest.raises(BadInput, match="no Avocet kit in chrome") as caught:
        resolve(goods.catalogue(), request(pattern="Avocet gloss"), TODAY)
    assert caught.value.hint == "It comes in gunmetal."
    known = goods.catalogue().with_parts(Part("Avocet kit gunmetal", Tool("file")))
    with pytest.raises(BadInput) as other:
        kits_in(known, known.family("Avocet"), "chrome")
    assert "kits tab" in other.value.hint
    with pytest.raises(BadInput, match="none yet"):
        resolve(known, request(pattern="Avocet gloss", platings=()), TODAY)


def test_without_any_refill_none_can_be_chosen() -> None:
    """A shop without refills says so."""
    none = goods.catalogue().with_parts(*(Part(name, Tool("file")) for name in ("refill G2", goods.SLIM)))
    with pytest.raises(BadInput) as caught:
        resolve(none, request(refill=goods.STRIP), TODAY)
    assert "none yet" in caught.value.hint


def test_a_wish_resolved() -> None:
    """Names in any spelling; every kit of each accepted plating in the order given; today is still in time."""
    known = goods.catalogue().with_parts(Part("older", Kit("turnstone", "Chrome")))
    resolved = resolve(
        known,
        request(platings=("Rhodium", "CHROME"), blank=goods.ANTLER.upper(), due=TODAY, refill="REFILL slim"),
        TODAY,
    )
    assert [(name, [kit.name for kit in kits]) for name, kits in resolved.kits] == [
        ("rhodium", ["Turnstone kit rhodium"]),
        ("chrome", [goods.CHROME_KIT, "older"]),
    ]
    assert (resolved.blank.name, resolved.material.name, resolved.family.name) == (
        goods.ANTLER,
        "antler",
        "Turnstone",
    )


def test_an_order_is_a_wish() -> None:
    """All an order says is in its request, with the usual confidence or another."""
    extra = read_length("1 mm")
    one = order("Reed", 3, refill=goods.SLIM, extra_diameter=extra, price=5000)
    got = request_of(one, 0.95)
    assert (got.pattern, got.platings, got.blank, got.count, got.due) == (
        "Turnstone gloss",
        ("chrome",),
        goods.OLIVE,
        3,
        DUE,
    )
    assert (got.refill, got.extra_diameter, got.confidence, got.price, got.order) == (
        goods.SLIM,
        extra,
        0.95,
        5000,
        "Reed",
    )
    assert request_of(one).confidence == 0.9


@pytest.mark.parametrize(
    "changes",
    [{"confidence": 0.001}, {"confidence": 0.999}, {"count": 1}, {"count": 10_000}, {"due": TODAY}],
    ids=lambda changes: "{}={}".format(*next(iter(changes.items()))),
)
def test_the_ends_of_what_may_be_asked_for(changes: dict[str, object]) -> None:
    """The first and the last figure that is no slip, beside those that are refused above."""
    asked = request(**{"count": 4, **changes})  # type: ignore[arg-type]  # fields by name
    assert resolve(goods.catalogue(), asked, TODAY).request == asked
